// Result files of a survey.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>

#include "assess/results.h"

namespace boughlight {

// A result could not be written; what() names the file and the reason.
class OutputError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// readings.json as text. No times, dates or thread counts.
std::string readings_json(const Survey& survey);
std::string readings_csv(const Survey& survey);
std::string grid_csv(const Survey& survey);

// Writes readings.json, readings.csv, grid.csv and maps/*.png into `folder`, made if missing. Everything is
// written beside first and then renamed, so that nothing half-written is left; other files in the folder
// stay. Throws OutputError.
void write_survey(const Survey& survey, const std::filesystem::path& folder);

// What goes to the terminal: at most 80 columns, worst news first.
std::string terminal_summary(const Survey& survey);

}  // namespace boughlight
