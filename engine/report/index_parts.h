// What the page, the text and the tables of an index have in common. Private to this room.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "report/index.h"

namespace boughlight {

// Worst first, and how each is headed.
struct IndexGroup {
  IndexState state;
  const char* heading;  // "Not as wanted"
  const char* words;    // "not as wanted"
};
inline constexpr std::array<IndexGroup, 5> kIndexGroups = {{
    {IndexState::failed, "No result", "without a result"},
    {IndexState::missing, "Not surveyed yet", "not surveyed yet"},
    {IndexState::unmet, "Not as wanted", "not as wanted"},
    {IndexState::unsure, "Too close to call", "too close to call"},
    {IndexState::met, "As wanted", "as wanted"},
}};

std::vector<const IndexRow*> rows_of(const std::vector<IndexRow>& rows, IndexState state);

// "12 not as wanted, 3 too close to call, 185 as wanted"
std::string index_counts(const std::vector<IndexRow>& rows);

// "sun perch: UVI 3.1", "basking zone: 12 % of what can be sat on", "UVI 5.9" of the most in reach.
std::string figure_words(const IndexFigure& figure);
// "at most 7", "2.5 to 4.5", "at least 30 %"; empty without limits.
std::string limit_words(const IndexFigure& figure);

// What the scene is called: its title, else its file's name.
std::string name_of(const IndexRow& row);

// The programs' versions that the results are of, in order; more than one is worth a word.
std::vector<std::string> versions_of(const std::vector<IndexRow>& rows);

}  // namespace boughlight
