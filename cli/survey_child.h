// A survey as a process of its own, so that it can be ended at any moment: its results are put in place all
// or none (report/staging.h), and nothing else of it is left.
#pragma once

#include <sys/types.h>

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "commands.h"
#include "units/sought_files.h"

namespace boughlight::cli {

// What a survey tells while it runs. Each comes once at most, but for the progress.
struct SurveyNews {
  enum class Kind : char {
    files,       // what the scene was read from, its mistakes too
    progress,    // `text` is the stage
    first_look,  // `text` is first_look_text()
    summary,     // `text` is terminal_summary(); results are in place
    readings,    // `text` is readings_json(); the last one
    mistake,     // `text` says what is wrong with the input, in lines; the last one
    failure,     // `text` says what went wrong, in lines; the last one
  };
  Kind kind = Kind::progress;
  std::string text;
  double share = 0;  // of the whole, where it is progress
  std::vector<SoughtFile> files;
};

class SurveyChild {
 public:
  // Starts to read `scene`, to survey it and to write its results into `folder`. Call it while this process
  // has one thread. Throws std::runtime_error where there can be no further process.
  SurveyChild(const std::filesystem::path& scene, const std::filesystem::path& folder,
              const CommonOptions& options);
  // Ends it at once.
  ~SurveyChild();
  SurveyChild(const SurveyChild&) = delete;
  SurveyChild& operator=(const SurveyChild&) = delete;

  // Readable where there is news.
  int descriptor() const { return from_child_; }
  // What came since the last call; does not wait. A process that ended without a last word gets one here.
  std::vector<SurveyNews> news();
  // All was told.
  bool done() const { return from_child_ < 0; }

 private:
  void read_all();
  std::optional<SurveyNews> next();

  pid_t child_ = -1;
  int from_child_ = -1;
  std::string bytes_;  // that are no whole news yet
  bool closed_ = false, last_word_ = false;
};

}  // namespace boughlight::cli
