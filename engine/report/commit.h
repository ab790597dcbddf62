// The last step of writing results: files that are there in full get their names, all of them or none.
#pragma once

#include <string>
#include <vector>

namespace boughlight {

struct CommitStep {
  enum class Kind {
    make_folder,  // `to`
    keep,         // `from` is renamed to `to`, where nothing may be
    name,         // the unnamed file behind the descriptor's path `from` gets the hidden name `to`
    swap,         // the hidden file `from` and what is at `to`, if anything, change places
    remove,       // `to`; no failure where that cannot be
  };
  Kind kind;
  std::string from, to;
};

struct CommitFailure {
  int step = 0;    // position
  int reason = 0;  // errno; 0: nothing failed
};

// Takes the steps in their order, which is that of Kind, and takes back what was done where one fails. A
// child process does it, which no signal of the terminal and no end of this process stops half-way; where
// there can be no child, this process does it.
CommitFailure commit(const std::vector<CommitStep>& steps);

}  // namespace boughlight
