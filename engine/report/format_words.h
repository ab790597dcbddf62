// What the format's table says of a field, in words for people: descriptions in the schema, cells of the
// reference pages.
#pragma once

#include <string>
#include <vector>

#include "scene/format.h"

namespace boughlight {

// "a length from 2 mm to 1 m", "one of tube, disc"; mappings by `link` of their name.
std::string form_words(const Form& form, std::string (*link)(const Mapping& mapping));
// All forms of a key, joined by "; or ".
std::string forms_words(const Forms& forms, std::string (*link)(const Mapping& mapping));
// What holds where a key is left out: "100 %", "none"; "" where it must be there.
std::string left_out_words(const Key& key);

// The mapping and all that its fields lead to, each once, in the order met.
std::vector<const Mapping*> mappings_below(const Mapping& top);

}  // namespace boughlight
