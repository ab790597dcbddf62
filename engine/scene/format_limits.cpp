// What limits may hold, and the library's named ranges of them.
#include <array>

#include "scene/format.h"
#include "scene/format_forms.h"

namespace boughlight::format {

Form figure_of(Quantity quantity) {
  const Dimension dimension = info(quantity).dimension;
  return number_form(dimension, Range::at_least(0), base_unit(dimension));
}

namespace {

// A function, since other files' tables ask for limits before this file's constants are there.
Key range_key() {
  return {"range", false, "the name of a range of the library", {{.kind = Form::Kind::range_name}}};
}

Keys ends(const Form& figure) {
  return {{"min", false, "the lower limit", {figure}, {}, "no lower limit"},
          {"max", false, "the upper limit", {figure}, {}, "no upper limit"}};
}

template <class Make>
std::array<Mapping, kQuantities> for_each_quantity(Make make) {
  std::array<Mapping, kQuantities> all;
  for (const QuantityInfo& row : all_quantities()) all[static_cast<std::size_t>(row.quantity)] = make(row);
  return all;
}

Forms limits_forms(Quantity quantity) {
  const Form figure = figure_of(quantity);
  return {tuple_form("[min, max]", {figure, figure}), mapping_form(limits_of(quantity))};
}

Mapping of_quantities(std::string name, std::string_view meaning, WantRules rules, bool steps) {
  Mapping mapping{.name = std::move(name), .meaning = meaning};
  for (const QuantityInfo& row : all_quantities()) {
    if (rules == WantRules::never && row.quantity != Quantity::uvi && row.quantity != Quantity::irradiance)
      continue;
    if (rules == WantRules::instant && is_day_quantity(row.quantity)) continue;
    Key key{row.name, false, row.meaning, limits_forms(row.quantity), {}, "not asked"};
    if (rules == WantRules::never)
      key.forms = {figure_of(row.quantity), mapping_form(ceiling_of(row.quantity))};
    if (steps) key.forms.push_back(mapping_form(steps_of(row.quantity)));
    mapping.keys.push_back(std::move(key));
  }
  return mapping;
}

}  // namespace

const Mapping& limits_of(Quantity quantity) {
  static const auto kAll = for_each_quantity([](const QuantityInfo& row) {
    Mapping mapping{.name = "limits-" + std::string(row.name), .meaning = row.label, .not_empty = true};
    mapping.keys = ends(figure_of(row.quantity));
    mapping.keys.insert(mapping.keys.begin(), range_key());
    return mapping;
  });
  return kAll[static_cast<std::size_t>(quantity)];
}

const Mapping& ceiling_of(Quantity quantity) {
  static const auto kAll = for_each_quantity([](const QuantityInfo& row) {
    return Mapping{.name = "ceiling-" + std::string(row.name),
                   .meaning = row.label,
                   .keys = {range_key(), ends(figure_of(row.quantity))[1]},
                   .not_empty = true};
  });
  return kAll[static_cast<std::size_t>(quantity)];
}

const Mapping& steps_of(Quantity quantity) {
  static const auto kAll = for_each_quantity([](const QuantityInfo& row) {
    const Forms limits = limits_forms(row.quantity);
    return Mapping{
        .name = "steps-" + std::string(row.name),
        .meaning = row.label,
        .keys = {{"survive", false, "limits beyond which it dies, if slowly", limits, {}, "not asked"},
                 {"hold", false, "limits within which it keeps its leaves", limits, {}, "not asked"},
                 {"grow", false, "limits within which it grows", limits, {}, "not asked"}},
        .not_empty = true};
  });
  return kAll[static_cast<std::size_t>(quantity)];
}

const Mapping& wants(WantRules rules) {
  static const Mapping kAny =
      of_quantities("wants", "limits on quantities, all of which are to hold", WantRules::any, false);
  static const Mapping kInstant = of_quantities(
      "instant-wants", "limits on quantities that are read at an instant", WantRules::instant, false);
  static const Mapping kNever =
      of_quantities("never", "what no reachable place may exceed", WantRules::never, false);
  return rules == WantRules::any ? kAny : rules == WantRules::instant ? kInstant : kNever;
}

const Mapping& needs() {
  static const Mapping kNeeds = of_quantities(
      "needs", "limits on quantities, plain or in steps, judged over a plant's crown", WantRules::any, true);
  return kNeeds;
}

const Mapping share_limits{
    .name = "limits-share", .meaning = "limits of a share", .keys = ends(ratio_form()), .not_empty = true};

Forms share_limits_forms() {
  return {tuple_form("[min, max]", {ratio_form(), ratio_form()}), mapping_form(share_limits)};
}

const Mapping plain_limits{.name = "limits",
                           .meaning = "limits of the file's quantity",
                           .keys = ends(number_form(Dimension::number, Range::at_least(0))),
                           .not_empty = true};

namespace {

constexpr std::size_t kSentence = 600;

Forms plain_limits_forms() {
  const Form figure = number_form(Dimension::number, Range::at_least(0));
  return {tuple_form("[min, max]", {figure, figure}), mapping_form(plain_limits)};
}

std::vector<std::string_view> quantity_names() {
  std::vector<std::string_view> names;
  for (const QuantityInfo& row : all_quantities()) names.push_back(row.name);
  return names;
}

}  // namespace

const Mapping range_file{
    .name = "ranges",
    .meaning = "named ranges of one quantity, as a source gives them",
    .keys = {{"range", true, "the version of the format: 1", {word_form({"1"})}},
             {"title", true, "what it is, for people", {name_form("a sentence", kSentence)}},
             {"quantity", true, "the quantity of its limits", {word_form(quantity_names())}},
             {"ranges",
              true,
              "the ranges by name",
              {named_form("a mapping of names to ranges", {mapping_form(named_range)})}},
             {"source", true, "where the figures come from", {name_form("a sentence", kSentence)}}}};

const Mapping named_range{
    .name = "range",
    .meaning = "one named range",
    .keys = {{"limits", true, "the figures, [min, max]", plain_limits_forms()},
             {"meaning", true, "what they are figures of", {name_form("a sentence", kSentence)}},
             {"status", true, "how they came to be known here", {name_form("a sentence", kSentence)}},
             {"dissents",
              false,
              "what other sources give",
              {list_form("a list", {mapping_form(dissent)})},
              {},
              "none"}}};

const Mapping dissent{
    .name = "dissent",
    .meaning = "another source with other figures",
    .keys = {{"limits", true, "what it gives instead", plain_limits_forms()},
             {"text", true, "who says so, in plain words", {name_form("a sentence", kSentence)}},
             {"source", true, "where it stands", {name_form("a sentence", kSentence)}}}};

}  // namespace boughlight::format
