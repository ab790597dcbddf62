#include "units/read_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fstream>

#include "units/problem.h"
#include "units/sought_files.h"

namespace boughlight {
namespace {

[[noreturn]] void fail(const std::string& file, std::string text) {
  throw InputError({{{file, 0, 0}, "", std::move(text)}});
}

}  // namespace

std::string read_bytes(const std::filesystem::path& file, std::size_t most) {
  namespace fs = std::filesystem;
  const std::string name = file.string();
  SoughtFiles::note(file);
  std::error_code error;
  const fs::file_status status = fs::status(file, error);
  if (status.type() == fs::file_type::not_found) fail(name, "there is no such file");
  if (error) fail(name, fmt::format("cannot be read: {}", error.message()));
  if (status.type() == fs::file_type::directory) fail(name, "is a folder, not a file");
  if (status.type() != fs::file_type::regular) fail(name, "is not a regular file");
  std::ifstream stream(file, std::ios::binary);
  if (!stream) fail(name, fmt::format("cannot be read: {}", std::strerror(errno)));

  // In pieces: the size of a file need not be what the system says it is.
  constexpr std::size_t kLeast = std::size_t{1} << 14, kGreatest = std::size_t{1} << 20;
  std::string text;
  while (stream && text.size() <= most) {
    const std::size_t before = text.size();
    text.resize(before + std::min(std::clamp(before, kLeast, kGreatest), most + 1 - before));
    stream.read(text.data() + before, static_cast<std::streamsize>(text.size() - before));
    text.resize(before + static_cast<std::size_t>(stream.gcount()));
  }
  if (stream.bad()) fail(name, "cannot be read to its end");
  if (text.size() > most) {
    fail(name, fmt::format("is larger than {} MiB, the most that is read", most >> 20));
  }
  return text;
}

}  // namespace boughlight
