// Rows of readings.csv. Private to this room.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "assess/results.h"

namespace boughlight {

// Adds the columns that only the scene's own readings fill; others leave them empty.
using ReadingColumns = std::function<void(std::string& row, Quantity quantity, const WantResult* want)>;
inline void leave_columns_empty(std::string& row, Quantity, const WantResult*) {
  constexpr int kColumns = 9;  // middle to firm
  row.append(kColumns, ',');
}

// One row a quantity of a reading's values, each with its line end, under this name and kind.
std::string reading_rows(const Reading& reading, std::string_view name, std::string_view kind,
                         const ReadingColumns& more = leave_columns_empty);

// What was read for the animal beside the scene's own readings: kinds "size", "body" and "closest".
std::string animal_rows(const Survey& survey);

}  // namespace boughlight
