// What is wrong with an input, and where: every message a user sees about a file is one of these.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace boughlight {

// A place in a file. Line and column count from 1; 0 stands for "the file as a whole".
struct Mark {
  std::string file;
  int line = 0;
  int column = 0;
};

struct Problem {
  Mark mark;
  std::string path;  // the field, from the top of the file: "lamps[1].over.gap"; empty for the whole file
  std::string text;  // what was found and what is allowed

  // "file:line:column: path: text", leaving out what is empty.
  std::string message() const;
};

// Thrown with every mistake found, not just the first. what() is all messages, one a line.
class InputError : public std::runtime_error {
 public:
  explicit InputError(std::vector<Problem> problems);
  const std::vector<Problem>& problems() const { return problems_; }

 private:
  std::vector<Problem> problems_;
};

// " (did you mean 'x'?)" for the nearest of the allowed names within a few letters, else "".
std::string did_you_mean(const std::string& found, const std::vector<std::string>& allowed);

// "a, b or c"
std::string one_of(const std::vector<std::string>& names);

}  // namespace boughlight
