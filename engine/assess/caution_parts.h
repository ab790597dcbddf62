// The cautions by subject, each added where the survey gives rise to it. Private to cautions_*.cpp.
#pragma once

#include <string>
#include <vector>

#include "assess/results.h"

namespace boughlight {

using Cautions = std::vector<Caution>;

void add_full_power(const Survey& survey, Cautions& cautions);
// A back that may get too warm, heat before the air has warmed.
void add_warmth(const Survey& survey, Cautions& cautions);
// Short waves, ultraviolet that nobody sees, ultraviolet without bright light.
void add_ultraviolet(const Survey& survey, Cautions& cautions);
// A short night, lamps in the wrong order, a main light that is not white, room light without hours.
void add_timetable(const Survey& survey, Cautions& cautions);
// Too much light or infrared at a crown's top.
void add_leaves(const Survey& survey, Cautions& cautions);
void add_people(const Survey& survey, Cautions& cautions);
// What a keeper must be told whatever the figures say.
void add_standing(const Survey& survey, Cautions& cautions);

// --- shared
// ------------------------------------------------------------------------------------------------

// Whether a lamp gives ultraviolet that eyes or skin would notice: UVI 0.1 on the axis at 10 cm from a point.
bool gives_ultraviolet(const Lamp& lamp);
// "UV index 3.1", "151 W/m2"
std::string with_unit(Quantity quantity, double value);
// The most that a source gives any perch.
double most_at_perches(const Survey& survey, const std::string& source, Quantity quantity);
// "'a'", "'a' and 'b'", "'a', 'b' and 2 more"
std::string names_of(const std::vector<std::string>& names);

}  // namespace boughlight
