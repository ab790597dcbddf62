// What files of the library hold, read once for all scenes of a run. Private to this room.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <mutex>
#include <optional>

#include "scene/library.h"
#include "units/sought_files.h"

namespace boughlight {

// Safe to use from several threads. A file that has changed since is read again.
template <class Value>
class LibraryCache {
 public:
  // What `read` makes of the file, now or earlier. Kept only where no mistake was reported and the document
  // names no further file, which might change by itself.
  std::optional<Value> get(const std::filesystem::path& file, Problems& problems,
                           const std::function<std::optional<Value>(const Document&)>& read) {
    const FileStamp stamp = stamp_of(file);
    {
      const std::lock_guard lock(busy_);
      if (const auto at = kept_.find(file); stamp.there && at != kept_.end() && at->second.stamp == stamp)
        return at->second.value;
    }
    const std::size_t before = problems.count();
    const auto document = open_document(file, "", problems);
    if (!document) return std::nullopt;
    std::optional<Value> value = read(*document);
    if (value && stamp.there && problems.count() == before && !names_a_file(document->root)) {
      const std::lock_guard lock(busy_);
      kept_.insert_or_assign(file, Kept{stamp, *value});
    }
    return value;
  }

 private:
  struct Kept {
    FileStamp stamp;
    Value value;
  };

  std::mutex busy_;
  std::map<std::filesystem::path, Kept> kept_;
};

}  // namespace boughlight
