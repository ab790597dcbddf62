#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "scene/field.h"

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

Fields::Fields(const Field& field, const Keys& keys) : whole_(field) {
  std::vector<std::string> names;
  for (const Key& key : keys) names.emplace_back(key.name);
  if (!field.is_map()) {
    field.fail(fmt::format("is {}; a mapping with {} is needed here", field.found(), one_of(names)));
    return;
  }
  FirstOfName first(field);
  std::vector<std::string_view> given;
  for (const YamlEntry& entry : field.node().entries) {
    if (!first(entry)) continue;
    const auto key =
        std::find_if(keys.begin(), keys.end(), [&](const Key& k) { return k.name == entry.key; });
    const Field value(field, entry.value, sub_path(field.path(), entry.key));
    if (key == keys.end()) {
      value.fail_at(
          {field.document().file, entry.line, entry.column},
          fmt::format("is an unknown key{}; allowed: {}", did_you_mean(entry.key, names), one_of(names)));
      continue;
    }
    given.push_back(key->name);
    if (value.is_null()) {
      value.fail(fmt::format("is empty: give a value or leave the key out ({})", key->meaning));
      continue;
    }
    found_.emplace_back(key->name, value);
  }
  for (const Key& key : keys) {
    if (key.required && std::find(given.begin(), given.end(), key.name) == given.end()) {
      field.fail(fmt::format("'{}' is missing: {}", key.name, key.meaning));
    }
  }
}

std::optional<Field> Fields::get(std::string_view key) const {
  for (const auto& [name, field] : found_) {
    if (name == key) return field;
  }
  return std::nullopt;
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
