// The loader and the format's table are one: every key of the table is read, at its place, by its range.
#include "scene/format.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <set>

#include "scene_files.h"

namespace boughlight {
namespace {

using Kind = Form::Kind;

// A value that a form takes, as flow YAML. What it means need not fit the rest of the file.
std::string sample(const Form& form);

std::string mapping_with(const Mapping& mapping, const MappingKind* kind, std::string_view key_name,
                         const std::string& value) {
  std::string text;
  std::set<std::string_view> given;
  const auto add = [&](std::string_view key, const std::string& of_key) {
    if (!given.insert(key).second) return;
    text += fmt::format("{}{}: {}", text.empty() ? "" : ", ", key, of_key);
  };
  if (!key_name.empty()) add(key_name, value);
  if (kind) add(mapping.by, std::string(kind->word));
  for (const Key& key : mapping.keys)
    if (key.required) add(key.name, sample(key.forms.front()));
  if (kind) {
    for (const Key& key : kind->keys)
      if (key.required || key.name == kind->given) add(key.name, sample(key.forms.front()));
  }
  const auto& choice = mapping.exactly_one;
  if (std::none_of(choice.begin(), choice.end(), [&](std::string_view one) { return given.contains(one); }))
    for (const Key& key : mapping.keys)
      if (!choice.empty() && key.name == choice.front()) add(key.name, sample(key.forms.front()));
  return "{" + text + "}";
}

std::string number_text(double value, Dimension dimension) {
  const std::string_view unit = base_unit(dimension);
  return fmt::format("{}{}{}", value, unit.empty() ? "" : " ", unit);
}

double some_number(const Range& range) {
  if (std::isfinite(range.min) && std::isfinite(range.max)) return (range.min + range.max) / 2;
  return std::isfinite(range.min) ? range.min + 1 : std::min(range.max, 1.0);
}

std::string listed(const std::vector<std::string>& items) {
  std::string text;
  for (const std::string& item : items) text += (text.empty() ? "" : ", ") + item;
  return "[" + text + "]";
}

std::string sample(const Form& form) {
  switch (form.kind) {
    case Kind::word:
      return std::string(form.words.front());
    case Kind::whole:
      return fmt::format("{}", form.least);
    case Kind::number:
      return number_text(some_number(form.range), form.dimension);
    case Kind::clock_spans:
      return "\"08:00-18:00\"";
    case Kind::clock_time:
      return "\"08:00\"";
    case Kind::tuple: {
      std::vector<std::string> items;
      for (const Form& one : form.of) items.push_back(sample(one));
      return listed(items);
    }
    case Kind::list:
      return listed(std::vector<std::string>(std::max<std::size_t>(form.fewest, 1), sample(form.of.front())));
    case Kind::named:
      return fmt::format("{{one: {}}}", sample(form.of.front()));
    case Kind::mapping: {
      const MappingKind* kind = form.mapping->kinds.empty() ? nullptr : &form.mapping->kinds.front();
      return mapping_with(*form.mapping, kind, "", "");
    }
    default:
      return "some-name";
  }
}

// Where a key stands: how to write a whole file that holds a value there, and its path in messages.
struct Place {
  std::function<std::string(const std::string& value)> file;
  std::string path;
  const Key* key = nullptr;
};

void add_keys(const Mapping& mapping, const std::function<std::string(const std::string&)>& file,
              const std::string& path, std::set<const Mapping*>& seen, std::vector<Place>& places);

void add_forms(const Form& form, const std::function<std::string(const std::string&)>& file,
               const std::string& path, std::set<const Mapping*>& seen, std::vector<Place>& places) {
  if (form.kind == Kind::mapping) add_keys(*form.mapping, file, path, seen, places);
  if (form.kind == Kind::list)
    for (const Form& one : form.of)
      add_forms(
          one, [file](const std::string& value) { return file("[" + value + "]"); }, path + "[0]", seen,
          places);
  if (form.kind == Kind::named)
    for (const Form& one : form.of)
      add_forms(
          one, [file](const std::string& value) { return file("{one: " + value + "}"); }, path + ".one", seen,
          places);
}

void add_keys(const Mapping& mapping, const std::function<std::string(const std::string&)>& file,
              const std::string& path, std::set<const Mapping*>& seen, std::vector<Place>& places) {
  if (!seen.insert(&mapping).second) return;
  const auto add = [&](const MappingKind* kind, const Key& key) {
    const auto with = [&mapping, kind, file, name = key.name](const std::string& value) {
      return file(mapping_with(mapping, kind, name, value));
    };
    const std::string at = path.empty() ? std::string(key.name) : fmt::format("{}.{}", path, key.name);
    places.push_back({with, at, &key});
    for (const Form& form : key.forms) add_forms(form, with, at, seen, places);
  };
  const MappingKind* first = mapping.kinds.empty() ? nullptr : &mapping.kinds.front();
  for (const Key& key : mapping.keys) add(first, key);
  for (const MappingKind& kind : mapping.kinds)
    for (const Key& key : kind.keys) add(&kind, key);
}

std::vector<Place> places_of(const Mapping& top) {
  std::vector<Place> places;
  std::set<const Mapping*> seen;
  add_keys(
      top, [](const std::string& text) { return text + "\n"; }, "", seen, places);
  return places;
}

class Loader {
 public:
  explicit Loader(bool scene) : scene_(scene) {}

