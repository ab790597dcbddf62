#include "transport/light_files.h"

#include <signal.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <cstdlib>
#include <deque>
#include <mutex>
#include <set>
#include <thread>

#include "transport/light_records.h"
#include "transport/program_key.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

constexpr std::uintmax_t kSpare = 256'000'000;  // bytes that are always left free on the disk
constexpr std::size_t kMostFiles = 64;          // of one field

struct KeptFile {
  fs::path path;
  std::uintmax_t size = 0;
  fs::file_time_type used;
};

// The files of records of a field's folder, least recently used first. What an interrupted run may have left
// there is removed after a day.
std::vector<KeptFile> files_in(const fs::path& folder) {
  std::vector<KeptFile> files;
  std::error_code error;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error)) {
    std::error_code unknown;
    if (!entry->is_regular_file(unknown)) continue;
    const KeptFile file{entry->path(), entry->file_size(unknown), entry->last_write_time(unknown)};
    if (unknown) continue;
    if (is_key_name(file.path.filename().string())) {
      files.push_back(file);
    } else if (file.path.extension() == ".part" &&
               fs::file_time_type::clock::now() - file.used > std::chrono::hours(24)) {
      fs::remove(file.path, unknown);
    }
  }
  std::sort(files.begin(), files.end(), [](const KeptFile& a, const KeptFile& b) { return a.used < b.used; });
  return files;
}

void remove_files(const std::vector<KeptFile>& files, std::size_t count) {
  std::error_code error;
  for (std::size_t i = 0; i < count; ++i) {
    fs::remove(files[i].path, error);
    fs::remove(files[i].path.parent_path(), error);  // where it is empty now
  }
}

void keep_within(const fs::path& root, std::uintmax_t most_bytes) {
  std::vector<KeptFile> all;
  std::error_code error;
  for (fs::directory_iterator entry(root, error), end; !error && entry != end; entry.increment(error)) {
    if (!is_key_name(entry->path().filename().string())) continue;
    std::vector<KeptFile> files = files_in(entry->path());
    if (files.size() > kMostFiles) {
      const std::size_t old = files.size() - kMostFiles;
      remove_files(files, old);
      files.erase(files.begin(), files.begin() + static_cast<std::ptrdiff_t>(old));
    }
    all.insert(all.end(), files.begin(), files.end());
  }
  std::sort(all.begin(), all.end(), [](const KeptFile& a, const KeptFile& b) { return a.used < b.used; });
  std::uintmax_t bytes = 0;
  for (const KeptFile& file : all) bytes += file.size;
  std::size_t count = 0;
  while (count < all.size() && bytes > most_bytes) bytes -= all[count++].size;
  remove_files(all, count);
}

class FileStore final : public LightStore {
 public:
  FileStore(fs::path root, fs::path folder, std::uintmax_t most_bytes)
      : root_(std::move(root)), folder_(std::move(folder)), most_bytes_(most_bytes) {
    for (const KeptFile& file : files_in(folder_)) {
      files_.push_back(std::make_unique<Opened>(file.path));
      for (const RecordFile::Record& record : files_.back()->file.records())
        index_.try_emplace(record.head.key, Place{files_.back().get(), record});
    }
  }
  ~FileStore() override {
    {
      const std::lock_guard lock(guard_);
      ended_ = true;
    }
    more_.notify_one();
    if (writer_.joinable()) {
      writer_.join();
    } else {
      touch_used();
    }
  }

  bool read(const LightKey& key, const std::function<void*(std::size_t)>& room) override {
    const auto found = index_.find(key);
    if (found == index_.end()) return false;
    if (!found->second.in->file.read(found->second.record, room)) {
      found->second.in->damaged = true;
      return false;
    }
    found->second.in->used = true;
    return true;
  }

