#include "report/staging.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <signal.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cstring>
#include <fstream>
#include <regex>
#include <system_error>

namespace boughlight {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kPrefix = ".boughlight-", kSuffix = ".part";

[[noreturn]] void fail(const fs::path& file, const std::string& reason) {
  throw OutputError(fmt::format("{}: {}", file.string(), reason));
}

// Tells apart the machines, and the containers on them, that may write into the same folder: process numbers
// mean something within one only.
std::string host() {
  std::string boot;
  std::ifstream("/proc/sys/kernel/random/boot_id") >> boot;
  std::error_code error;
  const fs::path processes = fs::read_symlink("/proc/self/ns/pid", error);
  return fmt::format("{:x}", std::hash<std::string>()(boot + processes.string()));
}

std::string hidden_name(const fs::path& base, std::size_t number) {
  static const std::string of_this = fmt::format("{}{}-{}", kPrefix, host(), ::getpid());
  return (base / fmt::format("{}-{}{}", of_this, number, kSuffix)).string();
}

// Whether a file was staged by a process that is no more; of another host's it is only known that nothing
// takes a day to be written.
bool is_left_behind(const fs::directory_entry& entry) {
  static const std::regex pattern(R"(\.boughlight-([0-9a-f]+)-([0-9]{1,9})-[0-9]+\.part)");
  const std::string name = entry.path().filename().string();
  std::smatch parts;
  std::error_code error;
  if (!std::regex_match(name, parts, pattern) || !entry.is_regular_file(error)) return false;
  if (parts[1] == host()) return ::kill(std::stoi(parts[2]), 0) != 0 && errno == ESRCH;
  const auto age = fs::file_time_type::clock::now() - entry.last_write_time(error);
  return !error && age > std::chrono::hours(24);
}

void clear_left_behind(const fs::path& folder) {
  std::error_code error;
  std::vector<fs::path> found;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error))
    if (is_left_behind(*entry)) found.push_back(entry->path());
  for (const fs::path& file : found) fs::remove(file, error);
}

int open_unnamed(const fs::path& folder) {
  // They get their names by this path.
  static const bool has_paths = ::access("/proc/self/fd", F_OK) == 0;
  return has_paths ? ::open(folder.c_str(), O_WRONLY | O_TMPFILE | O_CLOEXEC, 0666) : -1;
}

}  // namespace

Staging::~Staging() {
  for (const int descriptor : descriptors_) ::close(descriptor);
  for (const std::string& name : hidden_) ::unlink(name.c_str());
}

void Staging::make_folder(const fs::path& folder) {
  std::error_code error;
  if (folder.empty() || fs::is_directory(folder, error)) return;
  if (std::find(folders_.begin(), folders_.end(), folder) != folders_.end()) return;
  if (fs::exists(fs::symlink_status(folder, error))) fail(folder, "is in the way: a folder is needed here");
  // "a/" is the folder "a".
  if (!folder.has_filename()) return make_folder(folder.parent_path());
  make_folder(folder.parent_path());
  folders_.push_back(folder);
}

// Files are staged where they can be renamed from: in the nearest folder that is there.
fs::path Staging::base_for(const fs::path& folder) {
  std::error_code error;
  fs::path base = folder;
  while (!base.empty() && !fs::is_directory(base, error)) base = base.parent_path();
  if (base.empty()) base = ".";
  if (std::find(bases_.begin(), bases_.end(), base) == bases_.end()) {
    bases_.push_back(base);
    clear_left_behind(base);
  }
  return base;
}

void Staging::write_bytes(int descriptor, const ResultFile& result) const {
  int reason = 0;
  for (std::size_t done = 0; done < result.bytes.size() && !reason;) {
    const ssize_t wrote = ::write(descriptor, result.bytes.data() + done, result.bytes.size() - done);
    if (wrote < 0 && errno != EINTR) reason = errno;
    if (wrote > 0) done += static_cast<std::size_t>(wrote);
  }
  if (reason) fail(result.file, std::string("cannot write: ") + std::strerror(reason));
}

void Staging::spare(const std::vector<fs::path>& files) {
  spared_.insert(spared_.end(), files.begin(), files.end());
}

void Staging::write(const ResultFile& result) {
  std::error_code error;
  for (const fs::path& spared : spared_)
    if (fs::equivalent(result.file, spared, error))
      fail(result.file,
           "would be written over, and the scene is read with it: choose another folder with -o");
  if (fs::is_directory(result.file, error)) fail(result.file, "is a folder; a file is to be written here");
  const fs::path folder = result.file.parent_path();
  make_folder(folder);
  const fs::path base = base_for(folder);
  const std::string hidden = hidden_name(base, files_.size());
  const int unnamed = unnamed_ == Unnamed::never ? -1 : open_unnamed(base);
  if (unnamed >= 0) {
    descriptors_.push_back(unnamed);
    write_bytes(unnamed, result);
    files_.push_back({CommitStep::Kind::name, fmt::format("/proc/self/fd/{}", unnamed), hidden});
  } else {
    const int named = ::open(hidden.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_NOFOLLOW | O_CLOEXEC, 0666);
    if (named < 0) {
      const std::string reason = std::strerror(errno);
      if (!fs::is_directory(folder.empty() ? "." : folder, error))
        fail(folders_.front(), "cannot make this folder: " + reason);
      fail(result.file, "cannot write: " + reason);
    }
    hidden_.push_back(hidden);
    descriptors_.push_back(named);
    write_bytes(named, result);
    descriptors_.pop_back();
    if (::close(named) != 0) fail(result.file, std::string("cannot write: ") + std::strerror(errno));
  }
  files_.push_back({CommitStep::Kind::swap, hidden, result.file.string()});
}

void Staging::keep(const fs::path& file, const fs::path& kept) {
  keeps_.push_back({CommitStep::Kind::keep, file.string(), kept.string()});
}

void Staging::remove(const fs::path& file) {
  removals_.push_back({CommitStep::Kind::remove, "", file.string()});
}

void Staging::put_in_place() {
  std::vector<CommitStep> steps;
  for (const fs::path& folder : folders_)
    steps.push_back({CommitStep::Kind::make_folder, "", folder.string()});
  steps.insert(steps.end(), keeps_.begin(), keeps_.end());
  steps.insert(steps.end(), files_.rbegin(), files_.rend());
  steps.insert(steps.end(), removals_.begin(), removals_.end());
  std::stable_sort(steps.begin(), steps.end(),
                   [](const CommitStep& a, const CommitStep& b) { return a.kind < b.kind; });
  const CommitFailure failure = commit(steps);
  if (failure.reason == 0) return;
  const CommitStep& step = steps[static_cast<std::size_t>(failure.step)];
  const char* reason = std::strerror(failure.reason);
  switch (step.kind) {
    case CommitStep::Kind::make_folder:
      fail(step.to, fmt::format("cannot make this folder: {}", reason));
    case CommitStep::Kind::keep:
      fail(step.from, fmt::format("holds readings and cannot be kept as {}: {}", step.to, reason));
    default:
      fail(step.to, fmt::format("cannot write: {}", reason));
  }
}

void write_files(const std::vector<ResultFile>& results) {
  Staging staging;
  for (const ResultFile& result : results) staging.make_folder(result.file.parent_path());
  for (const ResultFile& result : results) staging.write(result);
  staging.put_in_place();
}

}  // namespace boughlight
