// Bytes as a file that a loader can open, without touching a disk.
#pragma once

#include <sys/mman.h>
#include <unistd.h>

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

namespace boughlight::fuzz {

class MemoryFile {
 public:
  MemoryFile(const std::uint8_t* bytes, std::size_t size) : descriptor_(memfd_create("input", 0)) {
    for (std::size_t done = 0; done < size;) {
      const ssize_t written = write(descriptor_, bytes + done, size - done);
      if (written <= 0) std::abort();
      done += static_cast<std::size_t>(written);
    }
  }
  ~MemoryFile() { close(descriptor_); }
  MemoryFile(const MemoryFile&) = delete;
  MemoryFile& operator=(const MemoryFile&) = delete;

  std::string path() const { return "/proc/self/fd/" + std::to_string(descriptor_); }

 private:
  int descriptor_;
};

}  // namespace boughlight::fuzz
