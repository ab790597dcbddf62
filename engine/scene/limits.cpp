#include "scene/limits.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "scene/ranges.h"

namespace boughlight {

namespace {

// How the numbers of a limit are read, and what a bare number means.
struct LimitForm {
  Dimension dimension;
  std::string_view bare_unit;
  Range range = Range::at_least(0);
  bool max_only = false;
  std::optional<Quantity> quantity = {};  // set where a named range of the library may stand
};

constexpr std::string_view kForms = "[min, max], {min: ...}, {max: ...} or {min: ..., max: ...}";

// {range: NAME}, and `min` or `max` beside it where the keeper's own figure goes before the range's.
Limits read_named(const Field& field, const LimitForm& form, std::string* range_name) {
  static const Keys kBoth = {{"range", true, "the name of a range of the library"},
                             {"min", false, "in place of the range's own lower limit"},
                             {"max", false, "in place of the range's own upper limit"}};
  static const Keys kMax = {kBoth[0], kBoth[2]};
  const Fields keys(field, form.max_only ? kMax : kBoth);
  Limits limits;
  const auto name = keys.get("range");
  if (const auto range = name ? find_range(*name, *form.quantity) : std::nullopt) {
    limits = range->limits;
    if (range_name) *range_name = range->name;
    if (form.max_only && !limits.max) name->fail("has no upper limit, which is needed here");
    if (form.max_only) limits.min.reset();
  }
  const auto own = [&](std::string_view key, std::optional<double>& limit) {
    if (const auto value = keys.get(key)) limit = value->number(form.dimension, form.bare_unit, form.range);
  };
  own("min", limits.min);
  own("max", limits.max);
  return limits;
}

std::optional<Limits> read_limits(const Field& field, const LimitForm& form,
                                  std::string* range_name = nullptr) {
  const auto number = [&](const Field& value) {
    return value.number(form.dimension, form.bare_unit, form.range);
  };
  const auto names_range = [&] {
    const auto& entries = field.node().entries;
    return form.quantity && std::any_of(entries.begin(), entries.end(),
                                        [](const YamlEntry& entry) { return entry.key == "range"; });
  };
  Limits limits;
  if (form.max_only && field.is_scalar()) {
    limits.max = number(field);
    return limits.max ? std::optional(limits) : std::nullopt;
  }
  if (form.max_only && !field.is_map()) {
    field.fail(fmt::format("is {}; a number, the most allowed anywhere, is needed here", field.found()));
    return std::nullopt;
  }
  const std::size_t before = field.document().problems->count();
  if (field.is_list()) {
    const auto pair = field.list_of(2, "[min, max]");
    if (!pair) return std::nullopt;
    limits = {number((*pair)[0]), number((*pair)[1])};
  } else if (field.is_map() && names_range()) {
    limits = read_named(field, form, range_name);
  } else if (field.is_map()) {
    static const Keys kBoth = {{"min", false, "the lower limit"}, {"max", false, "the upper limit"}};
    static const Keys kMax = {{"max", true, "the upper limit"}};
    const Fields keys(field, form.max_only ? kMax : kBoth);
    if (const auto min = keys.get("min")) limits.min = number(*min);
    if (const auto max = keys.get("max")) limits.max = number(*max);
    if (field.node().entries.empty() && !form.max_only) {
      field.fail(fmt::format("holds no limit; allowed: {}", kForms));
    }
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
  if (rules == WantRules::never) return {"uvi", "irradiance"};
  std::vector<std::string> names;
  for (const QuantityInfo& row : all_quantities()) {
    if (rules == WantRules::any || !is_day_quantity(row.quantity)) names.emplace_back(row.name);
  }
  return names;
}

LimitForm form_of(Quantity quantity, WantRules rules) {
  const Dimension dimension = info(quantity).dimension;
  return {.dimension = dimension,
          .bare_unit = base_unit(dimension),
          .max_only = rules == WantRules::never,
          .quantity = quantity};
}

// The quantity that an entry names, noted in `day` where it is summed over the day; nothing after telling
// why.
std::optional<Quantity> asked_quantity(const NamedField& entry, WantRules rules, std::vector<Field>& day) {
  const std::vector<std::string> allowed = names_allowed(rules);
  const auto quantity = quantity_named(entry.name);
  if (!quantity || std::find(allowed.begin(), allowed.end(), entry.name) == allowed.end()) {
    entry.value.fail_at(entry.key_mark, fmt::format("{}{}; allowed: {}",
                                                    quantity ? "is a quantity that cannot be asked for here"
                                                             : "is no quantity",
                                                    did_you_mean(entry.name, allowed), one_of(allowed)));
    return std::nullopt;
  }
  if (is_day_quantity(*quantity)) day.push_back(entry.value);
  return quantity;
}

const Keys& step_keys() {
  static const Keys kSteps = {{"survive", false, "limits beyond which it dies, if slowly"},
                              {"hold", false, "limits within which it keeps its leaves"},
                              {"grow", false, "limits within which it grows"}};
  return kSteps;
}

bool in_steps(const Field& field) {
  if (!field.is_map()) return false;
  const auto& entries = field.node().entries;
  return std::any_of(entries.begin(), entries.end(), [](const YamlEntry& entry) {
    return std::any_of(step_keys().begin(), step_keys().end(),
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
  const Fields keys(field, step_keys());
  BandedNeed need;
  std::optional<Limits>* const steps[] = {&need.survive, &need.hold, &need.grow};
  const Limits* outer = nullptr;
  std::string_view outer_name;
  for (std::size_t i = 0; i < step_keys().size(); ++i) {
    const auto step = keys.get(step_keys()[i].name);
    if (!step) continue;
    *steps[i] = read_limits(*step, form);
    if (!*steps[i]) continue;
    const Limits& limits = **steps[i];
    if (outer && !within(limits, *outer))
      step->fail(
          fmt::format("{} reaches outside of '{}', {}: survive, hold and grow lie each within the one before",
                      limits_words(limits), outer_name, limits_words(*outer)));
    outer = &limits;
    outer_name = step_keys()[i].name;
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
    if (in_steps(entry.value)) {
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
  const Dimension dimension = info(quantity).dimension;
  return read_limits(field, {.dimension = dimension, .bare_unit = base_unit(dimension)});
}

std::optional<Limits> read_share_limits(const Field& field) {
  return read_limits(field, {.dimension = Dimension::ratio, .bare_unit = "", .range = Range::between(0, 1)});
}

}  // namespace boughlight
