// Result files of a survey.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "assess/results.h"
#include "report/staging.h"

namespace boughlight {

// Results as text. No times, dates or thread counts; figures keep 6 significant digits; lengths in metres,
// quantities in the unit of info(quantity). All throw std::runtime_error, naming the figure, where one is NaN
// or infinite.
//
// readings.json: names and shape are a contract; the scene's file stands there without its folder.
std::string readings_json(const Survey& survey);
// One row a reading and quantity. Limits, verdict, scalar (spherical) and top-of-crown values, the band of
// what was declared and the spread over the leaves' places are empty where there are none.
std::string readings_csv(const Survey& survey);
// One row a cell: its middle, box, free share, each quantity facing up with its standard error, and the
// greatest UVI of the 26 orientations. Cells without free volume have empty values; day quantities are there
// where has_day is set.
std::string grid_csv(const Survey& survey);

// One row a reading and moment of the clock (see ClockFindings); the header alone where there are none.
std::string day_csv(const Survey& survey);

// The spectrum at each reading: one row a bin of wavelengths with its ends in nm, one column a reading with
// the mean spectral irradiance over the bin, W/(m2 nm), from all sources as declared.
std::string spectra_csv(const Survey& survey);

// One page that needs nothing beside it: `readings`, the text of readings.json, and what its drawings need
// (see page.h).
std::string report_html(const Survey& survey, std::string_view readings);

// Writes readings.json, readings.csv, day.csv, grid.csv, spectra.csv, report.html, meter-sheet.csv,
// meter-sheet.txt, maps/*.png and vtk/* (see vtk.h) into `folder`, made if missing. All appear together or
// none (see staging.h); other files in the folder stay, and a meter-sheet.csv that was filled in is kept
// under another name. Throws OutputError.
void write_survey(const Survey& survey, const std::filesystem::path& folder);

// What goes to the terminal: at most 80 columns, worst news first.
std::string terminal_summary(const Survey& survey);

}  // namespace boughlight
