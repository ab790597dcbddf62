#include "report/staging.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <system_error>

namespace boughlight {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const fs::path& file, const std::string& reason) {
  throw OutputError(fmt::format("{}: {}", file.string(), reason));
}

}  // namespace

Staging::~Staging() {
  std::error_code ignored;
  for (const auto& [temporary, file] : staged_) fs::remove(temporary, ignored);
  if (!in_place_) {
    // Only folders that this run made, and only while they are empty.
    for (auto folder = made_.rbegin(); folder != made_.rend(); ++folder) ::rmdir(folder->c_str());
  }
}

void Staging::make_folder(const fs::path& folder) {
  std::error_code error;
  if (fs::is_directory(folder, error)) return;
  if (fs::exists(fs::symlink_status(folder, error))) fail(folder, "is in the way: a folder is needed here");
  const fs::path parent = folder.parent_path();
  if (!parent.empty() && parent != folder) make_folder(parent);
  if (!fs::create_directory(folder, error)) {
    // Somebody else may have made it in the meantime.
    if (!error || fs::is_directory(folder, error)) return;
    fail(folder, "cannot make this folder: " + error.message());
  }
  made_.push_back(folder);
}

void Staging::write(const ResultFile& result) {
  std::error_code error;
  if (fs::is_directory(result.file, error)) fail(result.file, "is a folder; a file is to be written here");
  int descriptor = -1;
  fs::path temporary;
  for (int attempt = 0; descriptor < 0; ++attempt) {
    temporary = result.file.parent_path() /
                fmt::format(".{}.{}-{}.part", result.file.filename().string(), ::getpid(), attempt);
    descriptor = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (descriptor < 0 && (errno != EEXIST || attempt == 100)) {
      fail(result.file, std::string("cannot write: ") + std::strerror(errno));
    }
  }
  staged_.emplace_back(temporary, result.file);
  int reason = 0;
  for (std::size_t done = 0; done < result.bytes.size() && !reason;) {
    const ssize_t wrote = ::write(descriptor, result.bytes.data() + done, result.bytes.size() - done);
    if (wrote < 0 && errno != EINTR) reason = errno;
    if (wrote > 0) done += static_cast<std::size_t>(wrote);
  }
  if (::close(descriptor) != 0 && !reason) reason = errno;
  if (reason) fail(result.file, std::string("cannot write: ") + std::strerror(reason));
}

void Staging::put_in_place() {
  while (!staged_.empty()) {
    const auto& [temporary, file] = staged_.back();
    std::error_code error;
    fs::rename(temporary, file, error);
    if (error) fail(file, "cannot write: " + error.message());
    in_place_ = true;
    staged_.pop_back();
  }
}

void write_files(const std::vector<ResultFile>& results) {
  Staging staging;
  for (const ResultFile& result : results)
    if (result.file.has_parent_path()) staging.make_folder(result.file.parent_path());
  for (const ResultFile& result : results) staging.write(result);
  staging.put_in_place();
}

}  // namespace boughlight
