// What went wrong, in the words and the exit code that a user gets.
#pragma once

#include <string>

namespace boughlight::cli {

struct Failure {
  std::string text;  // lines, each with its end
  int code;          // kBadInput or kNoOutput
};

// Of the exception that is being handled. One that is no std::exception passes through.
Failure current_failure();

// "boughlight: text\n"
std::string complaint(const std::string& text);

}  // namespace boughlight::cli