  // The mistakes at a path or below it.
  std::vector<std::string> at(const Place& place, const std::string& value) const {
    const std::string text = place.file(value);
    std::vector<std::string> found;
    try {
      if (scene_) {
        load_scene(folder_.write("scene.yaml", text));
      } else {
        folder_.write("lamp.yaml", text);
        load_fixture("lamp.yaml", folder_.path());
      }
    } catch (const InputError& error) {
      for (const Problem& problem : error.problems())
        if (problem.path.starts_with(place.path)) found.push_back(problem.path + ": " + problem.text);
    }
    return found;
  }

 private:
  TempFolder folder_;
  bool scene_;
};

class Format : public testing::TestWithParam<bool> {
 protected:
  Loader loader_{GetParam()};
  std::vector<Place> places_ = places_of(GetParam() ? format::scene : format::fixture);
};

// What no key takes.
const std::string kNonsense = "{zzz: [[[]]]}";

TEST_P(Format, EveryKeyOfTheTableIsRead) {
  EXPECT_GT(places_.size(), GetParam() ? 150u : 30u);
  for (const Place& place : places_) {
    if (place.path == "boughlight" || place.path == "fixture")
      continue;  // of another version nothing else is read
    const auto found = loader_.at(place, kNonsense);
    EXPECT_FALSE(found.empty()) << place.path << " is not read in\n" << place.file(kNonsense);
    for (const std::string& text : found)
      if (text.find("unknown key") != std::string::npos) {
        EXPECT_NE(text.find("zzz"), std::string::npos) << place.path << ": " << text;
      }
  }
}

// A number a little outside of an end, where that is told from the end in six digits.
double beyond(double end, double sign) {
  return end + sign * std::max(std::abs(end) * 1e-3, 1e-9);
}

TEST_P(Format, NumbersAreHeldToTheRangeOfTheTable) {
  int ends = 0;
  for (const Place& place : places_)
    for (const Form& form : place.key->forms) {
      if (form.kind != Kind::number) continue;
      const auto refused = [&](double value) {
        for (const std::string& text : loader_.at(place, number_text(value, form.dimension)))
          if (text.find("is not allowed: it must be " + form.range.describe(form.dimension)) !=
              std::string::npos)
            return true;
        return false;
      };
      if (std::isfinite(form.range.min)) {
        EXPECT_TRUE(refused(beyond(form.range.min, -1))) << place.path << " below " << form.range.min;
        EXPECT_EQ(refused(form.range.min), form.range.above_min) << place.path << " at " << form.range.min;
        ++ends;
      }
      if (std::isfinite(form.range.max)) {
        EXPECT_TRUE(refused(beyond(form.range.max, 1))) << place.path << " above " << form.range.max;
        EXPECT_EQ(refused(form.range.max), form.range.below_max) << place.path << " at " << form.range.max;
        ++ends;
      }
    }
  EXPECT_GT(ends, GetParam() ? 60 : 20);
}

TEST_P(Format, WordsAreThoseOfTheTable) {
  for (const Place& place : places_)
    for (const Form& form : place.key->forms) {
      if (form.kind != Kind::word) continue;
      for (std::string_view word : form.words)
        for (const std::string& text : loader_.at(place, std::string(word))) {
          EXPECT_EQ(text.find(fmt::format("is '{}'", word)), std::string::npos) << place.path << ": " << text;
        }
    }
}

TEST_P(Format, WhatStandsForALeftOutKeyIsAValueThatItTakes) {
  for (const Place& place : places_) {
    const Key& key = *place.key;
    EXPECT_FALSE(key.meaning.empty()) << place.path;
    EXPECT_FALSE(key.forms.empty()) << place.path;
    if (key.required) {
      EXPECT_TRUE(key.standard.empty() && key.left_out.empty()) << place.path;
      continue;
    }
    if (key.standard.empty()) continue;
    for (const std::string& text : loader_.at(place, std::string(key.standard))) {
      // Rules between fields may still speak.
      EXPECT_EQ(text.find("needed here"), std::string::npos) << place.path << ": " << text;
      EXPECT_EQ(text.find("not allowed"), std::string::npos) << place.path << ": " << text;
      EXPECT_EQ(text.find("is allowed"), std::string::npos) << place.path << ": " << text;
    }
  }
}

TEST_P(Format, OptionalKeysSayWhatHoldsWithoutThem) {
  for (const Place& place : places_) {
    const Key& key = *place.key;
    if (key.required || place.path.ends_with(".range")) continue;
    if (place.path.find("output.") != std::string::npos || place.path.find("spectrum.") != std::string::npos)
      continue;
    EXPECT_FALSE(key.standard.empty() && key.left_out.empty()) << place.path;
  }
}

INSTANTIATE_TEST_SUITE_P(Files, Format, testing::Bool(), [](const auto& of) {
  return of.param ? std::string("Scene") : std::string("Fixture");
});

TEST(FormatOfMappings, ExactlyOneOfTheseKeysIsTaken) {
  const TempFolder folder;
  const auto lamp = [&](const std::string& place) {
    return folder.mistakes(kCabinet + "lamps: [{name: a, fixture: tube-uv-55" + place + "}]\n");
  };
  EXPECT_EQ(format::lamp.exactly_one, (std::vector<std::string_view>{"at", "over"}));
  EXPECT_EQ(lamp(", at: [45, 20, 120]"), std::vector<std::string>{});
  EXPECT_EQ(lamp(", over: {x: 45, y: 20, gap: 2}"), std::vector<std::string>{});
  EXPECT_EQ(lamp("").size(), 1u);
  EXPECT_EQ(lamp(", at: [45, 20, 120], over: {x: 45, y: 20, gap: 2}").size(), 1u);
}

TEST(FormatOfMappings, NamesOfMappingsAreTheirOwn) {
  std::set<std::string> names;
  for (const Mapping* mapping : {&format::scene, &format::box, &format::faces, &format::lamp, &format::room,
                                 &format::fixture, &format::part, &format::output, &format::spectrum,
                                 &format::own_material, &format::library_material, &format::animal})
    EXPECT_TRUE(names.insert(mapping->name).second) << mapping->name;
}

}  // namespace
}  // namespace boughlight
