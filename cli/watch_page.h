// The page of a watch in the folder of its results: there while the watch runs, and gone with it.
#pragma once

#include <filesystem>
#include <string>

#include "report/watch_page.h"

namespace boughlight::cli {

class WatchPage {
 public:
  // Writes watch.html and watch.js. Throws OutputError.
  WatchPage(const std::filesystem::path& folder, const std::string& title);
  // Removes them, unless another watch has written its own by now; and the folder, where it was made for them
  // and nothing else has come.
  ~WatchPage();
  WatchPage(const WatchPage&) = delete;
  WatchPage& operator=(const WatchPage&) = delete;

  std::filesystem::path file() const { return folder_ / kWatchPageName; }
  // Throws OutputError.
  void show(WatchState::Doing doing, const std::string& text = "");
  // There are other results from here on.
  void renew_results();

 private:
  std::filesystem::path folder_;
  bool was_there_;
  int count_ = 0;
  WatchState state_;
  std::string written_;  // of watch.js
};

}  // namespace boughlight::cli
