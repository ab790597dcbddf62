#include "plan/meter_readings.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <sstream>

#include "plan/meter_columns.h"
#include "plan/meter_words.h"
#include "units/ascii.h"

namespace boughlight {
namespace {

// A fit of so many takes seconds; its time grows with the third power of them.
constexpr std::size_t kMostReadings = 1000;
// In any quantity's own unit; and the least is 1 / that.
constexpr double kMostOnAMeter = 1e9;
constexpr double kFarthest = 100;  // m, as in a scene

std::string not_clear(const std::string& text, const MeantName& meant) {
  return fmt::format("'{}' may be {}: write it as the scene does", text, one_of(meant.alike));
}

class Sheet {
 public:
  Sheet(CsvFile csv, const Scene& scene)
      : csv_(std::move(csv)), mark_(csv_.separator), columns_(csv_, problems_), scene_(scene) {
    for (const Lamp& lamp : scene.lamps) lamp_names_.push_back(lamp.name);
  }

  MeterReadings read() {
    if (problems_.empty())
      for (const std::vector<CsvCell>& row : csv_.rows) read_row(row);
    if (const auto doubt = mark_.doubt()) fail(doubt->first, "", doubt->second);
    if (problems_.empty() && readings_.list.empty())
      problems_.push_back({{csv_.file, 0, 0},
                           "",
                           columns_.quantities().empty()
                               ? "holds no reading: fill in the column 'reading'"
                               : "holds no reading: fill in the columns of the quantities"});
    if (problems_.empty() && std::none_of(readings_.list.begin(), readings_.list.end(),
                                          [](const MeterReading& reading) { return reading.warm; }))
      problems_.push_back({{csv_.file, 0, 0}, "", "holds no reading of warm lamps: all were taken cold"});
    if (problems_.empty() && readings_.list.size() > kMostReadings)
      problems_.push_back(
          {{csv_.file, 0, 0},
           "",
           fmt::format("holds {} readings; at most {} can be fitted together, so keep one of those that "
                       "were taken at the same place",
                       readings_.list.size(), kMostReadings)});
    if (!problems_.empty()) throw InputError(problems_);
    readings_.unread_columns = columns_.unread();
    return std::move(readings_);
  }

 private:
  void fail(const CsvCell& cell, const std::string& column, std::string text) {
    problems_.push_back({csv_.mark(cell), column, std::move(text)});
  }

  const CsvCell* cell(const std::vector<CsvCell>& row, std::string_view column) const {
    return columns_.cell(row, column);
  }

  std::optional<double> number(const CsvCell& cell, const std::string& column, Dimension dimension,
                               const std::string& unit) {
    std::string why;
    const auto value = parse_value(mark_.with_point(cell), dimension, unit, why);
    if (!value) fail(cell, column, why);
    return value ? std::optional(value->value) : std::nullopt;
  }

  // A cell with a reading in it.
  static const CsvCell* filled(const CsvCell* cell) {
    const bool none = !cell || cell->text.empty() || cell->text == "-" || lower_case(cell->text) == "n/a";
    return none ? nullptr : cell;
  }

  void read_row(const std::vector<CsvCell>& row) {
    const std::size_t before = problems_.size();
    std::vector<MeterReading> of_row;
    bool blank = true;
    if (columns_.quantities().empty()) {
      if (const CsvCell* value = filled(cell(row, "reading"))) {
        blank = false;
        read_named_quantity(row, *value, of_row);
      }
    }
    for (const QuantityColumn& column : columns_.quantities()) {
      const CsvCell* value = filled(&row[column.index]);
      if (!value) continue;
      blank = false;
      read_value(*value, std::string(column.about->name), *column.about, column.unit, of_row);
    }
    if (blank) {
      ++readings_.blank;
      return;
    }
    MeterReading common;
    read_place(row, common);
    if (problems_.size() == before) read_direction(row, common);
    read_lamps(row, common);
    common.screen = yes_or_no(row, "through_screen");
    common.warm = yes_or_no(row, "warm").value_or(true);
    if (problems_.size() > before) return;
    for (const MeterReading& one : of_row) {
      MeterReading reading = common;
      reading.quantity = one.quantity, reading.value = one.value, reading.mark = one.mark;
      readings_.list.push_back(std::move(reading));
    }
  }

