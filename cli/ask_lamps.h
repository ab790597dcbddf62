// The lamps over an enclosure, by what their boxes say.
#pragma once

#include <string>
#include <vector>

#include "ask.h"
#include "ask_answers.h"

namespace boughlight::cli {

// Files that the lamps of a scene of this stem may get, beside it.
std::vector<std::string> lamp_file_names(const std::string& stem);

// Asks which lamps hang there, what is on their boxes, how high they hang and when they are lit. What is not
// known is taken from a lamp of the library, and said to be so. Adds the lamps' files.
void ask_lamps(Questions& questions, const std::string& stem, Answers& answers,
               std::vector<AnsweredFile>& files);

}  // namespace boughlight::cli
