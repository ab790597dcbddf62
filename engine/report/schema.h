// JSON Schemas of our files, for editors: written from the table that the loader checks against.
#pragma once

#include <string>

#include "scene/format.h"

namespace boughlight {

enum class SchemaOf { scene, fixture, material };

// JSON Schema of draft 7, which the language servers for YAML take. It accepts what the loader accepts, as
// far as that can be said of a field by itself: rules between fields, bounds of lengths without a unit and
// whether a file is there are the loader's. Names of the library are offered, others are allowed. Throws
// InputError where the library cannot be read.
std::string schema_json(SchemaOf what);

}  // namespace boughlight