  void write(const LightKey& key, const void* bytes, std::size_t size,
             std::shared_ptr<const void> owner) override {
    const std::lock_guard lock(guard_);
    try {
      if (given_up_ || !taken_.insert(key).second) return;
      waiting_.push_back({key, bytes, size, std::move(owner)});
      if (!writer_.joinable()) writer_ = std::thread([this] { write_all(); });
    } catch (const std::exception&) {
      // Too little memory, or no thread to be had: the survey goes on without.
      give_up();
    }
    more_.notify_one();
  }

 private:
  struct Opened {
    explicit Opened(const fs::path& name) : path(name), file(name), damaged(!file.whole()) {}
    fs::path path;
    RecordFile file;
    std::atomic<bool> used{false}, damaged;
  };
  struct Place {
    Opened* in;
    RecordFile::Record record;
  };
  struct Waiting {
    LightKey key;
    const void* bytes;
    std::size_t size;
    std::shared_ptr<const void> owner;
  };

  void touch_used() const {
    for (const auto& opened : files_)
      if (opened->used) opened->file.touch();
  }

  // Nothing more is kept. Under the lock.
  void give_up() {
    given_up_ = true;
    waiting_.clear();
  }

  // In a thread of its own, which no failure may leave.
  void write_all() noexcept {
    // Signals are for the program's own threads, and a file that may not grow (SIGXFSZ) is a failed write.
    sigset_t all;
    ::sigfillset(&all);
    ::pthread_sigmask(SIG_BLOCK, &all, nullptr);
    try {
      NewRecords records(folder_, most_bytes_ / 2, kSpare);
      for (;;) {
        Waiting next;
        {
          std::unique_lock lock(guard_);
          more_.wait(lock, [this] { return ended_ || !waiting_.empty(); });
          if (waiting_.empty()) break;
          next = std::move(waiting_.front());
          waiting_.pop_front();
        }
        records.add(next.key, next.bytes, next.size);
      }
      touch_used();
      std::error_code error;
      for (const auto& opened : files_)
        if (opened->damaged) fs::remove(opened->path, error);
      if (records.finish()) {
        keep_within(root_, most_bytes_);
      } else {
        fs::remove(folder_, error);  // where it is empty
      }
    } catch (const std::exception&) {
      const std::lock_guard lock(guard_);
      give_up();
    }
  }

  fs::path root_, folder_;
  std::uintmax_t most_bytes_;
  std::vector<std::unique_ptr<Opened>> files_;
  std::map<LightKey, Place> index_;

  std::mutex guard_;
  std::condition_variable more_;
  std::deque<Waiting> waiting_;
  std::set<LightKey> taken_;
  bool ended_ = false, given_up_ = false;
  std::thread writer_;
};

class Files final : public LightCache {
 public:
  Files(fs::path folder, std::uintmax_t most_bytes) : folder_(std::move(folder)), most_bytes_(most_bytes) {}

  std::shared_ptr<LightStore> open(const LightKey& field) override {
    const LightKey program = program_key();
    CanonicalBytes both;
    both.add(program.high, program.low, field.high, field.low);
    auto store = std::make_shared<FileStore>(folder_, folder_ / key_of(both).hex(), most_bytes_);
    stores_.push_back(store);
    return store;
  }

 private:
  fs::path folder_;
  std::uintmax_t most_bytes_;
  std::vector<std::shared_ptr<LightStore>> stores_;  // held, so that nobody else waits for them
};

}  // namespace

std::optional<fs::path> usual_light_folder() {
  const auto absolute = [](const char* name) -> std::optional<fs::path> {
    const char* value = std::getenv(name);
    if (!value || !fs::path(value).is_absolute()) return std::nullopt;
    return value;
  };
  if (const auto caches = absolute("XDG_CACHE_HOME")) return *caches / "boughlight";
  if (const auto home = absolute("HOME")) return *home / ".cache" / "boughlight";
  return std::nullopt;
}

std::shared_ptr<LightCache> light_files(const fs::path& folder, std::uintmax_t most_bytes) {
  return std::make_shared<Files>(folder, most_bytes);
}

}  // namespace boughlight
