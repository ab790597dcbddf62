// Ctrl-C and its like as something to wait for, in a command that runs until then.
#pragma once

#include <signal.h>

namespace boughlight::cli {

// While it lives an interrupt, a hang-up and being told to end do not end the program but make `descriptor()`
// readable; one that was ignored from outside stays ignored. Processes that are started meanwhile are not
// ended by them either. Make it while the program has one thread. Throws std::runtime_error where the system
// has no room for it.
class AwaitedInterrupt {
 public:
  AwaitedInterrupt();
  ~AwaitedInterrupt();
  AwaitedInterrupt(const AwaitedInterrupt&) = delete;
  AwaitedInterrupt& operator=(const AwaitedInterrupt&) = delete;

  int descriptor() const { return descriptor_; }

 private:
  sigset_t before_{};
  int descriptor_ = -1;
};

}  // namespace boughlight::cli