  void read_named_quantity(const std::vector<CsvCell>& row, const CsvCell& value,
                           std::vector<MeterReading>& of_row) {
    const CsvCell* what = cell(row, "quantity");
    if (!what) {
      fail(columns_.any_cell(row, "quantity"), "quantity", "is empty: say what was read, such as uvi or lux");
      return;
    }
    const std::vector<std::string> names = names_at_an_instant();
    const QuantityInfo* about = quantity_called(what->text);
    if (!about) {
      fail(*what, "quantity",
           fmt::format("'{}' is unknown{}; a meter can read {}", what->text,
                       did_you_mean(lower_case(what->text), names), one_of(names)));
      return;
    }
    if (is_day_quantity(about->quantity)) return fail(*what, "quantity", no_sum_of_the_day(what->text));
    // The unit in the cell goes before that of the row, and that before the header's.
    const CsvCell* given = filled(cell(row, "unit"));
    const auto in_header = columns_.unit("reading");
    const std::string unit = given       ? given->text
                             : in_header ? *in_header
                                         : std::string(base_unit(about->dimension));
    const auto spelled = spelled_unit(unit, *about);
    if (!spelled && !carries_unit(mark_.with_point(value))) {
      fail(given ? *given : value, "unit",
           (given ? "" : "behind the column's name: ") + no_unit(unit, *about));
      return;
    }
    read_value(value, "reading", *about, spelled.value_or(""), of_row);
  }

  void read_value(const CsvCell& value, const std::string& column, const QuantityInfo& about,
                  const std::string& unit, std::vector<MeterReading>& of_row) {
    std::string why;
    const auto figure = read_figure(mark_.with_point(value), about, unit, why);
    if (!figure) return fail(value, column, why);
    if (*figure <= 0) {
      return fail(value, column,
                  fmt::format("is {}; only a reading above 0 tells how strong a lamp is: leave it empty",
                              value.text));
    }
    if (*figure > kMostOnAMeter || *figure < 1 / kMostOnAMeter)
      return fail(
          value, column,
          fmt::format("is {}, which no meter shows: is the decimal point where it belongs?", value.text));
    MeterReading reading;
    reading.quantity = about.quantity, reading.value = *figure, reading.mark = csv_.mark(value);
    of_row.push_back(reading);
  }

