// Several scenes in one go, and the index of their results.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "commands.h"
#include "report/index.h"

namespace boughlight::cli {

// One of `of` shares of the work, counted from 1.
struct Part {
  std::size_t number = 1, of = 1;
};

struct ManyScenes {
  std::vector<std::string> scenes;
  std::filesystem::path folder;  // each scene's results go into a folder below it
  std::optional<Part> part;      // of the scenes only this share, and no index files
};

// Surveys each scene as by itself, whatever happens to the others; then writes the index and prints it. The
// exit code is the worst of all.
int survey_many(const ManyScenes& many, const CommonOptions& options);

// index.html, .csv and .json in `folder`. Throws OutputError.
void write_index(const std::vector<IndexRow>& rows, const std::filesystem::path& folder);
// Prints the rows as the options ask; `folder` is where the index lies, or empty where none was written.
void put_index(const std::vector<IndexRow>& rows, const std::filesystem::path& folder,
               const CommonOptions& options);
// 0 to 2, by the worst row.
int code_of(const std::vector<IndexRow>& rows);

// The row of the results in `results`; `shown` is how that folder is reached from the index's. Where its
// readings.json cannot be read, a failed one that says why.
IndexRow row_of_results(const std::filesystem::path& results, const std::string& shown);
// A row without results for a scene.
IndexRow row_without(IndexState state, const std::filesystem::path& scene, std::string problem);

}  // namespace boughlight::cli
