#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <pugixml.hpp>
#include <string_view>

#include "spectrum/table_limits.h"
#include "spectrum/tm27.h"
#include "units/ascii.h"
#include "units/problem.h"
#include "units/read_file.h"

namespace boughlight {

namespace {

constexpr std::size_t kMostTm27Problems = 20;

// Element names may carry a prefix of their namespace.
std::string_view local_name(const pugi::xml_node& node) {
  const std::string_view name = node.name();
  const std::size_t colon = name.find(':');
  return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

pugi::xml_node child_named(const pugi::xml_node& parent, std::string_view name) {
  for (const pugi::xml_node& child : parent.children())
    if (local_name(child) == name) return child;
  return {};
}

std::optional<double> number_within(std::string_view text) {
  const std::string plain(trimmed(text));
  double value = 0;
  const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
  if (error != std::errc() || end != plain.data() + plain.size() || !std::isfinite(value))
    return std::nullopt;
  return value;
}

class Tm27Reader {
 public:
  Tm27Reader(const std::string& path, SpectrumUse use) : path_(path), use_(use) {}

  Table read(Beyond beyond) {
    constexpr std::size_t kMostBytes = 16u << 20;
    text_ = read_bytes(path_, kMostBytes);
    pugi::xml_document document;
    const pugi::xml_parse_result parsed = document.load_string(text_.c_str());
    if (!parsed) fail_now(line_at(parsed.offset), std::string("is no valid XML: ") + parsed.description());
    const pugi::xml_node root = document.document_element();
    if (!local_name(root).starts_with("IESTM27"))
      fail_now(line_of(root),
               "is no IES TM-27 file: its outermost element is '" + std::string(root.name()) + "'");
    const pugi::xml_node data = child_named(root, "SpectralDistribution");
    if (!data) fail_now(line_of(root), "holds no element 'SpectralDistribution'");
    check_quantity(data);
    for (const pugi::xml_node& entry : data.children())
      if (local_name(entry) == "SpectralData" && problems_.size() < kMostTm27Problems) add(entry);
    if (x_.size() < 2 && problems_.empty())
      fail(line_of(data), "holds fewer than two entries 'SpectralData'");
    if (!problems_.empty()) throw InputError(problems_);
    return Table(std::move(x_), std::move(y_), Between::linear, beyond);
  }

 private:
  void fail(int line, std::string text) {
    problems_.push_back({{path_, line, line > 0 ? 1 : 0}, "", std::move(text)});
  }
  [[noreturn]] void fail_now(int line, std::string text) {
    fail(line, std::move(text));
    throw InputError(problems_);
  }

  int line_at(std::ptrdiff_t offset) const {
    const auto end = text_.begin() + std::min(offset, static_cast<std::ptrdiff_t>(text_.size()));
    return 1 + static_cast<int>(std::count(text_.begin(), end, '\n'));
  }
  int line_of(const pugi::xml_node& node) const {
    return line_at(std::max<std::ptrdiff_t>(node.offset_debug(), 0));
  }

  void check_quantity(const pugi::xml_node& data) {
    const std::vector<std::string> emissions = {"flux",     "intensity", "irradiance",
                                                "radiance", "exitance",  "relative"};
    const std::vector<std::string> ratios = {"reflectance", "transmittance", "R-Factor", "T-Factor"};
    const auto& allowed = use_ == SpectrumUse::emission ? emissions : ratios;
    const pugi::xml_node node = child_named(data, "SpectralQuantity");
    const std::string quantity(trimmed(node.child_value()));
    if (std::find(allowed.begin(), allowed.end(), quantity) == allowed.end())
      fail(line_of(node ? node : data),
           "its quantity is '" + quantity + "'; " + one_of(allowed) + " is allowed here");
  }

  void add(const pugi::xml_node& entry) {
    const std::string_view at = entry.attribute("wavelength").value();
    const auto nm = number_within(at), value = number_within(entry.child_value());
    // Lines are counted from the start of the file, so only where one is told.
    const auto refuse = [&](std::string text) { fail(line_of(entry), std::move(text)); };
    if (!nm || !(*nm > 0)) return refuse("its wavelength '" + std::string(at) + "' is no number above 0");
    if (!value) return refuse("'" + std::string(trimmed(entry.child_value())) + "' is not a number");
    if (*value < 0) return refuse("a value must not be negative");
    if (*nm > kMostInTable || *value > kMostInTable)
      return refuse("a number beyond 1e30 is not allowed: no spectrum holds that");
    if (use_ == SpectrumUse::ratio && *value > 1) return refuse("a ratio of more than 1 is not allowed");
    if (!x_.empty() && !(*nm > x_.back())) return refuse("the wavelengths must rise from entry to entry");
    x_.push_back(*nm);
    y_.push_back(*value);
  }

  std::string path_, text_;
  SpectrumUse use_;
  std::vector<Problem> problems_;
  std::vector<double> x_, y_;
};

}  // namespace

Table read_tm27_file(const std::string& path, SpectrumUse use, Beyond beyond) {
  return Tm27Reader(path, use).read(beyond);
}

bool is_tm27_name(const std::string& path) {
  const std::size_t dot = path.find_last_of('.');
  const std::string ending = lower_case(dot == std::string::npos ? "" : path.substr(dot));
  return ending == ".spdx" || ending == ".xml";
}

}  // namespace boughlight
