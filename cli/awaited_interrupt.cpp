#include "awaited_interrupt.h"

#include <sys/signalfd.h>
#include <unistd.h>

#include <cerrno>
#include <stdexcept>
#include <string>
#include <system_error>

namespace boughlight::cli {

AwaitedInterrupt::AwaitedInterrupt() {
  sigset_t awaited;
  ::sigemptyset(&awaited);
  for (const int signal_number : {SIGINT, SIGTERM, SIGHUP}) {
    struct sigaction present {};
    // What is blocked is never ignored, so one that is ignored must not be blocked.
    if (::sigaction(signal_number, nullptr, &present) == 0 && present.sa_handler != SIG_IGN)
      ::sigaddset(&awaited, signal_number);
  }
  descriptor_ = ::signalfd(-1, &awaited, SFD_CLOEXEC | SFD_NONBLOCK);
  if (descriptor_ < 0)
    throw std::runtime_error("interrupts cannot be awaited: " + std::generic_category().message(errno));
  ::pthread_sigmask(SIG_BLOCK, &awaited, &before_);
}

AwaitedInterrupt::~AwaitedInterrupt() {
  // Those that came are answered by what follows; they must not end the program when they are let through.
  signalfd_siginfo came{};
  while (::read(descriptor_, &came, sizeof came) > 0) {
  }
  ::close(descriptor_);
  ::pthread_sigmask(SIG_SETMASK, &before_, nullptr);
}

}  // namespace boughlight::cli
