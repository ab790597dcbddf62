// One file of kept light: a title, then records of a key, a size, a hash and as many bytes. Private to this
// room.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "transport/light_key.h"

namespace boughlight {

struct RecordHead {
  LightKey key;
  std::uint64_t size = 0;
  LightKey hash;  // of key, size and bytes
};

// An open file, which can be read even when somebody removes its name. Throws nothing.
class RecordFile {
 public:
  explicit RecordFile(const std::filesystem::path& file);
  ~RecordFile();
  RecordFile(const RecordFile&) = delete;
  RecordFile& operator=(const RecordFile&) = delete;

  struct Record {
    RecordHead head;
    std::int64_t at = 0;  // of its bytes
  };
  // Those that lie in the file in full; their bytes may still be damaged.
  const std::vector<Record>& records() const { return records_; }
  // Whether it is a file of records from end to end.
  bool whole() const { return whole_; }
  // As LightStore::read.
  bool read(const Record& record, const std::function<void*(std::size_t)>& room) const;
  // It counts as used now.
  void touch() const;

 private:
  int descriptor_ = -1;
  bool whole_ = false;
  std::vector<Record> records_;
};

// A new one, without a name until finish(). Any failure, such as a full disk, makes it come to nothing.
class NewRecords {
 public:
  // Nothing is made before the first record. `spare`: bytes that must be left free on the disk.
  NewRecords(std::filesystem::path folder, std::uintmax_t most_bytes, std::uintmax_t spare);
  ~NewRecords();  // without finish(): nothing is left of it
  NewRecords(const NewRecords&) = delete;
  NewRecords& operator=(const NewRecords&) = delete;

  void add(const LightKey& key, const void* bytes, std::size_t size);
  // Whether a file came of it. Its name goes by its keys, so that runs that found the same leave one.
  bool finish();

 private:
  bool start();
  bool has_room(std::uintmax_t bytes) const;
  void fail();

  std::filesystem::path folder_;
  std::uintmax_t most_bytes_, spare_, written_ = 0;
  int descriptor_ = -1;
  bool failed_ = false;
  std::filesystem::path hidden_;  // its name meanwhile, on file systems without unnamed files
  std::vector<LightKey> keys_;
};

// 32 digits, base 16: a file of records, or a folder of them.
bool is_key_name(const std::string& name);

}  // namespace boughlight
