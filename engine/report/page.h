// report.html: one file that holds the page, its styles and its program, and everything that they show.
//
// The page's own parts, and the frame of watch.html, lie in report/page/ and become part of the program when
// it is built; `page_part` gives them. What it shows is the text of readings.json, and the data made here.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string_view>

#include "assess/results.h"

namespace boughlight {

enum class PagePart { frame, style, script, watch };
std::string_view page_part(PagePart part);

// What is declared, in metres: boxes and their faces, branches, boards, plants with their leaves, lamps with
// their outlines, perches and points.
nlohmann::ordered_json page_scene_json(const Survey& survey);

// Every quantity with its names, unit and meaning, the finest step that a meter shows, and for one of the day
// what it is summed of; those of the day only where asked for.
nlohmann::ordered_json page_quantities_json(bool has_day);

// What each source gives by itself, at readings and cells, with names, units, colours, scales and limits.
nlohmann::ordered_json page_light_json(const Survey& survey);

// The lamps' light cell by cell: part of page_light_json(). Cells are joined until the page stays small.
nlohmann::ordered_json page_grid_json(const Survey& survey);

// Each lamp by itself: its spectrum, the weightings of skin and eye, and its reading against distance.
nlohmann::ordered_json page_lamps_json(const Survey& survey);

}  // namespace boughlight
