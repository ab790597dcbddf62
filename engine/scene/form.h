// What a value in a file of ours may be, and what a mapping may hold: the words in which format.h says what
// the format knows. The loader checks against it; the schema for editors and the reference pages are written
// from it.
#pragma once

#include <cstdint>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "units/units.h"

namespace boughlight {

// What a number may be, in the base unit of its dimension.
struct Range {
  double min = -std::numeric_limits<double>::infinity();
  double max = std::numeric_limits<double>::infinity();
  bool above_min = false;  // min itself is not allowed
  bool below_max = false;  // max itself is not allowed

  static Range at_least(double min) { return {min}; }
  static Range between(double min, double max) { return {min, max}; }
  static Range above(double min, double max) { return {min, max, true}; }

  bool bounded() const { return *this != Range(); }
  bool holds(double value) const;
  // "from 2 mm to 1 m", "more than 0 and at most 100 m", "0 or more"
  std::string describe(Dimension dimension) const;
  bool operator==(const Range&) const = default;
};

// No length in a scene is larger.
inline constexpr double kLongest = 100;  // m

struct Mapping;

// One form that a value may take. A value may have several, of which it takes one.
struct Form {
  enum class Kind {
    text,         // any text, over several lines too
    name,         // text on one line, of at most `most` bytes
    word,         // one of `words`
    whole,        // a whole number from 0 to `greatest`, or from `least`
    number,       // a number of a dimension
    clock_spans,  // "08:00-12:00, 14:00-17:00"
    clock_time,   // "09:30"
    file,         // the path of a file, from the folder of the file that names it
    material,     // the name of a material of one of the kinds in `words`
    lamp,         // a lamp of the library, or a path
    range_name,   // a named range of the library
    tuple,        // a list with one form for each place
    list,         // a list of `fewest` items or more, each of one of the forms
    named,        // a mapping of names to values, each of one of the forms
    mapping
  };
  Kind kind = Kind::text;
  std::string_view what = {};  // what is wanted, for people: "a place [x, y, z]"
  Dimension dimension = Dimension::number;
  std::string_view bare_unit = {};  // of a number without a unit; a bare length takes the file's length_unit
  Range range = {};
  std::uint64_t least = 0, greatest = 0;
  std::size_t most = 0, fewest = 0;
  std::vector<std::string_view> words = {};
  std::vector<Form> of = {};  // of a tuple, list or mapping of names
  const Mapping* mapping = nullptr;
};
using Forms = std::vector<Form>;

Form text_form(std::string_view what);
Form name_form(std::string_view what = "a name", std::size_t most = 100);
Form word_form(std::vector<std::string_view> words);
Form whole_form(std::uint64_t least, std::uint64_t greatest);
Form number_form(Dimension dimension, const Range& range, std::string_view bare_unit = {});
Form length_form(const Range& range);
Form ratio_form(const Range& range = Range::between(0, 1));
// [x, y, z], lengths within 100 m of the origin.
Form place_form();
// Three lengths.
Form sizes_form(const Range& range);
// [x, y, z] of plain numbers, not all 0.
Form direction_form();
Form clock_spans_form();
Form clock_time_form();
Form file_form(std::string_view what);
Form material_form(std::vector<std::string_view> kinds);
Form tuple_form(std::string_view what, Forms of);
Form list_form(std::string_view what, Forms of, std::size_t fewest = 0);
Form named_form(std::string_view what, Forms of);
Form mapping_form(const Mapping& mapping);

// One key of a mapping.
struct Key {
  std::string_view name;
  bool required = false;
  std::string_view meaning = {};  // for people, also where a required one is missing
  Forms forms = {};
  std::string_view standard = {};  // the value that holds where the key is left out, as YAML
  std::string_view left_out = {};  // what holds then, in words, where it is no such value
  std::string_view more = {};      // further sentences, for the reference pages

  // Its form of a kind. Throws std::logic_error where it has none.
  const Form& form(Form::Kind kind) const;
};
using Keys = std::vector<Key>;

// Further keys of a mapping whose `by` is one word.
struct MappingKind {
  std::string_view word;
  Keys keys = {};
  // Where set, this kind is meant only if the key stands there; kinds of one word are tried in their order.
  std::string_view given = {};
  // Keys that cannot stand beside those, and why.
  std::vector<std::string_view> barred = {};
  std::string_view why_barred = {};
};

struct Mapping {
  std::string name;          // short, for headings and links: "lamp", "limits-uvi"
  std::string_view meaning;  // one line
  Keys keys = {};            // whatever the kind
  std::string_view by = {};  // the key whose word says which kind it is
  std::vector<MappingKind> kinds = {};
  std::vector<std::string_view> exactly_one = {};  // of these keys
  bool not_empty = false;
  // Keys of which the loader requires some by what else the file holds.
  bool some_required = false;

  // The kind of that word with those keys there; null where there is none.
  const MappingKind* kind(std::string_view word, const std::vector<std::string_view>& given) const;
  // The keys of a mapping of that kind; of all kinds together where it is null, none twice.
  std::vector<const Key*> keys_of(const MappingKind* kind) const;
};

}  // namespace boughlight
