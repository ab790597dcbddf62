// Many scenes side by side: one row a scene, made from its readings.json, wherever that was computed.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace boughlight {

// From good to bad: the worst of a scene's verdicts; not surveyed yet; or no result, for the scene is wrong
// or its survey failed.
enum class IndexState { met, unsure, unmet, missing, failed };
// "met", "unsure", "unmet", "missing", "failed"
std::string index_state_name(IndexState state);

// Something that carries a limit, or the most within the animal's reach.
struct IndexFigure {
  std::string of;                  // the reading, or the zone; empty: the most in reach
  bool zone = false;               // `quantity` is then a share: "volume", "perch", "each_level"
  std::string quantity;            // as in results
  double value = 0, se = 0;        // in the unit of the quantity; a share 0..1
  std::optional<double> min, max;  // limits
  std::string verdict;             // "met", "unsure", "below", "above"; empty without limits
  std::optional<bool> firm{};      // met by the whole band of what was declared
  std::string lamp{};              // of the most in reach: which source gives most there
};

struct IndexRow {
  IndexState state = IndexState::missing;
  std::string scene;    // the scene's file without its folder
  std::string title;    // may be empty
  std::string folder;   // of the results, from the index's own, with '/'; empty without results
  std::string version;  // of the program that computed it
  double tolerance = 0;
  std::vector<IndexFigure> asked;  // wants, needs and shares in the scene's order
  std::vector<IndexFigure> reach;  // UVI and irradiance, where the scene has an animal
  std::size_t cautions = 0;
  std::string problem{};  // why there is no result; may be of several lines
};

// The row of a readings.json. Throws std::runtime_error where the text is none, or one of another format.
IndexRow index_row(const std::string& readings_json, const std::string& folder);

// By folder, else by scene, numbers in them by size: "cage-2" before "cage-10".
void sort_by_name(std::vector<IndexRow>& rows);

// The same rows as files and on the terminal. index.json and index.csv keep the rows' order; the page and the
// text have the worst first, else the rows' order. The page needs nothing beside it but the reports it leads
// to.
std::string index_json(const std::vector<IndexRow>& rows);
std::string index_csv(const std::vector<IndexRow>& rows);
std::string index_text(const std::vector<IndexRow>& rows);
std::string index_html(const std::vector<IndexRow>& rows);

}  // namespace boughlight