  void read_place(const std::vector<CsvCell>& row, MeterReading& reading) {
    const CsvCell* place = cell(row, "place");
    if (place) reading.place = place->text;
    const std::size_t perches = scene_.perches.size();
    std::vector<std::string> names;
    for (const Perch& perch : scene_.perches) names.push_back(perch.name);
    for (const Point& point : scene_.points) names.push_back(point.name);
    const MeantName meant = place ? meant_name(names, place->text) : MeantName{};
    if (!meant.alike.empty()) return fail(*place, "place", not_clear(place->text, meant));
    if (meant.index && *meant.index < perches) {
      const Perch& perch = scene_.perches[*meant.index];
      reading.reading = *meant.index;
      reading.at = perch.at + Vec3(0, 0, scene_.animal ? scene_.animal->back : 0);
      reading.facing = perch.facing;
    } else if (meant.index) {
      const Point& point = scene_.points[*meant.index - perches];
      reading.reading = *meant.index + scene_.plants.size();
      reading.at = point.at;
      reading.facing = point.facing;
    }

    const std::array<const CsvCell*, 3> given = {cell(row, "x"), cell(row, "y"), cell(row, "z")};
    const auto count =
        std::count_if(given.begin(), given.end(), [](const CsvCell* c) { return c != nullptr; });
    if (count == 0) {
      if (!place) {
        fail(row.front(), "place", "is empty: name a perch or point, or give x, y and z");
      } else if (!reading.reading) {
        fail(*place, "place",
             fmt::format("there is no perch or point '{}'{}; give x, y and z, or one of {}", place->text,
                         did_you_mean(place->text, names), one_of(names)));
      }
      return;
    }
    if (count < 3) {
      for (const CsvCell* one : given)
        if (one) return fail(*one, "x, y, z", "all three are needed");
    }
    Vec3 at;
    for (int axis = 0; axis < 3; ++axis) {
      const std::string name(1, static_cast<char>('x' + axis));
      std::string unit = columns_.unit(name).value_or(scene_.length_unit);
      const CsvCell* own = cell(row, "length_unit");
      if (own) unit = own->text;
      const auto spelled = spelled_unit(unit, Dimension::length);
      if (!spelled) {
        const std::vector<std::string> accepted = accepted_units(Dimension::length);
        fail(own ? *own : *given[static_cast<std::size_t>(axis)], "length_unit",
             fmt::format("'{}' is no unit of length{}; allowed: {}", unit, did_you_mean(unit, accepted),
                         one_of(accepted)));
        return;
      }
      const auto value = number(*given[static_cast<std::size_t>(axis)], name, Dimension::length, *spelled);
      if (!value) return;
      if (std::abs(*value) > kFarthest)
        return fail(
            *given[static_cast<std::size_t>(axis)], name,
            fmt::format("is {}; a place is at most 100 m away", given[static_cast<std::size_t>(axis)]->text));
      at[axis] = *value;
    }
    // A height that a perch or point shares with others is that place's own, within a hand's breadth.
    constexpr double kSamePlace = 0.02;
    if (reading.reading && (at - reading.at).norm() > kSamePlace) reading.reading.reset();
    reading.at = at;
  }

  void read_direction(const std::vector<CsvCell>& row, MeterReading& reading) {
    const std::array<const CsvCell*, 3> given = {cell(row, "direction_x"), cell(row, "direction_y"),
                                                 cell(row, "direction_z")};
    const auto first =
        std::find_if(given.begin(), given.end(), [](const CsvCell* c) { return c != nullptr; });
    if (first != given.end()) {
      if (!given[0] || !given[1] || !given[2])
        return fail(**first, "direction_x, direction_y, direction_z", "all three are needed");
      Vec3 direction;
      for (std::size_t axis = 0; axis < 3; ++axis) {
        const auto value = number(*given[axis], "direction", Dimension::number, "");
        if (!value) return;
        direction[static_cast<int>(axis)] = *value;
      }
      if (direction.isZero(0)) return fail(*given[0], "direction", "must not be 0, 0, 0");
      reading.facing = {false, direction.stableNormalized()};
      return;
    }
    const CsvCell* words = cell(row, "orientation");
    if (!words) return;
    const std::string text = plain_words(words->text);
    const auto is = [&](std::initializer_list<std::string_view> all) {
      return std::find(all.begin(), all.end(), text) != all.end();
    };
    const auto look = [&](const Vec3& direction) { reading.facing = {false, direction}; };
    if (is({"up", "straight up", "upwards"})) return look(Vec3::UnitZ());
    if (is({"down", "straight down", "downwards"})) return look(-Vec3::UnitZ());
    if (is({"front", "to the front", "level to the front"})) return look(-Vec3::UnitY());
    if (is({"back", "to the back", "level to the back"})) return look(Vec3::UnitY());
    if (is({"left", "to the left", "level to the left"})) return look(-Vec3::UnitX());
    if (is({"right", "to the right", "level to the right"})) return look(Vec3::UnitX());
    if (is({"brightest", "greatest", "strongest", "highest reading", "greatest reading"})) {
      reading.facing = {true, Vec3::UnitZ()};
      return;
    }
    std::string lamp_name = words->text;
    for (const std::string_view before : {"towards ", "at "})
      if (lower_case(lamp_name).starts_with(before)) lamp_name.erase(0, before.size());
    const MeantName meant = meant_name(lamp_names_, lamp_name);
    if (!meant.alike.empty()) return fail(*words, "orientation", not_clear(lamp_name, meant));
    if (meant.index) {
      const Lamp& lamp = scene_.lamps[*meant.index];
      const Vec3 towards = lamp.at - reading.at;
      if (towards.isZero(0)) {
        return fail(*words, "orientation",
                    fmt::format("the sensor is where lamp '{}' is, so it cannot look towards it", lamp.name));
      }
      return look(towards.stableNormalized());
    }
    std::string numbers = words->text;
    for (char& c : numbers)
      if (c == '[' || c == ']' || c == ',' || c == ';') c = ' ';
    std::istringstream stream(numbers);
    Vec3 direction;
    std::string left;
    if (stream >> direction.x() >> direction.y() >> direction.z() && !(stream >> left) &&
        !direction.isZero(0))
      return look(direction.stableNormalized());
    fail(
        *words, "orientation",
        fmt::format(
            "'{}' is not understood; allowed: up, down, brightest, to the front (back, left, right), towards "
            "the name of a lamp, or three numbers",
            words->text));
  }

