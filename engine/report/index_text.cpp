// The index on the terminal: at most 80 columns, the worst first.
#include <fmt/format.h>

#include "report/index_parts.h"
#include "report/summary_parts.h"
#include "report/text.h"

namespace boughlight {
namespace {

// One figure, marked where it is not as wanted.
std::string marked(const IndexFigure& figure) {
  const std::string mark = figure.verdict.empty() || figure.verdict == "met" ? ""
                           : figure.verdict == "unsure"                      ? "? "
                                                                             : "! ";
  const std::string limits = limit_words(figure);
  return mark + figure_words(figure) + (limits.empty() ? "" : " (" + limits + ")");
}

void put_row(std::string& out, const IndexRow& row) {
  const std::string file = row.folder.empty() ? row.scene : row.folder;
  const std::string name = row.title.empty() || row.title == file ? file : file + " - " + row.title;
  out += "  " + shortened(name, kColumns - 2) + "\n";
  if (!row.problem.empty()) {
    for (std::size_t from = 0; from < row.problem.size();) {
      const std::size_t end = std::min(row.problem.find('\n', from), row.problem.size());
      put_wrapped(out, printable(row.problem.substr(from, end - from)), "    ", "      ");
      from = end + 1;
    }
    return;
  }
  std::vector<std::string> parts;
  for (const IndexFigure& figure : row.asked) parts.push_back(marked(figure));
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : "; ") + part;
  put_wrapped(out, text.empty() ? "Nothing was asked for." : text, "    ", "    ");
  if (row.reach.empty()) return;
  put_wrapped(out, "Most within reach: " + marked(row.reach[0]) + "; " + marked(row.reach[1]), "    ",
              "    ");
}

}  // namespace

std::string index_text(const std::vector<IndexRow>& rows) {
  std::string out =
      fmt::format("{} {}: {}.\n", rows.size(), rows.size() == 1 ? "scene" : "scenes", index_counts(rows));
  for (const IndexGroup& group : kIndexGroups) {
    const std::vector<const IndexRow*> chosen = rows_of(rows, group.state);
    if (chosen.empty()) continue;
    out += fmt::format("\n{}: {}\n", group.heading, chosen.size());
    for (const IndexRow* row : chosen) put_row(out, *row);
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
