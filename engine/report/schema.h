// JSON Schemas: of our files, for editors, written from the table that the loader checks against; and of
// results, for the programs that read them.
#pragma once

#include <string>
#include <string_view>

#include "scene/format.h"

namespace boughlight {

enum class SchemaOf { scene, fixture, material };

// JSON Schema of draft 7, which the language servers for YAML take. It accepts what the loader accepts, as
// far as that can be said of a field by itself: rules between fields, bounds of lengths without a unit and
// whether a file is there are the loader's. Names of the library are offered, others are allowed. Throws
// InputError where the library cannot be read.
std::string schema_json(SchemaOf what);

// A schema of results (draft 2020-12) from the text of its file, engine/report/*.schema.json, with every
// quantity: its name where a name may stand ($defs/quantity), its figure with meaning and unit among the
// figures ($defs/figures_by_quantity), where the file has them.
std::string results_schema_json(std::string_view text);

}  // namespace boughlight
