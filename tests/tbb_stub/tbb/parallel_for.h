// Stands in for oneTBB where ThreadSanitizer watches (tests/threads): the library itself is not instrumented,
// so the order that it keeps between tasks would be taken for none. Every loop runs on threads of its own,
// whose begin and end ThreadSanitizer knows; between the bodies of a loop there is no order at all, so that
// what they share is seen.
#pragma once

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

#include "global_control.h"

namespace tbb {

// The bodies are dealt out in turn, so that even the shortest loop is shared by all threads.
template <class Index, class Body>
void parallel_for(Index first, Index last, const Body& body) {
  if (!(first < last)) return;
  const Index threads =
      static_cast<Index>(std::min(global_control::most(), static_cast<std::size_t>(last - first)));
  std::atomic<bool> failed{false};
  std::mutex telling;
  std::exception_ptr failure;
  const auto work = [&](Index thread) {
    try {
      for (Index i = first + thread; i < last && !failed.load(std::memory_order_relaxed); i += threads)
        body(i);
    } catch (...) {
      failed.store(true, std::memory_order_relaxed);
      const std::lock_guard lock(telling);
      if (!failure) failure = std::current_exception();
    }
  };
  {
    std::vector<std::jthread> others;
    for (Index thread = 1; thread < threads; ++thread) others.emplace_back(work, thread);
    work(0);
  }
  if (failure) std::rethrow_exception(failure);
}

}  // namespace tbb
