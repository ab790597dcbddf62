// Named ranges of the library: published or common figures that a keeper may take as limits instead of
// writing the numbers, each with how well it is known and what other sources say. Never one species' need.
#pragma once

#include <string>
#include <vector>

#include "scene/model.h"

namespace boughlight {

// Another source that gives other figures for the same range.
struct RangeDissent {
  Limits limits;
  std::string text;
  std::string source;
};

struct NamedRange {
  std::string name;   // as scenes name it: the file's name, a dash, the range's key
  std::string title;  // what its file is about
  Quantity quantity = Quantity::uvi;
  Limits limits;        // in the quantity's own unit, as in Want
  std::string meaning;  // what the figures are figures of
  std::string status;   // how they came to be known here
  std::vector<RangeDissent> dissents;
  std::string source;
};

}  // namespace boughlight
