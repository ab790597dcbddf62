// Where the library of fixtures lies.
#pragma once

#include <filesystem>

namespace boughlight {

// The first that exists of: $BOUGHLIGHT_FIXTURES; ../share/boughlight/fixtures beside the running program;
// what offer_library_path() was told; the source tree this was built from. Found once, at the first load.
// Throws InputError when there is none.
const std::filesystem::path& library_path();

// A folder to look in as well, for programs that use an installed Boughlight as a library and lie elsewhere
// themselves. Before the first load. Returns true, so that it can be called where variables are made.
bool offer_library_path(const std::filesystem::path& folder);

}  // namespace boughlight
