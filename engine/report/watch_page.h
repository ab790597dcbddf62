// watch.html: the report of a scene that is being watched, which takes every new result by itself. It works
// from a file, without a server: the page reads watch.js beside it twice a second, and where that tells of
// other results it loads report.html anew, behind the one that is shown, and swaps the two.
#pragma once

#include <string>

namespace boughlight {

struct WatchState {
  enum class Doing { surveying, done, mistake, failed };
  Doing doing = Doing::surveying;
  // Another text with each set of results that is put in place; empty before the first.
  std::string results;
  // What is to be told beside that: a first look, or what is wrong; may be empty.
  std::string text;
};

// The same for every state of a scene; `title` is what the scene is called.
std::string watch_page_html(const std::string& title);
// watch.js
std::string watch_state_script(const WatchState& state);

inline constexpr const char* kWatchPageName = "watch.html";
inline constexpr const char* kWatchStateName = "watch.js";

}  // namespace boughlight
