#include "report/schema.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "report/format_words.h"
#include "report/json_text.h"
#include "scene/load.h"

namespace boughlight {

namespace {

using Json = nlohmann::ordered_json;
using FormKind = Form::Kind;

// One spelling of a unit as a pattern: with the signs that keyboards have for u, 2 and degrees.
std::string unit_pattern(std::string_view unit) {
  if (unit == "deg") return "(deg|\u00B0)";
  if (unit == "C" || unit == "F") return "(deg ?|\u00B0 ?)?" + std::string(unit);
  std::string pattern;
  for (char c : unit) {
    if (c == 'u' && pattern.empty()) {
      pattern += "[u\u00B5\u03BC]";
    } else if (c == '2') {
      pattern += "[2\u00B2]";
    } else {
      if (c == '(' || c == ')') pattern += '\\';
      pattern += c;
    }
  }
  return pattern;
}

// A number written as text, with one of the units; without one too where that is allowed.
std::string number_pattern(Dimension dimension, bool bare) {
  std::string units;
  for (const std::string& unit : accepted_units(dimension))
    units += (units.empty() ? "" : "|") + unit_pattern(unit);
  const std::string number = R"(^\s*[-+\u2212]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?)";
  if (units.empty()) return number + R"(\s*$)";
  return fmt::format(R"({}\s*({}){}\s*$)", number, units, bare ? "?" : "");
}

class Writer {
 public:
  // `bare_lengths`: the file has a length_unit.
  explicit Writer(bool bare_lengths)
      : bare_lengths_(bare_lengths), lamps_(library_lamp_names()), ranges_(load_library_ranges()) {
    for (const std::string& name : library_material_names()) {
      const Material material = load_library_material(name);
      materials_.emplace_back(surface_kind_name(material.kind), name);
    }
  }

  Json mapping(const Mapping& mapping) const {
    Json json = {{"type", "object"}, {"description", mapping.meaning}};
    Json properties = Json::object(), required = Json::array();
    for (const Key& key : mapping.keys) {
      properties[std::string(key.name)] = field(key);
      if (key.required) required.push_back(key.name);
    }
    // Whatever the kind, so that editors can offer them; what they may be is said by kind.
    for (const MappingKind& kind : mapping.kinds)
      for (const Key& key : kind.keys)
        if (!properties.contains(key.name))
          properties[std::string(key.name)] = {{"description", description(key)}};
    json["properties"] = std::move(properties);
    json["additionalProperties"] = false;
    if (!required.empty()) json["required"] = std::move(required);
    if (mapping.not_empty) json["minProperties"] = 1;
    if (!mapping.exactly_one.empty()) {
      json["oneOf"] = Json::array();
      for (std::string_view key : mapping.exactly_one) json["oneOf"].push_back({{"required", {key}}});
    }
    if (!mapping.kinds.empty()) json["allOf"] = kinds(mapping);
    return json;
  }

 private:
  Json kinds(const Mapping& mapping) const {
    Json all = Json::array();
    for (const MappingKind& kind : mapping.kinds) {
      Json needed = Json::array({mapping.by});
      Json condition = {{"properties", {{std::string(mapping.by), {{"const", kind.word}}}}}};
      if (!kind.given.empty()) needed.push_back(kind.given);
      condition["required"] = needed;
      // One that stands after another of its word is meant only without the other's key.
      for (const MappingKind& other : mapping.kinds) {
        if (&other == &kind) break;
        if (other.word == kind.word) condition["not"] = {{"required", {other.given}}};
      }
      Json then = {{"properties", Json::object()}, {"propertyNames", {{"enum", Json::array()}}}};
      for (const Key& key : mapping.keys) then["propertyNames"]["enum"].push_back(key.name);
      for (const Key& key : kind.keys) {
        then["properties"][std::string(key.name)] = field(key);
        then["propertyNames"]["enum"].push_back(key.name);
        if (key.required) then["required"].push_back(key.name);
      }
      all.push_back({{"if", std::move(condition)}, {"then", std::move(then)}});
    }
    return all;
  }

  Json field(const Key& key) const {
    Json json = {{"description", description(key)}};
    if (!key.standard.empty()) json["default"] = value_of(key.standard);
    if (key.forms.size() == 1 && !key.forms.front().mapping) {
      json.update(form(key.forms.front()));
    } else {
      json["anyOf"] = Json::array();
      for (const Form& one : key.forms) json["anyOf"].push_back(form(one));
    }
    return json;
  }

  static std::string description(const Key& key) {
    const auto link = [](const Mapping& mapping) { return std::string(mapping.meaning); };
    std::string text = fmt::format("{}.\nTakes {}.", key.meaning, forms_words(key.forms, +link));
    if (!key.more.empty()) text += fmt::format("\n{}", key.more);
    if (key.required) return text + "\nMust be there.";
    return text + fmt::format("\nIf left out: {}.", left_out_words(key));
  }

  static Json number_or_text(std::string_view text) {
    double number = 0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
    const bool whole = read.ec == std::errc() && read.ptr == text.data() + text.size();
    if (!whole) return Json(text);
    return number == std::round(number) ? Json(static_cast<std::int64_t>(number)) : Json(number);
  }

  // A default as the table has it: a number, text, or [a, b].
  static Json value_of(std::string_view yaml) {
    if (!yaml.starts_with('[')) return number_or_text(yaml);
    Json list = Json::array();
    std::string_view rest = yaml.substr(1, yaml.size() - 2);
    while (!rest.empty()) {
      const std::size_t comma = std::min(rest.find(", "), rest.size());
      list.push_back(number_or_text(rest.substr(0, comma)));
      rest.remove_prefix(std::min(comma + 2, rest.size()));
    }
    return list;
  }

