// What a keeper read off a meter, as a CSV file.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "scene/model.h"

namespace boughlight {

struct MeterReading {
  std::string place;  // as written; where only coordinates are given, empty
  std::optional<std::size_t>
      reading;             // of the survey's order (perches, plants, points), where it is one of them
  Vec3 at = Vec3::Zero();  // of the sensor
  Facing facing;
  std::vector<std::size_t> lamps;  // the only ones lit, rising; empty: all
  Quantity quantity = Quantity::uvi;
  double value = 0;            // > 0, in the quantity's unit
  std::optional<bool> screen;  // whether the file says that a screen lies between (yes) or not (no)
  bool warm = true;            // the lamps had warmed up
  Mark mark;                   // of the value
};

struct MeterReadings {
  std::vector<MeterReading> list;
  std::size_t blank = 0;  // rows without a reading
  // Headers that the format has no use for and that are like none it has.
  std::vector<std::string> unread_columns;
};

// A header and one row a reading, or one row a place with a column for each quantity; small and capital
// letters, blanks, underscores and hyphens in names are all the same, and a unit may stand behind a name:
// "Reading (uW/cm2)". Columns, with other names for them in meter_columns.cpp and cli/guides/calibrating.md:
//   place: of a perch or a point, or free text where x, y, z are given
//   x, y, z: of the sensor, in `length_unit`, the header's unit or the scene's
//   orientation, or direction_x, direction_y, direction_z (which go before): "up", "down",
//     "brightest", "to the front" (back, left, right), "towards LAMP", "0 0 1"; if empty as the perch or
//     point is declared, else up
//   quantity and reading: a name or label of an instant quantity, and the figure; empty, "-" or "n/a": not
//   read;
//     with the unit of the cell, of `unit`, of the header, or the quantity's own
//   or, for those three, any quantities by their names or labels, each column with its figures
//   lamps: "all", or the only ones lit, joined by ";" or "+"
//   through_screen: yes or no
//   warm: yes or no; yes if empty
// `expected`, `low`, `high` are not looked at, so the survey's meter-sheet.csv can be filled in and read; nor
// are `notes`, `date`, `time`, `meter` and what else is for people. Throws InputError with every mistake at
// file, line and column, a column whose name is like a known one and a figure like "1,250" that can be read
// in two ways among them.
MeterReadings read_meter_readings(const std::filesystem::path& file, const Scene& scene);

}  // namespace boughlight
