#include "report/commit.h"

#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>

// All that runs in the child is safe between fork and _exit: system calls, no memory asked for.
namespace boughlight {
namespace {

using StepKind = CommitStep::Kind;

int reason_of(int result) {
  return result == 0 ? 0 : errno;
}

bool is_not_supported(int reason) {
  return reason == EINVAL || reason == ENOSYS || reason == ENOTSUP;
}

// Renames where nothing may be at `to`; some file systems cannot promise that.
int rename_to_free(const char* from, const char* to) {
  const int reason = reason_of(::renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE));
  if (!is_not_supported(reason)) return reason;
  if (::access(to, F_OK) == 0) return EEXIST;
  return reason_of(::rename(from, to));
}

// Somebody else may have made it in the meantime.
int make_folder(const char* folder) {
  const int reason = reason_of(::mkdir(folder, 0777));
  struct stat there {};
  return reason == EEXIST && ::stat(folder, &there) == 0 && S_ISDIR(there.st_mode) ? 0 : reason;
}

int swap(const char* from, const char* to) {
  struct stat there {};
  if (::lstat(to, &there) == 0 && S_ISDIR(there.st_mode)) return EISDIR;
  int reason = reason_of(::renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_EXCHANGE));
  if (reason == ENOENT) reason = rename_to_free(from, to);
  if (is_not_supported(reason) || reason == EEXIST) reason = reason_of(::rename(from, to));
  return reason;
}

int take(const CommitStep& step) {
  const char *from = step.from.c_str(), *to = step.to.c_str();
  switch (step.kind) {
    case StepKind::make_folder:
      return make_folder(to);
    case StepKind::keep:
      return rename_to_free(from, to);
    case StepKind::name:
      ::unlink(to);  // of an earlier process that had this one's number
      return reason_of(::linkat(AT_FDCWD, from, AT_FDCWD, to, AT_SYMLINK_FOLLOW));
    case StepKind::swap:
      return swap(from, to);
    case StepKind::remove:
      ::unlink(to);
      return 0;
  }
  return EINVAL;
}

void take_back(const CommitStep& step) {
  const char *from = step.from.c_str(), *to = step.to.c_str();
  switch (step.kind) {
    case StepKind::make_folder:
      ::rmdir(to);
      break;
    case StepKind::keep:
      rename_to_free(to, from);
      break;
    case StepKind::name:
      ::unlink(to);
      break;
    case StepKind::swap:
      // What stood there before now has the hidden name; where nothing did, the new file gets it again.
      swap(to, from);
      break;
    case StepKind::remove:
      break;
  }
}

CommitFailure take_all(const std::vector<CommitStep>& steps) {
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const int reason = take(steps[i]);
    if (reason == 0) continue;
    for (std::size_t done = i; done-- > 0;) take_back(steps[done]);
    return {static_cast<int>(i), reason};
  }
  // Hidden names now hold what was replaced.
  for (const CommitStep& step : steps)
    if (step.kind == StepKind::swap) ::unlink(step.from.c_str());
  return {};
}

}  // namespace

CommitFailure commit(const std::vector<CommitStep>& steps) {
  int ends[2];
  if (::pipe2(ends, O_CLOEXEC) != 0) return take_all(steps);
  sigset_t all, before;
  ::sigfillset(&all);
  ::pthread_sigmask(SIG_BLOCK, &all, &before);
  const pid_t child = ::fork();
  if (child == 0) {
    ::setpgid(0, 0);  // out of reach of the terminal's signals
    const CommitFailure failure = take_all(steps);
    // Where nobody reads it any more nobody needs it.
    [[maybe_unused]] const ssize_t told = ::write(ends[1], &failure, sizeof failure);
    ::_exit(0);
  }
  ::pthread_sigmask(SIG_SETMASK, &before, nullptr);
  ::close(ends[1]);
  CommitFailure failure;
  if (child < 0) {
    failure = take_all(steps);
  } else {
    ssize_t got;
    do {
      got = ::read(ends[0], &failure, sizeof failure);
    } while (got < 0 && errno == EINTR);
    if (got != static_cast<ssize_t>(sizeof failure)) failure = {0, EINTR};
    while (::waitpid(child, nullptr, 0) < 0 && errno == EINTR) {
    }
  }
  ::close(ends[0]);
  return failure;
}

}  // namespace boughlight
