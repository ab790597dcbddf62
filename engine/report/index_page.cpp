// index.html: one table a verdict, the worst first. It needs no script: what it shows is written out.
#include <fmt/format.h>

#include <algorithm>

#include "report/html.h"
#include "report/index_parts.h"
#include "report/page.h"
#include "report/text.h"

namespace boughlight {
namespace {

// Beside the reports' own styles. On a narrow screen a row is a block, each cell under its heading's words.
constexpr const char* kStyle = R"css(
.counts { display: flex; flex-wrap: wrap; gap: 8px 22px; padding: 4px 0 14px; }
.index { width: 100%; border-collapse: collapse; overflow-wrap: anywhere; }
.index th, .index td { text-align: left; vertical-align: top; padding: 8px 14px 8px 0; border-top: 1px solid var(--line); }
.index thead th { border-top: 0; color: var(--muted); font-size: 0.875rem; font-weight: 600; padding-top: 0; }
.index tbody th { font-weight: 600; width: 26%; }
.index .reach { width: 26%; }
.index .note { font-weight: 400; }
.index li { padding: 1px 0; }
.limit { color: var(--muted); }
.problem { white-space: pre-wrap; }
.index details summary { color: var(--muted); cursor: pointer; min-height: 24px; }
@media (max-width: 700px) {
  .index thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  .index, .index tbody, .index tr, .index th, .index td { display: block; }
  .index tbody th, .index .reach { width: auto; }
  .index tr { border-top: 1px solid var(--line); padding: 8px 0; }
  .index th, .index td { border-top: 0; border-bottom: 0; padding: 2px 0; }
  .index td::before { content: attr(data-head); display: block; color: var(--muted); font-size: 0.875rem; }
}
)css";

struct Sign {
  const char* name;
  const char* outline;
  const char* mark;
  const char* words;
};
// As in page/sign.mjs: told apart by shape as well as by colour.
constexpr Sign kBad = {"bad", "M12 1.5 L23 21.5 L1 21.5 Z", "M12 8.5 V15 M12 17.6 V19.2", "Not as wanted"};
constexpr Sign kUnsure = {"unsure", "M12 1 L23 12 L12 23 L1 12 Z",
                          "M9 9.5 a3 3 0 1 1 4.4 2.6 q-1.4 .8 -1.4 2.2 M12 16.4 V18", "Too close to call"};
constexpr Sign kGood = {"good", "M12 1.5 a10.5 10.5 0 1 0 .01 0 Z", "M6.8 12.4 L10.6 16.2 L17.4 8.2",
                        "As wanted"};
constexpr Sign kNone = {"none", "M2 4 H22 V20 H2 Z", "M7.5 12 H16.5", "No result"};

const Sign& sign_of(IndexState state) {
  switch (state) {
    case IndexState::met:
      return kGood;
    case IndexState::unsure:
      return kUnsure;
    case IndexState::unmet:
      return kBad;
    default:
      return kNone;
  }
}

std::string drawn(const Sign& sign, bool says_so) {
  return fmt::format(
      R"(<svg viewBox="0 0 24 24" class="sign {}" aria-hidden="true" focusable="false"><path class="shape" d="{}"/>)"
      R"(<path class="mark" d="{}"/></svg>{})",
      sign.name, sign.outline, sign.mark,
      says_so ? fmt::format(R"(<span class="unseen">{}: </span>)", sign.words) : "");
}

// A path within a link: every byte that means something else there is written by its number.
std::string link_to(const std::string& path) {
  std::string out;
  for (const char letter : path) {
    const bool plain = (letter >= 'a' && letter <= 'z') || (letter >= 'A' && letter <= 'Z') ||
                       (letter >= '0' && letter <= '9') ||
                       std::string_view("/-_.~").find(letter) != std::string::npos;
    out += plain ? std::string(1, letter) : fmt::format("%{:02X}", static_cast<unsigned char>(letter));
  }
  // A first part with a colon would be a scheme.
  return "./" + out;
}

std::string listed(const IndexFigure& figure) {
  const Sign* sign = figure.verdict.empty()       ? nullptr
                     : figure.verdict == "met"    ? &kGood
                     : figure.verdict == "unsure" ? &kUnsure
                                                  : &kBad;
  const std::string limits = limit_words(figure);
  return fmt::format(
      "<li>{}<bdi>{}</bdi>{}</li>", sign ? drawn(*sign, true) : "", escaped(figure_words(figure)),
      limits.empty() ? "" : fmt::format(R"( <span class="limit">({})</span>)", escaped(limits)));
}

std::string list_of(const std::vector<IndexFigure>& figures, bool met) {
  std::string items;
  for (const IndexFigure& figure : figures)
    if ((figure.verdict == "met") == met) items += listed(figure);
  return items.empty() ? "" : "<ul>" + items + "</ul>";
}

// What is not as wanted is in sight; beside it what is may be opened.
std::string asked_cell(const IndexRow& row) {
  if (row.asked.empty()) return "Nothing was asked for.";
  const std::string open = list_of(row.asked, false), met = list_of(row.asked, true);
  if (open.empty() || met.empty()) return open + met;
  const auto count = std::count_if(row.asked.begin(), row.asked.end(),
                                   [](const IndexFigure& figure) { return figure.verdict == "met"; });
  return open + fmt::format("<details><summary>{} as wanted</summary>{}</details>", count, met);
}

std::string row_html(const IndexRow& row) {
  const std::string file = row.folder.empty() ? row.scene : row.folder;
  const std::string under =
      file == name_of(row) ? ""
                           : fmt::format(R"(<br><span class="note"><bdi>{}</bdi></span>)", escaped(file));
  std::string out = R"(<tr><th scope="row">)";
  if (row.folder.empty()) {
    out += fmt::format("<bdi>{}</bdi>{}</th>", escaped(name_of(row)), under);
    return out + fmt::format("<td data-head=\"Why\"><p class=\"problem\">{}</p></td></tr>\n",
                             escaped_lines(row.problem));
  }
  out += fmt::format(R"(<a href="{}"><bdi>{}</bdi></a>{}</th>)", link_to(row.folder + "/report.html"),
                     escaped(name_of(row)), under);
  out += fmt::format(R"(<td data-head="Asked for">{}</td>)", asked_cell(row));
  std::string reach;
  for (const IndexFigure& figure : row.reach) reach += listed(figure);
  if (!row.reach.empty() && !row.reach[0].lamp.empty())
    reach +=
        fmt::format(R"(<li class="note">most of the UV from <bdi>{}</bdi></li>)", escaped(row.reach[0].lamp));
  out += fmt::format(R"(<td data-head="Most within reach" class="reach">{}</td></tr>)",
                     reach.empty() ? "No animal is declared." : "<ul>" + reach + "</ul>");
  return out + "\n";
}

std::string section(const IndexGroup& group, const std::vector<const IndexRow*>& rows) {
  const std::string state = index_state_name(group.state);
  const bool results = group.state != IndexState::failed && group.state != IndexState::missing;
  std::string out = fmt::format(R"(<section id="{0}"><h2 id="head-{0}">{1}{2}: {3} {4}</h2>
<table class="index" aria-labelledby="head-{0}">
<thead><tr>)",
                                state, drawn(sign_of(group.state), false), group.heading, rows.size(),
                                rows.size() == 1 ? "scene" : "scenes");
  for (const char* head : {"Scene and its report", "Asked for", "Most within reach"})
    if (results || head[0] == 'S') out += fmt::format(R"(<th scope="col">{}</th>)", results ? head : "Scene");
  if (!results) out += R"(<th scope="col">Why</th>)";
  out += "</tr></thead>\n<tbody>\n";
  for (const IndexRow* row : rows) out += row_html(*row);
  return out + "</tbody></table></section>\n";
}

