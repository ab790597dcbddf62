// Files as a user names them, read without trust.
#pragma once

#include <filesystem>
#include <string>

namespace boughlight {

// A regular readable file of at most `most` bytes, as it is; pipes and devices are refused before they are
// opened. Throws InputError naming `file` as the user knows it.
std::string read_bytes(const std::filesystem::path& file, std::size_t most);

}  // namespace boughlight
