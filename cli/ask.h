// A first scene from plain questions.
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace boughlight::cli {

struct AnsweredFile {
  std::string name;  // of the file, without a folder
  std::string text;
};

// Asks on `ask`, reads a line an answer from `in` (an empty one takes what stands in brackets) and asks
// again where it does not understand. The scene comes first, then the files of lamps that it names; `name` is
// the scene's, as "my-cage.yaml". Throws CallError where the answers end too soon.
std::vector<AnsweredFile> scene_from_answers(const std::string& name, std::istream& in, std::ostream& ask);

// Every file that answers may make for that scene.
std::vector<std::string> names_from_answers(const std::string& name);

}  // namespace boughlight::cli
