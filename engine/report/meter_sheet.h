// The meter sheet: where to read a meter, what it should say, and room to write what it did.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "assess/results.h"

namespace boughlight {

// For programs and spreadsheets, one row a reading, RFC 4180, a header line:
//   place, x, y, z (in length_unit), orientation (words), quantity, unit, expected, low, high (the accept
//   band), reading (empty: for the keeper), length_unit, direction_x, direction_y, direction_z (the sensor's
//   outward normal, unit), lamps ("all", or the only one lit), through_screen ("yes" or "no"), notes.
std::string meter_sheet_csv(const Survey& survey);

// To print: how to measure, then a block a reading. At most 80 columns.
std::string meter_sheet_text(const Survey& survey);

// Whether a file is such a CSV as written here, with no `reading` filled in: nothing is lost if it is
// replaced.
bool is_untouched_sheet(std::string_view csv);

// The name beside `sheet` under which a file of that name that somebody has written in is kept before a new
// one takes its place: "meter-sheet-filled-1.csv", the first that is free. Nothing where there is none to
// keep.
std::optional<std::filesystem::path> place_for_filled(const std::filesystem::path& sheet);

}  // namespace boughlight
