#include "scene/ranges.h"

#include <fmt/format.h>

#include <algorithm>

#include "scene/library.h"
#include "scene/limits.h"

namespace boughlight {

namespace {

std::string line(const Fields& keys, std::string_view key) {
  return keys.name(key).value_or("");
}

RangeDissent read_dissent(const Field& field, Quantity quantity) {
  const Fields keys(field, format::dissent);
  RangeDissent dissent;
  if (const auto limits = keys.get("limits"))
    dissent.limits = read_quantity_limits(*limits, quantity).value_or(Limits());
  dissent.text = line(keys, "text");
  dissent.source = line(keys, "source");
  return dissent;
}

void read_range(const Field& field, NamedRange& range) {
  const Fields keys(field, format::named_range);
  if (const auto limits = keys.get("limits"))
    range.limits = read_quantity_limits(*limits, range.quantity).value_or(Limits());
  range.meaning = line(keys, "meaning");
  range.status = line(keys, "status");
  for (const Field& item : keys.list("dissents"))
    range.dissents.push_back(read_dissent(item, range.quantity));
}

void read_file(const std::string& name, Problems& problems, std::vector<NamedRange>& ranges) {
  const auto document = open_document(library_file("ranges", name), "", problems);
  if (!document) return;
  const Field top(*document);
  if (!check_version(top, "range", "a range")) return;
  const Fields keys(top, format::range_file);
  NamedRange of_file;
  of_file.title = line(keys, "title");
  of_file.source = line(keys, "source");
  if (keys.has("quantity")) {
    const auto word = keys.word("quantity");
    if (!word) return;
    of_file.quantity = *quantity_named(*word);
  }
  const auto list = keys.get("ranges");
  if (!list) return;
  for (const NamedField& entry : named_fields(*list, "a mapping of names to ranges")) {
    NamedRange range = of_file;
    range.name = name + "-" + entry.name;
    read_range(entry.value, range);
    ranges.push_back(std::move(range));
  }
}

std::string limits_of(const Limits& limits) {
  if (limits.min && limits.max)
    return fmt::format("{} to {}", print_number(*limits.min), print_number(*limits.max));
  if (limits.min) return "at least " + print_number(*limits.min);
  return "at most " + print_number(limits.max.value_or(0));
}

}  // namespace

std::vector<NamedRange> read_library_ranges(Problems& problems) {
  std::vector<NamedRange> ranges;
  for (const std::string& name : names_in_library("ranges")) read_file(name, problems, ranges);
  return ranges;
}

std::optional<NamedRange> find_range(const Field& field, Quantity quantity) {
  const auto name = field.text("the name of a range");
  if (!name) return std::nullopt;
  const std::vector<NamedRange> ranges = read_library_ranges(*field.document().problems);
  const auto at = std::find_if(ranges.begin(), ranges.end(),
                               [&](const NamedRange& range) { return range.name == *name; });
  if (at == ranges.end()) {
    std::vector<std::string> names;
    for (const NamedRange& range : ranges) names.push_back(range.name);
    field.fail(fmt::format("there is no range {}{}: 'boughlight library' lists them", field.found(),
                           did_you_mean(*name, names)));
    return std::nullopt;
  }
  if (at->quantity != quantity) {
    std::vector<std::string> fitting;
    for (const NamedRange& range : ranges)
      if (range.quantity == quantity) fitting.push_back(range.name);
    field.fail(fmt::format("'{}' is a range of {}, not of {}: {}", *name, info(at->quantity).name,
                           info(quantity).name,
                           fitting.empty() ? "the library has none of that, so write the numbers"
                                           : one_of(fitting) + " is allowed"));
    return std::nullopt;
  }
  return *at;
}

std::string range_note(const NamedRange& range) {
  std::string note = fmt::format(
      "the range '{}' ({} {}) is a published scheme for groups of species, not the "
      "need of your animal",
      range.name, info(range.quantity).label, limits_of(range.limits));
  for (const RangeDissent& dissent : range.dissents)
    note += fmt::format("; sources differ: {} ({})", limits_of(dissent.limits), dissent.text);
  return note;
}

}  // namespace boughlight
