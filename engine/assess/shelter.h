// Shade along branches and boards, the way to it, and ultraviolet without heat.
#pragma once

#include "assess/perched.h"

namespace boughlight {

// The perch that asks for most ultraviolet: the greatest lower limit on UVI among the perches' wants, or,
// where none has one, the greatest UVI read. Its position among the perches; nothing where there is none.
std::optional<std::size_t> sun_perch_of(const Survey& survey);

// Looks at the perched light. Nothing without a sun perch with a UVI of at least 0.05 (a meter's last
// digits), or without places to sit on.
std::optional<Shelter> find_shelter(Setting& setting, PerchedLight& perched, const Survey& survey);

}  // namespace boughlight
