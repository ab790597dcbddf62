// The index on the terminal: a count, and a line a scene of at most 80 columns, the worst first.
#include <fmt/format.h>

#include <algorithm>

#include "report/index_parts.h"
#include "report/summary_parts.h"
#include "report/text.h"

namespace boughlight {
namespace {

constexpr int kMostName = 30;

// "! middle: illuminance 562 lx (at least 600)": the mark where it is not as wanted.
std::string marked(const IndexFigure& figure) {
  const std::string mark = figure.verdict.empty() || figure.verdict == "met" ? ""
                           : figure.verdict == "unsure"                      ? "? "
                                                                             : "! ";
  const std::string limits = limit_words(figure), where = figure.of.empty() ? "in reach: " : "";
  return mark + where + figure_words(figure) + (limits.empty() ? "" : " (" + limits + ")");
}

std::string file_of(const IndexRow& row) {
  return row.folder.empty() ? row.scene : row.folder;
}

// What is worth a line: what is not as wanted, as much as has room in `columns`, with the number of the rest;
// else the most within reach.
std::string line_of(const IndexRow& row, int columns) {
  if (!row.problem.empty()) return shortened(row.problem, columns);
  std::vector<IndexFigure> amiss;
  for (const auto& figures : {row.asked, row.reach})
    for (const IndexFigure& figure : figures)
      if (!figure.verdict.empty() && figure.verdict != "met") amiss.push_back(figure);
  if (amiss.empty() && row.asked.empty()) return "Nothing was asked for.";
  if (amiss.empty()) return row.reach.empty() ? "" : shortened(marked(row.reach[0]), columns);
  const std::string rest = amiss.size() > 1 ? fmt::format("; {} more", amiss.size() - 1) : "";
  return shortened(marked(amiss[0]), columns - static_cast<int>(rest.size())) + rest;
}

// Scenes not yet surveyed are alike: the first few names will do.
std::string names_of(const std::vector<const IndexRow*>& rows) {
  constexpr std::size_t kShown = 3;
  std::string text;
  for (std::size_t i = 0; i < std::min(kShown, rows.size()); ++i)
    text += (i == 0 ? "" : ", ") + shortened(file_of(*rows[i]), kMostName);
  return text + (rows.size() > kShown ? fmt::format(" and {} more", rows.size() - kShown) : "");
}

}  // namespace

std::string index_text(const std::vector<IndexRow>& rows) {
  std::string out =
      fmt::format("{} {}: {}.\n", rows.size(), rows.size() == 1 ? "scene" : "scenes", index_counts(rows));
  int name_columns = 4;
  for (const IndexRow& row : rows)
    name_columns = std::clamp(display_width(file_of(row)), name_columns, kMostName);
  for (const IndexGroup& group : kIndexGroups) {
    const std::vector<const IndexRow*> chosen = rows_of(rows, group.state);
    if (chosen.empty()) continue;
    out += fmt::format("\n{}: {}\n", group.heading, chosen.size());
    if (group.state == IndexState::missing) {
      put_wrapped(out, names_of(chosen), "  ", "  ");
      continue;
    }
    for (const IndexRow* row : chosen) {
      const std::string line = line_of(*row, kColumns - 4 - name_columns);
      if (line.empty()) {
        out += "  " + shortened(file_of(*row), name_columns) + "\n";
      } else {
        put_wrapped(out, line, "  " + left_aligned(file_of(*row), name_columns) + "  ", "    ");
      }
    }
  }
  out += "\n";
  const std::vector<std::string> versions = versions_of(rows);
  if (versions.size() > 1) {
    std::string list;
    for (const std::string& version : versions) list += (list.empty() ? "" : ", ") + version;
    put_wrapped(out, "These are results of different versions of the program: " + printable(list) + ".", "",
                "");
  }
  put_wrapped(out, "! not as wanted, ? too close to call. Estimates, not measurements: the meter decides.",
              "", "");
  return out;
}

}  // namespace boughlight