constexpr std::string_view kFrame = R"html(<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'">
<meta name="color-scheme" content="light dark">
<meta name="referrer" content="no-referrer">
<title>{{TITLE}}</title>
<link rel="icon" href="data:,">
<style>
{{STYLE}}
</style>
</head>
<body>
<div id="page">
<header><div class="titles"><h1>{{TITLE}}</h1><p class="note">{{ABOUT}}</p></div></header>
<main>
<nav class="counts" aria-label="Verdicts">{{COUNTS}}</nav>
{{SECTIONS}}</main>
<footer><p class="note">Estimates, not measurements: the meter decides. The same rows are in index.csv, for a spreadsheet, and in index.json.</p></footer>
</div>
</body>
</html>
)html";

}  // namespace

std::string index_html(const std::vector<IndexRow>& rows) {
  std::string counts, sections, about = "Surveyed by Boughlight";
  for (const IndexGroup& group : kIndexGroups) {
    const std::vector<const IndexRow*> chosen = rows_of(rows, group.state);
    if (chosen.empty()) continue;
    counts += fmt::format(R"(<a href="#{}">{}{} {}</a>)", index_state_name(group.state),
                          drawn(sign_of(group.state), false), chosen.size(), group.words);
    sections += section(group, chosen);
  }
  const std::vector<std::string> versions = versions_of(rows);
  for (std::size_t i = 0; i < versions.size(); ++i)
    about += (i == 0 ? " " : i + 1 < versions.size() ? ", " : " and ") + versions[i];
  return filled(kFrame, {{"TITLE", fmt::format("{} {}", rows.size(), rows.size() == 1 ? "scene" : "scenes")},
                         {"STYLE", std::string(page_part(PagePart::style)) + kStyle},
                         {"ABOUT", escaped(about + (versions.size() > 1 ? ": different versions." : "."))},
                         {"COUNTS", counts},
                         {"SECTIONS", sections}});
}

}  // namespace boughlight
