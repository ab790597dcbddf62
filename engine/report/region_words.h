// How plans tell where all wants hold, what bounds it, and why there is nothing. Private to this room.
#pragma once

#include <array>
#include <functional>
#include <string>

#include "assess/results.h"
#include "plan/figure_field.h"
#include "report/scale.h"

namespace boughlight {

struct RegionWords {
  const Scene& scene;
  const FigureField& field;
  const Region& region;
  std::string choice;  // what one is called: "place"
  // Where each axis leads, down and up: "the left", "the right".
  std::array<std::array<std::string, 2>, 3> sides;
  std::function<std::string(std::size_t choice)> describe;
};

// Met where there is a place at which every want holds, unsure where that is too close to call; and no better
// than the wants that the lamp does not change, which are the same everywhere.
WholeVerdict region_verdict(const Region& region, const FigureField& field);

// "6.3 cm, then it fails: sun perch: UV index at most 3.2"
std::string slack_text(const Scene& scene, const Asks& asks, const LengthUnit& unit, const Slack& slack);

// Sections with headings of their own; nothing where they would be empty.
void put_bindings(std::string& out, const RegionWords& words);
void put_conflicts(std::string& out, const RegionWords& words);
void put_openings(std::string& out, const RegionWords& words);
void put_unchanged(std::string& out, const RegionWords& words, const std::vector<char>& changed);

}  // namespace boughlight