  Json number(const Form& form) const {
    const bool length = form.dimension == Dimension::length;
    const bool bare = length ? bare_lengths_ : base_unit(form.dimension).empty() || !form.bare_unit.empty();
    Json json = {{"type", bare ? Json::array({"number", "string"}) : Json("string")},
                 {"pattern", number_pattern(form.dimension, bare)}};
    if (!bare) return json;
    const Range& range = form.range;
    // What a bare length means is said elsewhere in the file, but not its sign.
    if (length) {
      if (range.min >= 0) json[range.min > 0 || range.above_min ? "exclusiveMinimum" : "minimum"] = 0;
      return json;
    }
    if (std::isfinite(range.min)) json[range.above_min ? "exclusiveMinimum" : "minimum"] = range.min;
    if (std::isfinite(range.max)) json[range.below_max ? "exclusiveMaximum" : "maximum"] = range.max;
    return json;
  }

  // Names of the library to choose from, and any other.
  static Json named(Json names) {
    const Json any = {{"type", "string"}};
    if (names.empty()) return any;
    return {{"anyOf", {{{"enum", std::move(names)}}, any}}};
  }

  Json form(const Form& form) const {
    // YAML takes 12 and true for no text, the loader does.
    const Json scalar = Json::array({"string", "number", "boolean"});
    switch (form.kind) {
      case FormKind::text:
        return {{"type", scalar}, {"pattern", R"(\S)"}};
      case FormKind::name:
        return {{"type", scalar},
                {"pattern", R"(^[^\u0000-\u001F\u007F]*[^\u0000-\u0020\u007F][^\u0000-\u001F\u007F]*$)"},
                {"maxLength", form.most}};
      case FormKind::word: {
        Json words = Json::array();
        for (std::string_view word : form.words) {
          words.push_back(number_or_text(word));
          if (!words.back().is_string()) words.push_back(word);
        }
        return {{"enum", std::move(words)}};
      }
      case FormKind::whole: {
        Json json = {{"type", "integer"}, {"minimum", form.least}};
        if (form.greatest < UINT64_MAX) json["maximum"] = form.greatest;
        return json;
      }
      case FormKind::number:
        return number(form);
      case FormKind::clock_spans:
        return {{"type", "string"},
                {"pattern", R"(^\s*[0-9]{1,2}:[0-9]{2}\s*-\s*[0-9]{1,2}:[0-9]{2}\s*(,|$))"}};
      case FormKind::clock_time:
        return {{"type", "string"}, {"pattern", R"(^\s*[0-9]{1,2}:[0-9]{2}\s*$)"}};
      case FormKind::file:
        return {{"type", "string"}};
      case FormKind::lamp:
        return named(lamps_);
      case FormKind::material: {
        Json names = Json::array();
        for (const auto& [kind, name] : materials_)
          if (std::find(form.words.begin(), form.words.end(), kind) != form.words.end())
            names.push_back(name);
        return named(std::move(names));
      }
      case FormKind::range_name: {
        Json names = Json::array();
        for (const NamedRange& range : ranges_) names.push_back(range.name);
        return {{"enum", std::move(names)}};
      }
      case FormKind::tuple: {
        Json items = Json::array();
        for (const Form& one : form.of) items.push_back(this->form(one));
        return {{"type", "array"},
                {"items", std::move(items)},
                {"minItems", form.of.size()},
                {"maxItems", form.of.size()}};
      }
      case FormKind::list: {
        Json json = {{"type", "array"}, {"items", one_of_forms(form.of)}};
        if (form.fewest > 0) json["minItems"] = form.fewest;
        return json;
      }
      case FormKind::named:
        return {{"type", "object"}, {"additionalProperties", one_of_forms(form.of)}};
      case FormKind::mapping:
        return {{"$ref", fmt::format("#/definitions/{}", form.mapping->name)}};
    }
    return {};
  }

  Json one_of_forms(const Forms& forms) const {
    if (forms.size() == 1) return form(forms.front());
    Json json = {{"anyOf", Json::array()}};
    for (const Form& one : forms) json["anyOf"].push_back(form(one));
    return json;
  }

  bool bare_lengths_;
  std::vector<std::string> lamps_;
  std::vector<std::pair<std::string, std::string>> materials_;  // kind, name
  std::vector<NamedRange> ranges_;
};

}  // namespace

std::string schema_json(SchemaOf what) {
  const Mapping& top = what == SchemaOf::scene     ? format::scene
                       : what == SchemaOf::fixture ? format::fixture
                                                   : format::library_material;
  const Writer writer(what == SchemaOf::scene);
  Json json = {{"$schema", "http://json-schema.org/draft-07/schema#"},
               {"title", fmt::format("Boughlight {}", what == SchemaOf::material ? "material" : top.name)}};
  json.update(writer.mapping(top));
  Json definitions = Json::object();
  for (const Mapping* mapping : mappings_below(top))
    if (mapping != &top) definitions[mapping->name] = writer.mapping(*mapping);
  json["definitions"] = std::move(definitions);
  return json_text(json);
}

std::string results_schema_json(std::string_view text) {
  Json json = Json::parse(text);
  Json& definitions = json.at("$defs");
  for (const QuantityInfo& quantity : all_quantities()) {
    definitions.at("quantity")["examples"].push_back(quantity.name);
    if (definitions.contains("figures_by_quantity"))
      definitions["figures_by_quantity"]["properties"][std::string(quantity.name)] = {
          {"description",
           fmt::format("{}, {}", quantity.meaning, quantity.unit.empty() ? "1" : quantity.unit)},
          {"$ref", "#/$defs/figure"}};
  }
  return json_text(json);
}

}  // namespace boughlight
