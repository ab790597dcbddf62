#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <stdexcept>

#include "scene/field.h"
#include "spectrum/quantity.h"

namespace boughlight {

namespace {

// Reports each key that stood before, saying where. True for the first of its name.
class FirstOfName {
 public:
  explicit FirstOfName(const Field& map) : map_(map) {}

  bool operator()(const YamlEntry& entry) {
    const auto [at, fresh] = lines_.emplace(entry.key, entry.line);
    if (!fresh) {
      const Field key(map_, entry.value, sub_path(map_.path(), entry.key));
      key.fail_at({map_.document().file, entry.line, entry.column},
                  fmt::format("is given twice: first in line {}", at->second));
    }
    return fresh;
  }

 private:
  const Field& map_;
  std::map<std::string, int> lines_;
};

}  // namespace

std::string sub_path(const std::string& path, std::string_view key) {
  constexpr std::size_t kShown = 60;
  std::string word;
  for (char c : key.substr(0, kShown)) word += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
  // Not cut inside a character.
  while (key.size() > kShown && !word.empty() && (static_cast<unsigned char>(word.back()) & 0x80U))
    word.pop_back();
  if (key.size() > kShown) word += "...";
  return path.empty() ? word : fmt::format("{}.{}", path, word);
}

namespace {

// The kind of mapping that a field is by its own word; null where there are none, or none of that word.
const MappingKind* kind_of(const Field& field, const Mapping& mapping) {
  std::vector<std::string_view> given;
  std::string_view word;
  for (const YamlEntry& entry : field.node().entries) {
    given.push_back(entry.key);
    if (entry.key == mapping.by) word = entry.value.text;
  }
  return mapping.kind(word, given);
}

}  // namespace

Fields::Fields(const Field& field, const Mapping& mapping, const std::vector<std::string_view>& required)
    : whole_(field), mapping_(&mapping) {
  const MappingKind* kind = kind_of(field, mapping);
  keys_ = mapping.keys_of(kind);
  std::vector<std::string> names;
  for (const Key* key : keys_) names.emplace_back(key->name);
  if (!field.is_map()) {
    field.fail(fmt::format("is {}; a mapping with {} is needed here", field.found(), one_of(names)));
    return;
  }
  FirstOfName first(field);
  std::vector<std::string_view> given;
  for (const YamlEntry& entry : field.node().entries) {
    if (!first(entry)) continue;
    const auto at =
        std::find_if(keys_.begin(), keys_.end(), [&](const Key* k) { return k->name == entry.key; });
    const Field value(field, entry.value, sub_path(field.path(), entry.key));
    if (kind && std::find(kind->barred.begin(), kind->barred.end(), entry.key) != kind->barred.end()) {
      value.fail(std::string(kind->why_barred));
      continue;
    }
    if (at == keys_.end()) {
      // What names another quantity is no slip: uvc is not uvi misspelt.
      const std::string meant = quantity_named(entry.key) ? "" : did_you_mean(entry.key, names);
      value.fail_at({field.document().file, entry.line, entry.column},
                    fmt::format("is an unknown key{}; allowed: {}", meant, one_of(names)));
      continue;
    }
    const Key* key = *at;
    given.push_back(key->name);
    if (value.is_null()) {
      value.fail(fmt::format("is empty: give a value or leave the key out ({})", key->meaning));
      continue;
    }
    found_.emplace_back(key->name, value);
  }
  const std::size_t always = mapping.keys.size();
  for (std::size_t i = 0; i < keys_.size(); ++i) {
    const Key& key = *keys_[i];
    // Of an unknown kind only the keys of every kind can be missed.
    const bool needed = (key.required && (kind || i < always)) ||
                        std::find(required.begin(), required.end(), key.name) != required.end();
    if (needed && std::find(given.begin(), given.end(), key.name) == given.end()) {
      field.fail(fmt::format("'{}' is missing: {}", key.name, key.meaning));
    }
  }
}

const Key& Fields::key(std::string_view name) const {
  for (const Key* key : keys_)
    if (key->name == name) return *key;
  for (const Key* key : mapping_->keys_of(nullptr))
    if (key->name == name) return *key;
  throw std::logic_error(fmt::format("the format has no '{}' at '{}'", name, whole_.path()));
}

std::optional<Field> Fields::get(std::string_view key_name) const {
  for (const auto& [name, field] : found_) {
    if (name == key_name) return field;
  }
  key(key_name);  // must be one that the format knows
  return std::nullopt;
}

std::optional<double> Fields::number(std::string_view key_name) const {
  const auto field = get(key_name);
  return field ? field->number(key(key_name).form(Form::Kind::number)) : std::nullopt;
}

std::optional<std::uint64_t> Fields::whole_number(std::string_view key_name) const {
  const auto field = get(key_name);
  const Form& form = key(key_name).form(Form::Kind::whole);
  return field ? field->whole_number(form.least, form.greatest) : std::nullopt;
}

std::optional<std::vector<double>> Fields::numbers(std::string_view key_name) const {
  const auto field = get(key_name);
  return field ? field->numbers(key(key_name).form(Form::Kind::tuple)) : std::nullopt;
}

std::optional<Vec3> Fields::vector(std::string_view key_name) const {
  const auto field = get(key_name);
  return field ? field->vector(key(key_name).form(Form::Kind::tuple)) : std::nullopt;
}

std::optional<std::string> Fields::text(std::string_view key_name) const {
  const auto field = get(key_name);
  return field ? field->text(key(key_name).form(Form::Kind::text).what) : std::nullopt;
}

std::optional<std::string> Fields::name(std::string_view key_name) const {
  const auto field = get(key_name);
  const Form& form = key(key_name).form(Form::Kind::name);
  return field ? field->name(form.what, form.most) : std::nullopt;
}

std::optional<std::string> Fields::word(std::string_view key_name) const {
  const auto field = get(key_name);
  const auto& words = key(key_name).form(Form::Kind::word).words;
  return field ? field->word({words.begin(), words.end()}) : std::nullopt;
}

std::vector<Field> Fields::list(std::string_view key_name) const {
  const auto field = get(key_name);
  if (!field) return {};
  return field->list(key(key_name).form(Form::Kind::list).what).value_or(std::vector<Field>());
}

std::vector<NamedField> named_fields(const Field& field, std::string_view what) {
  std::vector<NamedField> named;
  if (!field.is_map()) {
    field.fail(fmt::format("is {}; {} is needed here", field.found(), what));
    return named;
  }
  FirstOfName first(field);
  for (const YamlEntry& entry : field.node().entries) {
    if (!first(entry)) continue;
    const Field value(field, entry.value, sub_path(field.path(), entry.key));
    if (value.is_null()) {
      value.fail("is empty: give a value or leave the key out");
      continue;
    }
    named.push_back({entry.key, {field.document().file, entry.line, entry.column}, value});
  }
  return named;
}

}  // namespace boughlight
