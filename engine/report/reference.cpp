#include "report/reference.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/format_words.h"
#include "units/problem.h"

namespace boughlight {

namespace {

// Limits are the same for every quantity but for its unit, so one section tells of all.
bool is_limits(const Mapping& mapping) {
  for (const char* start : {"limits", "ceiling-", "steps-", "wants", "instant-wants", "never", "needs"})
    if (mapping.name.starts_with(start)) return true;
  return false;
}

std::string link_to(const Mapping& mapping) {
  if (&mapping == &format::wants(WantRules::instant)) return "<<limits>> of quantities read at an instant";
  if (&mapping == &format::wants(WantRules::never))
    return "a greatest `uvi`, `irradiance` or both, as in <<limits>>";
  if (&mapping == &format::needs()) return "<<limits>> of quantities, in steps or not";
  if (&mapping == &format::share_limits) return "<<limits>>";
  if (is_limits(mapping)) return "<<limits>> of quantities";
  return fmt::format("<<{}>>", mapping.name);
}

PageEntry entry_of(const Key& key) {
  return {std::string(key.name), fmt::format("{}{}{}", key.meaning, key.more.empty() ? "" : ". ", key.more),
          key.forms.empty() ? "" : forms_words(key.forms, link_to), left_out_words(key)};
}

std::string fields_words(const std::vector<std::string_view>& names) {
  std::vector<std::string> words;
  for (std::string_view name : names) words.push_back(fmt::format("`{}`", name));
  return one_of(words);
}

void add_sections(const Mapping& mapping, std::vector<PageSection>& sections) {
  PageSection section{mapping.name, fmt::format("{}.", mapping.meaning)};
  section.text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(section.text[0])));
  if (!mapping.exactly_one.empty())
    section.text +=
        fmt::format(" One of {} must be there, and no other of them.", fields_words(mapping.exactly_one));
  if (mapping.not_empty) section.text += " At least one of the fields must be there.";
  if (&mapping == &format::faces) section.text += " Every such side must be named, and no other.";
  for (const Key& key : mapping.keys) section.entries.push_back(entry_of(key));
  sections.push_back(std::move(section));
  for (const MappingKind& kind : mapping.kinds) {
    PageSection one{fmt::format("{} {}", mapping.name, kind.word), {}, {}};
    one.heading += kind.given.empty() ? "" : fmt::format(" with {}", kind.given);
    one.text = fmt::format("Where `{}` is `{}`{}.", mapping.by, kind.word,
                           kind.given.empty() ? "" : fmt::format(" and `{}` is given", kind.given));
    if (kind.keys.empty()) one.text += " It has no further fields.";
    for (const Key& key : kind.keys) one.entries.push_back(entry_of(key));
    sections.push_back(std::move(one));
  }
}

PageSection limits_section() {
  return {
      .heading = "limits",
      .text =
          "A mapping of quantities (see boughlight-quantities) to limits: `uvi: [2.5, 4.5]`, "
          "`lux: {max: 2000}`, `uvb: {min: 50 uW/cm2}`. A figure without a unit is in the quantity's own. "
          "Limits are inclusive, and a lower limit of 0 is no limit. Shares of zones are limited in the same "
          "way, as ratios.",
      .entries = {
          {"[least, most]", "both ends"},
          {"min", "the lower limit", "", "no lower limit"},
          {"max", "the upper limit", "", "no upper limit"},
          {"range",
           "a named range of the library (boughlight library); `min` or `max` beside it go before its own",
           "", "figures of your own"},
          {"survive", "of a plant's need: limits beyond which it dies, if slowly", "limits", "not asked"},
          {"hold", "of a plant's need: limits within which it keeps its leaves", "limits", "not asked"},
          {"grow", "of a plant's need: limits within which it grows", "limits", "not asked"}}};
}

constexpr const char* kNumbers =
    "A number may carry its unit: `18 in`, `2.5 mm`, `30 %`. A bare length is in the scene's `length_unit`; "
    "files of "
    "lamps and materials have none, so there every length carries its own. A ratio is `30 %` or `0.3`. Clock "
    "times are "
    "quoted, several spans are joined by commas, and a span may pass midnight: `\"20:00-06:00\"`. Lengths "
    "are m, cm, mm, "
    "um, in or ft, and at most 100 m.";

}  // namespace

Page format_page(SchemaOf what) {
  Page page{.part = 5};
  const Mapping* top = &format::scene;
  if (what == SchemaOf::scene) {
    page.name = "boughlight-scene";
    page.purpose = "what a scene file may hold";
    page.text =
        "A scene is a YAML file. x runs from left to right, y from front to back, z up; the origin is the "
        "front-left "
        "inside floor corner of the lowest box. ";
  } else if (what == SchemaOf::fixture) {
    page.name = "boughlight-fixture";
    page.purpose = "what a lamp's file may hold";
    page.text = "A lamp is described in a YAML file of its own, which scenes name. ";
    top = &format::fixture;
  } else {
    page.name = "boughlight-material";
    page.purpose = "what a material's file may hold";
    page.text = "A material of the library is a YAML file. ";
    top = &format::library_material;
  }
  page.text += kNumbers;
  page.text += " Fields without an entry under `if left out` must be there.";
  bool limits = false;
  for (const Mapping* mapping : mappings_below(*top)) {
    if (is_limits(*mapping)) {
      limits = true;
    } else {
      add_sections(*mapping, page.sections);
    }
  }
  if (limits) page.sections.push_back(limits_section());
  return page;
}

Page quantities_page() {
  Page page{
      .name = "boughlight-quantities",
      .part = 7,
      .purpose = "the quantities that can be asked for and are reported",
      .text =
          "A reading is what a small flat cosine-corrected sensor would show at that place, all lamps on at "
          "their `dim`."};
  PageSection instant{"at an instant"}, day{"over the day",
                                            "Summed over the day, each lamp by its own hours; only where "
                                            "every lamp has `lit`. A lamp that ramps counts for "
                                            "each span less one ramp (two halves). A filament's light "
                                            "reddens while it ramps, so its ramp is integrated "
                                            "over the dimmer's settings."};
  for (const QuantityInfo& row : all_quantities()) {
    std::string units;
    for (const std::string& unit : accepted_units(row.dimension)) units += (units.empty() ? "" : ", ") + unit;
    PageEntry entry{std::string(row.name), fmt::format("{}: {}", row.label, row.meaning),
                    row.unit.empty() ? "no unit"
                    : units.empty()  ? fmt::format("in {}", row.unit)
                                     : fmt::format("in {}; limits may be in {}", row.unit, units)};
    (is_day_quantity(row.quantity) ? day : instant).entries.push_back(std::move(entry));
  }
  page.sections = {std::move(instant), std::move(day)};
  return page;
}

}  // namespace boughlight
