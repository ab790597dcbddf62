// A page for what a planning command found (place, window, outlook, compare, tune, fit): the same single file
// as a survey's report.html, with the command's own words, pictures and figures in it.
#pragma once

#include <string>
#include <vector>

namespace boughlight {

struct PlanPicture {
  std::string name;  // of its file, without ".png"
  std::string png;
};

struct PlanPage {
  std::string command;  // "place", "outlook", ...
  std::string title;    // of the scene; may be empty
  std::string scene;    // its file
  std::string text;     // as on the terminal: parts with an empty line between, some with a heading line
  std::string json;     // as in the command's file
  std::vector<PlanPicture> pictures;
};

// The whole file. What is in it may come from a scene: nothing of it can become markup.
std::string plan_page_html(const PlanPage& page);

}  // namespace boughlight
