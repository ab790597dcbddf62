// Tables of values against wavelength, hours or angle, written in the file or in a CSV file beside it.
// Private to this room.
#pragma once

#include "scene/field.h"
#include "spectrum/table.h"

namespace boughlight {

// Entries, x strictly rising, in base units.
struct TablePoints {
  std::vector<double> x, y;
};
// `list` is a list of pairs (entries_form).
std::optional<TablePoints> read_points(const Field& field, const Form& list);

// A ratio against wavelength, as materials have it: a number, a table, or {file: x.csv} relative to the
// folder of the file being read. Holds its end values.
std::optional<Table> read_spectral_ratio(const Field& field);

// A table of relative power against wavelength in a CSV file, zero outside its ends.
std::optional<Table> read_emission_file(const Field& file_name);

// The path of a file named in a field, relative to the folder of the file being read.
std::filesystem::path beside(const Field& field, const std::string& name);
// The file that a field names (`what` as in "the name of a CSV file"); a mistake is reported where there is
// none.
std::optional<std::filesystem::path> file_beside(const Field& field, const char* what);

}  // namespace boughlight
