// A file of separated values with a header, in which every cell knows where it stands.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "units/csv_rows.h"
#include "units/problem.h"

namespace boughlight {

struct CsvFile {
  std::string file;
  char separator = ',';
  std::vector<CsvCell> header;
  std::vector<std::vector<CsvCell>>
      rows;  // as many cells as the header has; rows without any text are left out

  Mark mark(const CsvCell& cell) const { return {file, cell.line, cell.column}; }
};

// RFC 4180, or with semicolons or tabs for commas: whichever the first line holds most of, quotes aside,
// or what a line before it says ("sep=;", as spreadsheets have it).
// Lines that start with # are left out. Throws InputError for a file that cannot be read, holds no header, a
// quote that never closes, or a row with more cells than the header; missing ones at a row's end are empty.
CsvFile read_csv_file(const std::filesystem::path& file);

}  // namespace boughlight
