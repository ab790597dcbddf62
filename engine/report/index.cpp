#include "report/index.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <stdexcept>
#include <tuple>

#include "report/index_parts.h"
#include "report/summary_parts.h"
#include "report/text.h"

namespace boughlight {
namespace {

using ParsedJson = nlohmann::json;

std::optional<double> number_in(const ParsedJson& json, const char* key) {
  const auto found = json.find(key);
  return found == json.end() ? std::nullopt : std::optional<double>(found->get<double>());
}

IndexFigure figure_in(const ParsedJson& json) {
  IndexFigure figure;
  figure.value = json.at("value").get<double>();
  figure.se = json.at("se").get<double>();
  figure.min = number_in(json, "min");
  figure.max = number_in(json, "max");
  figure.verdict = json.value("verdict", "");
  if (const auto firm = json.find("firm"); firm != json.end()) figure.firm = firm->get<bool>();
  return figure;
}

IndexFigure reach_in(const ParsedJson& hottest, const char* quantity) {
  const ParsedJson& place = hottest.at(quantity);
  IndexFigure figure = figure_in(place);
  figure.quantity = quantity;
  figure.max = number_in(place, "limit");
  figure.lamp = place.at("lamp").get<std::string>();
  return figure;
}

IndexState state_named(const std::string& verdict) {
  if (verdict == "met") return IndexState::met;
  if (verdict == "unsure") return IndexState::unsure;
  if (verdict == "unmet") return IndexState::unmet;
  throw std::runtime_error(fmt::format("its verdict is '{}', which is none", printable(verdict)));
}

IndexRow row_in(const ParsedJson& json, const std::string& folder) {
  if (json.at("boughlight") != 1) throw std::runtime_error("it has another format");
  IndexRow row;
  row.state = state_named(json.at("verdict").get<std::string>());
  row.scene = json.at("scene").get<std::string>();
  row.title = json.at("title").get<std::string>();
  row.folder = folder;
  row.version = json.at("version").get<std::string>();
  row.tolerance = json.at("tolerance").get<double>();
  for (const ParsedJson& reading : json.at("readings")) {
    for (const ParsedJson& want : reading.at("wants")) {
      IndexFigure figure = figure_in(want);
      figure.of = reading.at("name").get<std::string>();
      figure.quantity = want.at("quantity").get<std::string>();
      row.asked.push_back(std::move(figure));
    }
  }
  for (const ParsedJson& want : json.at("zones").at("wants")) {
    IndexFigure figure = figure_in(want);
    figure.zone = true;
    figure.of = want.at("zone").get<std::string>();
    figure.quantity = want.at("share").get<std::string>();
    row.asked.push_back(std::move(figure));
  }
  if (const auto hottest = json.find("hottest"); hottest != json.end())
    row.reach = {reach_in(*hottest, "uvi"), reach_in(*hottest, "irradiance")};
  row.cautions = json.at("cautions").size();
  return row;
}

// Whether `a` comes before `b`, runs of digits compared as numbers.
bool comes_before(const std::string& a, const std::string& b) {
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  std::size_t i = 0, j = 0;
  while (i < a.size() && j < b.size()) {
    if (digit(a[i]) && digit(b[j])) {
      const auto run = [&](const std::string& text, std::size_t& at) {
        while (at + 1 < text.size() && text[at] == '0' && digit(text[at + 1])) ++at;
        const std::size_t from = at;
        while (at < text.size() && digit(text[at])) ++at;
        return text.substr(from, at - from);
      };
      const std::string left = run(a, i), right = run(b, j);
      if (left != right) return std::make_pair(left.size(), left) < std::make_pair(right.size(), right);
    } else {
      if (a[i] != b[j]) return a[i] < b[j];
      ++i, ++j;
    }
  }
  if (a.size() - i != b.size() - j) return a.size() - i < b.size() - j;
  return a < b;
}

}  // namespace

std::string index_state_name(IndexState state) {
  switch (state) {
    case IndexState::met:
      return "met";
    case IndexState::unsure:
      return "unsure";
    case IndexState::unmet:
      return "unmet";
    case IndexState::missing:
      return "missing";
    case IndexState::failed:
      return "failed";
  }
  throw std::logic_error("index_state_name: no such state");
}

IndexRow index_row(const std::string& readings_json, const std::string& folder) {
  try {
    return row_in(ParsedJson::parse(readings_json), folder);
  } catch (const ParsedJson::exception&) {
    throw std::runtime_error("it is not a survey's, or not a whole one");
  }
}

void sort_by_name(std::vector<IndexRow>& rows) {
  const auto key = [](const IndexRow& row) { return row.folder.empty() ? row.scene : row.folder; };
  std::stable_sort(rows.begin(), rows.end(),
                   [&](const IndexRow& a, const IndexRow& b) { return comes_before(key(a), key(b)); });
}

std::vector<const IndexRow*> rows_of(const std::vector<IndexRow>& rows, IndexState state) {
  std::vector<const IndexRow*> chosen;
  for (const IndexRow& row : rows)
    if (row.state == state) chosen.push_back(&row);
  return chosen;
}

std::string index_counts(const std::vector<IndexRow>& rows) {
  std::string text;
  for (const IndexGroup& group : kIndexGroups) {
    const std::size_t count = rows_of(rows, group.state).size();
    if (count > 0) text += fmt::format("{}{} {}", text.empty() ? "" : ", ", count, group.words);
  }
  return text;
}

std::string figure_words(const IndexFigure& figure) {
  if (figure.zone) {
    const std::string share = figure.quantity == "volume"  ? "of the volume"
                              : figure.quantity == "perch" ? "of what can be sat on"
                                                           : "of the poorest level";
    return fmt::format("{} zone: {} {}", printable(figure.of), unbroken(percent(figure.value)), share);
  }
  const std::string of = figure.of.empty() ? "" : printable(figure.of) + ": ";
  const auto quantity = quantity_named(figure.quantity);
  if (!quantity) return of + printable(figure.quantity) + " " + print_number(figure.value);
  return of + with_name(*quantity, value_text(*quantity, figure.value));
}

std::string limit_words(const IndexFigure& figure) {
  if (!figure.min && !figure.max) return "";
  const Limits limits{figure.min, figure.max};
  return figure.zone ? limits_text(limits, 100, "%") : limits_text(limits, 1, "");
}

std::string name_of(const IndexRow& row) {
  return printable(row.title.empty() ? row.scene : row.title);
}

std::vector<std::string> versions_of(const std::vector<IndexRow>& rows) {
  std::set<std::string> versions;
  for (const IndexRow& row : rows)
    if (!row.version.empty()) versions.insert(row.version);
  return {versions.begin(), versions.end()};
}

}  // namespace boughlight
