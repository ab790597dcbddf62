// Where the library of fixtures lies.
#pragma once

#include <filesystem>

namespace boughlight {

// The first that exists of: $BOUGHLIGHT_FIXTURES; ../share/boughlight/fixtures beside the running program; the
// source tree this was built from. Throws InputError when there is none.
const std::filesystem::path& library_path();

}  // namespace boughlight
