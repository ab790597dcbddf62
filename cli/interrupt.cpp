#include "interrupt.h"

#include <signal.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <cstring>

namespace boughlight::cli {
namespace {

constexpr std::array kSignals = {SIGINT, SIGTERM, SIGHUP};

// All that a signal handler may touch.
std::atomic<const char*> wiping{nullptr};
static_assert(std::atomic<const char*>::is_always_lock_free);

extern "C" void leave(int signal_number) {
  if (const char* text = wiping.load()) {
    // There is nobody to tell where even this fails.
    [[maybe_unused]] const ssize_t written = ::write(STDERR_FILENO, text, std::strlen(text));
  }
  ::signal(signal_number, SIG_DFL);
  ::raise(signal_number);
}

}  // namespace

void end_on_interrupt() {
  for (const int signal_number : kSignals) {
    struct sigaction present {};
    if (::sigaction(signal_number, nullptr, &present) != 0 || present.sa_handler == SIG_IGN) continue;
    struct sigaction wanted {};
    wanted.sa_handler = leave;
    wanted.sa_flags = SA_RESTART;
    ::sigaction(signal_number, &wanted, nullptr);
  }
}

void wipe_on_interrupt(const char* text) {
  wiping.store(text);
}

}  // namespace boughlight::cli
