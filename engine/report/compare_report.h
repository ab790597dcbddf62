// Two layouts side by side, for people, for programs and as pictures.
#pragma once

#include <string>
#include <vector>

#include "plan/compare.h"
#include "report/map.h"

namespace boughlight {

// What is told: the comparison and the two surveys that it was made from.
struct Compared {
  const Survey& first;
  const Survey& second;
  const Comparison& comparison;
};

// At most 80 columns, changes of verdict first.
std::string compare_text(const Compared& compared);
// Names and shape are a contract, as those of readings.json; no times, no folders.
std::string compare_json(const Compared& compared);

// How the layouts are called: their files' names, or the paths as given where those are alike.
std::pair<std::string, std::string> layout_names(const Survey& first, const Survey& second);

// The second layout's UVI, PPFD and irradiance less the first's, on every slice of slices_of(second), where
// both have free volume. The second's things are drawn. A plus or minus stands where a change is clear of the
// cells' errors, which are taken as independent. Names start with "change-".
std::vector<MapFile> difference_maps(const Compared& compared);
bool is_difference_map_name(const std::string& name);

// One of them; every map of a quantity has the same scale, `difference_scale()`.
ColourScale difference_scale(const Survey& first, const Survey& second, Quantity quantity);
MapPicture draw_difference(const Survey& first, const Survey& second, Quantity quantity, const Slice& slice,
                           const ColourScale& scale);

}  // namespace boughlight
