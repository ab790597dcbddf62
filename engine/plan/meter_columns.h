// The header of a log of meter readings: which column holds what, under all the names that keepers write.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scene/csv_file.h"

namespace boughlight {

// Capital letters A to Z made small.
std::string in_small_letters(std::string text);

// In small letters, with one blank for everything between words.
std::string plain_words(const std::string& text);

class MeterColumns {
 public:
  // Appends what is wrong with the header to `problems`. `csv` must outlive this.
  MeterColumns(const CsvFile& csv, std::vector<Problem>& problems);

  // A row's cell of a column, by the name that the format has for it; null where there is none or it is
  // empty.
  const CsvCell* cell(const std::vector<CsvCell>& row, std::string_view column) const;
  // The same, empty or not; the column must be there.
  const CsvCell& any_cell(const std::vector<CsvCell>& row, std::string_view column) const;

  // The unit behind a column's name, as in "Reading (uW/cm2)".
  std::optional<std::string> unit(std::string_view column) const;

 private:
  void find_column(const CsvFile& csv, std::size_t index, std::vector<Problem>& problems);

  std::map<std::string_view, std::size_t> at_;
  std::map<std::string_view, std::string> units_;
};

}  // namespace boughlight
