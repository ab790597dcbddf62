// Finding the library's named ranges. Private to this room.
#pragma once

#include "scene/field.h"
#include "scene/range.h"

namespace boughlight {

// Every range of the library, files by name, ranges in the order of their file. Mistakes are added to
// `problems`.
std::vector<NamedRange> read_library_ranges(Problems& problems);

// The range that a field names; nothing when there is none of that name or it is one of another quantity,
// which has then been reported.
std::optional<NamedRange> find_range(const Field& field, Quantity quantity);

// One sentence for people: its limits and what other sources say.
std::string range_note(const NamedRange& range);

}  // namespace boughlight
