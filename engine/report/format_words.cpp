#include "report/format_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "units/problem.h"

namespace boughlight {

namespace {

using FormKind = Form::Kind;

std::string_view noun(Dimension dimension) {
  switch (dimension) {
    case Dimension::number:
      return "a number";
    case Dimension::ratio:
      return "a ratio";
    case Dimension::length:
      return "a length";
    case Dimension::area:
      return "an area";
    case Dimension::wavelength:
      return "a wavelength";
    case Dimension::angle:
      return "an angle";
    case Dimension::duration:
      return "a time";
    case Dimension::temperature:
    case Dimension::air_temperature:
      return "a temperature";
    case Dimension::power:
      return "a power";
    default:
      return "a figure";
  }
}

std::string joined(const std::vector<std::string>& words, std::string_view between) {
  std::string all;
  for (const std::string& word : words) all += (all.empty() ? "" : std::string(between)) + word;
  return all;
}

bool unlike_any_length(const Range& range) {
  return range == Range::between(-kLongest, kLongest);
}

std::string number_words(const Form& form) {
  std::string words(noun(form.dimension));
  // Every length ends at 100 m; the directions' bounds are there to catch slips.
  if (form.range.bounded() && !unlike_any_length(form.range) && !(form.range.min < -1e5))
    words += " " + form.range.describe(form.dimension);
  const std::vector<std::string> units = accepted_units(form.dimension);
  if (form.dimension == Dimension::length || form.dimension == Dimension::ratio || units.empty())
    return words;
  words += " (" + joined(units, ", ");
  if (!form.bare_unit.empty()) words += fmt::format("; {} if there is none", form.bare_unit);
  return words + ")";
}

std::string whole_words(const Form& form) {
  if (form.greatest == UINT64_MAX) return "a whole number";
  return fmt::format("a whole number from {} to {}", form.least, form.greatest);
}

bool alike(const Form& a, const Form& b) {
  return a.kind == b.kind && a.dimension == b.dimension && a.range == b.range && a.what == b.what;
}

void add_below(const Forms& forms, std::vector<const Mapping*>& all);

void add_mapping(const Mapping& mapping, std::vector<const Mapping*>& all) {
  if (std::find(all.begin(), all.end(), &mapping) != all.end()) return;
  all.push_back(&mapping);
  for (const Key* key : mapping.keys_of(nullptr)) add_below(key->forms, all);
  for (const MappingKind& kind : mapping.kinds)
    for (const Key& key : kind.keys) add_below(key.forms, all);
}

void add_below(const Forms& forms, std::vector<const Mapping*>& all) {
  for (const Form& form : forms) {
    if (form.mapping) add_mapping(*form.mapping, all);
    add_below(form.of, all);
  }
}

}  // namespace

std::string form_words(const Form& form, std::string (*link)(const Mapping& mapping)) {
  switch (form.kind) {
    case FormKind::text:
    case FormKind::name:
    case FormKind::clock_spans:
    case FormKind::clock_time:
    case FormKind::file:
      return std::string(form.what);
    case FormKind::word: {
      std::vector<std::string> words;
      for (std::string_view word : form.words) words.push_back(fmt::format("`{}`", word));
      return joined(words, ", ");
    }
    case FormKind::whole:
      return whole_words(form);
    case FormKind::number:
      return number_words(form);
    case FormKind::material:
      return "a material of kind " + one_of({form.words.begin(), form.words.end()});
    case FormKind::lamp:
      return "a lamp of the library, or the path of a lamp's file";
    case FormKind::range_name:
      return "a named range of the library";
    case FormKind::tuple: {
      if (std::all_of(form.of.begin(), form.of.end(),
                      [&](const Form& f) { return alike(f, form.of.front()); }))
        return fmt::format("{}, each {}", form.what, form_words(form.of.front(), link));
      std::vector<std::string> parts;
      for (const Form& part : form.of) parts.push_back(form_words(part, link));
      return fmt::format("{}: {}", form.what, joined(parts, ", "));
    }
    case FormKind::list:
      return fmt::format("a list of {}", forms_words(form.of, link)) +
             (form.fewest > 1 ? fmt::format(", {} or more", form.fewest) : "");
    case FormKind::named:
      return fmt::format("names, each with {}", forms_words(form.of, link));
    case FormKind::mapping:
      return link(*form.mapping);
  }
  return "";
}

std::string forms_words(const Forms& forms, std::string (*link)(const Mapping& mapping)) {
  std::vector<std::string> parts;
  for (const Form& form : forms) parts.push_back(form_words(form, link));
  return joined(parts, "; or ");
}

std::string left_out_words(const Key& key) {
  if (key.required) return "";
  return std::string(key.left_out.empty() ? key.standard : key.left_out);
}

std::vector<const Mapping*> mappings_below(const Mapping& top) {
  std::vector<const Mapping*> all;
  add_mapping(top, all);
  return all;
}

}  // namespace boughlight
