// The header of a log of meter readings: which column holds what, under all the names that keepers write.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scene/csv_file.h"
#include "spectrum/quantity.h"

namespace boughlight {

// A column of its own for one quantity, as in "place,UVI,lux": its unit as the units room spells it.
struct QuantityColumn {
  const QuantityInfo* about;
  std::size_t index;
  std::string unit;
};

class MeterColumns {
 public:
  // Appends what is wrong with the header to `problems`. `csv` must outlive this.
  MeterColumns(const CsvFile& csv, std::vector<Problem>& problems);

  // A row's cell of a column, by the name that the format has for it; null where there is none or it is
  // empty.
  const CsvCell* cell(const std::vector<CsvCell>& row, std::string_view column) const;
  // The same, empty or not; the column must be there.
  const CsvCell& any_cell(const std::vector<CsvCell>& row, std::string_view column) const;

  // The unit behind a column's name, as in "Reading (uW/cm2)", as it is written.
  std::optional<std::string> unit(std::string_view column) const;

  // Where quantities have columns of their own; else there are the columns quantity and reading.
  const std::vector<QuantityColumn>& quantities() const { return quantities_; }

  // Headers that are no column's name, nor like one, nor name a quantity: nothing is read from these.
  const std::vector<std::string>& unread() const { return unread_; }

 private:
  void find_column(const CsvFile& csv, std::size_t index, std::vector<Problem>& problems);
  bool find_quantity(const CsvFile& csv, std::size_t index, std::vector<Problem>& problems);

  std::map<std::string_view, std::size_t> at_;
  std::map<std::string_view, std::string> units_;
  std::vector<QuantityColumn> quantities_;
  std::vector<std::string> unread_;
};

}  // namespace boughlight
