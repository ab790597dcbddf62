// Stands in for oneTBB: see parallel_for.h.
#pragma once

#include <atomic>
#include <cstddef>

namespace tbb {

class global_control {
 public:
  enum parameter { max_allowed_parallelism };

  global_control(parameter, std::size_t most) : before_(limit().exchange(most, std::memory_order_relaxed)) {}
  ~global_control() { limit().store(before_, std::memory_order_relaxed); }
  global_control(const global_control&) = delete;
  global_control& operator=(const global_control&) = delete;

  static std::size_t most() { return limit().load(std::memory_order_relaxed); }

 private:
  // More than the machine may have, so that threads are stopped at any place.
  static std::atomic<std::size_t>& limit() {
    static std::atomic<std::size_t> limit{4};
    return limit;
  }

  std::size_t before_;
};

}  // namespace tbb
