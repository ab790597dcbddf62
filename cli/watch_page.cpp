#include "watch_page.h"

#include <fmt/format.h>
#include <unistd.h>

#include <chrono>
#include <fstream>
#include <sstream>
#include <vector>

#include "report/staging.h"

namespace boughlight::cli {

namespace fs = std::filesystem;

WatchPage::WatchPage(const fs::path& folder, const std::string& title) : folder_(folder) {
  std::error_code unknown;
  was_there_ = fs::exists(folder, unknown);
  const std::string script = watch_state_script(state_);
  write_files(std::vector<ResultFile>{{file(), watch_page_html(title)}, {folder / kWatchStateName, script}});
  written_ = script;
}

WatchPage::~WatchPage() {
  std::error_code ignored;
  std::ifstream stream(folder_ / kWatchStateName, std::ios::binary);
  std::ostringstream there;
  there << stream.rdbuf();
  if (!stream || there.str() != written_) return;
  fs::remove(folder_ / kWatchStateName, ignored);
  fs::remove(file(), ignored);
  if (!was_there_) fs::remove(folder_, ignored);
}

void WatchPage::show(WatchState::Doing doing, const std::string& text) {
  state_.doing = doing;
  state_.text = text;
  std::string script = watch_state_script(state_);
  write_files(std::vector<ResultFile>{{folder_ / kWatchStateName, script}});
  written_ = std::move(script);
}

void WatchPage::renew_results() {
  // No other watch's, before or beside this one, are called so.
  const auto now = std::chrono::system_clock::now().time_since_epoch().count();
  state_.results = fmt::format("{}-{}-{}", ::getpid(), ++count_, now);
}

}  // namespace boughlight::cli
