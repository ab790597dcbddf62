#include "transport/light_records.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <sys/statvfs.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>

namespace boughlight {
namespace {

namespace fs = std::filesystem;

constexpr std::array<char, 16> kTitle = {'b', 'o', 'u', 'g', 'h', 'l', 'i', 'g',
                                         'h', 't', ' ', 'k', 'e', 'p', 't', '\n'};

bool read_all(int descriptor, void* into, std::size_t size, std::int64_t at) {
  auto* to = static_cast<char*>(into);
  while (size > 0) {
    const ssize_t got = ::pread(descriptor, to, size, at);
    if (got < 0 && errno == EINTR) continue;
    if (got <= 0) return false;
    to += got, at += got, size -= static_cast<std::size_t>(got);
  }
  return true;
}

bool write_all(int descriptor, const void* from, std::size_t size) {
  const auto* bytes = static_cast<const char*>(from);
  while (size > 0) {
    const ssize_t wrote = ::write(descriptor, bytes, size);
    if (wrote < 0 && errno == EINTR) continue;
    if (wrote <= 0) return false;
    bytes += wrote, size -= static_cast<std::size_t>(wrote);
  }
  return true;
}

LightKey hash_of(const LightKey& key, const void* bytes, std::size_t size) {
  const LightKey content = key_of(bytes, size);
  CanonicalBytes all;
  all.add(key.high, key.low, size, content.high, content.low);
  return key_of(all);
}

}  // namespace

bool is_key_name(const std::string& name) {
  return name.size() == 32 && name.find_first_not_of("0123456789abcdef") == std::string::npos;
}

RecordFile::RecordFile(const fs::path& file)
    : descriptor_(::open(file.c_str(), O_RDONLY | O_NOFOLLOW | O_CLOEXEC | O_NONBLOCK)) {
  struct stat about {};
  std::array<char, kTitle.size()> title{};
  if (descriptor_ < 0 || ::fstat(descriptor_, &about) != 0 || !S_ISREG(about.st_mode) ||
      !read_all(descriptor_, title.data(), title.size(), 0) || title != kTitle)
    return;
  const auto size = static_cast<std::uint64_t>(about.st_size);
  std::uint64_t at = title.size();
  Record record;
  while (read_all(descriptor_, &record.head, sizeof record.head, static_cast<std::int64_t>(at))) {
    at += sizeof record.head;
    if (record.head.size > size - at) return;
    record.at = static_cast<std::int64_t>(at);
    records_.push_back(record);
    at += record.head.size;
  }
  whole_ = at == size;
}

RecordFile::~RecordFile() {
  if (descriptor_ >= 0) ::close(descriptor_);
}

bool RecordFile::read(const Record& record, const std::function<void*(std::size_t)>& room) const {
  void* into = room(record.head.size);
  return into && read_all(descriptor_, into, record.head.size, record.at) &&
         hash_of(record.head.key, into, record.head.size) == record.head.hash;
}

void RecordFile::touch() const {
  ::futimens(descriptor_, nullptr);
}

NewRecords::NewRecords(fs::path folder, std::uintmax_t most_bytes, std::uintmax_t spare)
    : folder_(std::move(folder)), most_bytes_(most_bytes), spare_(spare) {}

NewRecords::~NewRecords() {
  fail();
}

bool NewRecords::start() {
  std::error_code error;
  fs::create_directories(folder_, error);
  // They get their name by this path.
  if (::access("/proc/self/fd", F_OK) == 0)
    descriptor_ = ::open(folder_.c_str(), O_WRONLY | O_TMPFILE | O_CLOEXEC, 0600);
  if (descriptor_ < 0) {
    std::string name = (folder_ / ".XXXXXX.part").string();
    constexpr int kSuffix = 5;
    descriptor_ = ::mkostemps(name.data(), kSuffix, O_CLOEXEC);
    if (descriptor_ >= 0) hidden_ = name;
  }
  return descriptor_ >= 0 && write_all(descriptor_, kTitle.data(), kTitle.size());
}

bool NewRecords::has_room(std::uintmax_t bytes) const {
  struct statvfs disk {};
  return written_ + bytes <= most_bytes_ && ::fstatvfs(descriptor_, &disk) == 0 &&
         static_cast<std::uintmax_t>(disk.f_bavail) * disk.f_frsize >= bytes + spare_;
}

void NewRecords::fail() {
  failed_ = true;
  if (descriptor_ < 0) return;
  ::close(descriptor_);
  descriptor_ = -1;
  std::error_code error;
  if (!hidden_.empty()) fs::remove(hidden_, error);
}

void NewRecords::add(const LightKey& key, const void* bytes, std::size_t size) {
  if (failed_) return;
  if (descriptor_ < 0 && !start()) return fail();
  // What does not fit is left out; the rest may be of use.
  if (!has_room(sizeof(RecordHead) + size)) return;
  const RecordHead head{key, size, hash_of(key, bytes, size)};
  if (!write_all(descriptor_, &head, sizeof head) || !write_all(descriptor_, bytes, size)) return fail();
  written_ += sizeof head + size;
  keys_.push_back(key);
}

bool NewRecords::finish() {
  if (failed_ || keys_.empty()) return false;
  std::sort(keys_.begin(), keys_.end());
  CanonicalBytes all;
  for (const LightKey& key : keys_) all.add(key.high, key.low);
  const fs::path named = folder_ / key_of(all).hex();
  if (hidden_.empty())
    return ::linkat(AT_FDCWD, fmt::format("/proc/self/fd/{}", descriptor_).c_str(), AT_FDCWD, named.c_str(),
                    AT_SYMLINK_FOLLOW) == 0;
  const bool done = ::rename(hidden_.c_str(), named.c_str()) == 0;
  if (done) hidden_.clear();
  return done;
}

}  // namespace boughlight
