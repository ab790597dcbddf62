#include "scene/limits.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "scene/ranges.h"

namespace boughlight {

namespace {

// How a limit is read.
struct LimitForm {
  Form figure;
  const Mapping& mapping;
  bool max_only = false;
  std::optional<Quantity> quantity = {};  // set where a named range of the library may stand
};

constexpr std::string_view kForms = "[min, max], {min: ...}, {max: ...} or {min: ..., max: ...}";

// {range: NAME}, {min: ...}, {max: ...}: the keeper's own figure goes before the range's.
Limits read_ends(const Field& field, const LimitForm& form, std::string* range_name) {
  const Fields keys(field, form.mapping);
  Limits limits;
  const auto name = form.quantity ? keys.get("range") : std::nullopt;
  if (const auto range = name ? find_range(*name, *form.quantity) : std::nullopt) {
    limits = range->limits;
    if (range_name) *range_name = range->name;
    if (form.max_only && !limits.max) name->fail("has no upper limit, which is needed here");
    if (form.max_only) limits.min.reset();
  }
  if (form.max_only && !name && !keys.has("max")) field.fail("'max' is missing: the upper limit");
  const auto own = [&](std::string_view key, std::optional<double>& limit) {
    if (const auto value = keys.get(key)) limit = value->number(form.figure);
  };
  if (!form.max_only) own("min", limits.min);
  own("max", limits.max);
  return limits;
}

std::optional<Limits> read_limits(const Field& field, const LimitForm& form,
                                  std::string* range_name = nullptr) {
  Limits limits;
  if (form.max_only && field.is_scalar()) {
    limits.max = field.number(form.figure);
    return limits.max ? std::optional(limits) : std::nullopt;
  }
  if (form.max_only && !field.is_map()) {
    field.fail(fmt::format("is {}; a number, the most allowed anywhere, is needed here", field.found()));
    return std::nullopt;
  }
  const std::size_t before = field.document().problems->count();
  if (field.is_list()) {
    const auto pair = field.numbers(tuple_form("[min, max]", {form.figure, form.figure}));
    if (!pair) return std::nullopt;
    limits = {(*pair)[0], (*pair)[1]};
  } else if (field.is_map() && field.node().entries.empty() && !form.max_only) {
    field.fail(fmt::format("holds no limit; allowed: {}", kForms));
  } else if (field.is_map()) {
    limits = read_ends(field, form, range_name);
  } else {
    field.fail(fmt::format("is {}; limits are needed here: {}", field.found(), kForms));
  }
  if (field.document().problems->count() > before) return std::nullopt;
  if (limits.min && limits.max && *limits.min > *limits.max) {
    field.fail(fmt::format("the lower limit {} is above the upper limit {}", print_number(*limits.min),
                           print_number(*limits.max)));
    return std::nullopt;
  }
  return limits;
}

std::vector<std::string> names_allowed(WantRules rules) {
  std::vector<std::string> names;
  for (const Key& key : format::wants(rules).keys) names.emplace_back(key.name);
  return names;
}

LimitForm form_of(Quantity quantity, WantRules rules) {
  const bool max_only = rules == WantRules::never;
  return {.figure = format::figure_of(quantity),
          .mapping = max_only ? format::ceiling_of(quantity) : format::limits_of(quantity),
          .max_only = max_only,
          .quantity = quantity};
}

// The quantity that an entry names, noted in `day` where it is summed over the day; nothing after telling
// why.
std::optional<Quantity> asked_quantity(const NamedField& entry, WantRules rules, std::vector<Field>& day) {
  const std::vector<std::string> allowed = names_allowed(rules);
  const auto quantity = quantity_named(entry.name);
  if (!quantity || std::find(allowed.begin(), allowed.end(), entry.name) == allowed.end()) {
    // What names a quantity is no slip of another: uvb is not uvi misspelt.
    entry.value.fail_at(entry.key_mark,
                        fmt::format("{}; allowed: {}",
                                    quantity ? "is a quantity that cannot be asked for here"
                                             : "is no quantity" + did_you_mean(entry.name, allowed),
                                    one_of(allowed)));
    return std::nullopt;
  }
  if (is_day_quantity(*quantity)) day.push_back(entry.value);
  return quantity;
}

bool in_steps(const Field& field, const Mapping& steps) {
  if (!field.is_map()) return false;
  const auto& entries = field.node().entries;
  return std::any_of(entries.begin(), entries.end(), [&](const YamlEntry& entry) {
    return std::any_of(steps.keys.begin(), steps.keys.end(),
                       [&](const Key& key) { return key.name == entry.key; });
  });
}

// "0.2 to 20", "at least 0.2", "at most 20"; a lower limit of 0 is none.
std::string limits_words(const Limits& limits) {
  const bool from = limits.min && *limits.min > 0;
  if (from && limits.max) return print_number(*limits.min) + " to " + print_number(*limits.max);
  if (from) return "at least " + print_number(*limits.min);
  return limits.max ? "at most " + print_number(*limits.max) : "anything";
}

bool within(const Limits& inner, const Limits& outer) {
  constexpr double kNone = std::numeric_limits<double>::infinity();
  return inner.min.value_or(0) >= outer.min.value_or(0) &&
         inner.max.value_or(kNone) <= outer.max.value_or(kNone);
}

BandedNeed read_steps(const Field& field, const LimitForm& form) {
  const Keys& names = format::steps_of(*form.quantity).keys;
  const Fields keys(field, format::steps_of(*form.quantity));
  BandedNeed need;
  std::optional<Limits>* const steps[] = {&need.survive, &need.hold, &need.grow};
  const Limits* outer = nullptr;
  std::string_view outer_name;
  for (std::size_t i = 0; i < names.size(); ++i) {
    const auto step = keys.get(names[i].name);
    if (!step) continue;
    *steps[i] = read_limits(*step, form);
    if (!*steps[i]) continue;
    const Limits& limits = **steps[i];
    if (outer && !within(limits, *outer))
      step->fail(
          fmt::format("{} reaches outside of '{}', {}: survive, hold and grow lie each within the one before",
                      limits_words(limits), outer_name, limits_words(*outer)));
    outer = &limits;
    outer_name = names[i].name;
  }
  return need;
}

}  // namespace

std::vector<Want> read_wants(const Field& field, WantRules rules, std::vector<Field>& day) {
  std::vector<Want> wants;
  for (const NamedField& entry : named_fields(field, "a mapping of quantities to limits")) {
    const auto quantity = asked_quantity(entry, rules, day);
    if (!quantity) continue;
    std::string range;
    const auto limits = read_limits(entry.value, form_of(*quantity, rules), &range);
    if (limits) wants.push_back({*quantity, *limits, entry.value.mark(), range});
  }
  return wants;
}

void read_needs(const Field& field, Plant& plant, std::vector<Field>& day) {
  for (const NamedField& entry : named_fields(field, "a mapping of quantities to limits")) {
    const auto quantity = asked_quantity(entry, WantRules::any, day);
    if (!quantity) continue;
    const LimitForm form = form_of(*quantity, WantRules::any);
    std::string range;
    std::optional<Limits> judged;
    if (in_steps(entry.value, format::steps_of(*quantity))) {
      BandedNeed need = read_steps(entry.value, form);
      need.quantity = *quantity;
      need.mark = entry.value.mark();
      judged = need.hold ? need.hold : need.survive ? need.survive : need.grow;
      if (judged) plant.bands.push_back(std::move(need));
    } else {
      judged = read_limits(entry.value, form, &range);
    }
    if (judged) plant.needs.push_back({*quantity, *judged, entry.value.mark(), range});
  }
}

std::optional<Limits> read_quantity_limits(const Field& field, Quantity quantity) {
  return read_limits(field, {.figure = format::figure_of(quantity), .mapping = format::plain_limits});
}

std::optional<Limits> read_share_limits(const Field& field) {
  return read_limits(field, {.figure = ratio_form(), .mapping = format::share_limits});
}

}  // namespace boughlight