  void read_lamps(const std::vector<CsvCell>& row, MeterReading& reading) {
    const CsvCell* given = cell(row, "lamps");
    if (!given || lower_case(given->text) == "all") return;
    std::vector<std::string> pieces;
    if (const MeantName whole = meant_name(lamp_names_, given->text); whole.index || !whole.alike.empty()) {
      pieces = {given->text};
    } else {
      std::string piece;
      for (const char c : given->text + ";") {
        if (c != ';' && c != '+') {
          piece += c;
          continue;
        }
        if (piece.find_first_not_of(' ') != std::string::npos) pieces.emplace_back(trimmed(piece));
        piece.clear();
      }
    }
    std::vector<std::string> names = lamp_names_;
    names.insert(names.begin(), "all");
    if (pieces.empty())
      return fail(*given, "lamps",
                  fmt::format("'{}' names no lamp; allowed: {}", given->text, one_of(names)));
    for (const std::string& piece : pieces) {
      if (lower_case(piece) == "all") return reading.lamps.clear();
      const MeantName lamp = meant_name(lamp_names_, piece);
      if (!lamp.alike.empty()) return fail(*given, "lamps", not_clear(piece, lamp));
      if (!lamp.index) {
        fail(*given, "lamps",
             fmt::format("there is no lamp '{}'{}; allowed: {}", piece, did_you_mean(piece, names),
                         one_of(names)));
        return;
      }
      reading.lamps.push_back(*lamp.index);
    }
    std::sort(reading.lamps.begin(), reading.lamps.end());
    reading.lamps.erase(std::unique(reading.lamps.begin(), reading.lamps.end()), reading.lamps.end());
  }

  std::optional<bool> yes_or_no(const std::vector<CsvCell>& row, const std::string& column) {
    const CsvCell* given = cell(row, column);
    if (!given) return std::nullopt;
    const auto answer = boughlight::yes_or_no(given->text);
    if (!answer) fail(*given, column, fmt::format("'{}' is not understood; allowed: yes or no", given->text));
    return answer;
  }

  CsvFile csv_;
  DecimalMark mark_;
  std::vector<Problem> problems_;
  MeterColumns columns_;
  const Scene& scene_;
  std::vector<std::string> lamp_names_;
  MeterReadings readings_;
};

}  // namespace

MeterReadings read_meter_readings(const std::filesystem::path& file, const Scene& scene) {
  return Sheet(read_csv_file(file), scene).read();
}

}  // namespace boughlight
