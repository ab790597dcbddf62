#include "report/meter_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <numbers>
#include <vector>

#include "report/scale.h"
#include "report/summary_parts.h"
#include "report/text.h"
#include "units/csv_rows.h"
#include "units/problem.h"

namespace boughlight {
namespace {

constexpr std::string_view kReading = "reading";
constexpr std::string_view kHeader =
    "place,x,y,z,orientation,quantity,unit,expected,low,high,reading,length_unit,direction_x,direction_y,"
    "direction_z,lamps,through_screen,notes\n";

// "straight up", "tilted 20 deg from straight up, to the right and the back"
std::string orientation_text(const Vec3& direction) {
  constexpr double kStraight = 3, kSideways = 0.38;  // deg; sine of 22 deg: eight points of the compass
  const double tilt = std::acos(std::clamp(direction.z(), -1.0, 1.0)) * 180 / std::numbers::pi;
  if (tilt < kStraight) return "straight up";
  if (tilt > 180 - kStraight) return "straight down";
  const double level = std::hypot(direction.x(), direction.y());
  std::string side;
  if (std::abs(direction.x()) > kSideways * level) side = direction.x() > 0 ? "the right" : "the left";
  if (std::abs(direction.y()) > kSideways * level)
    side += (side.empty() ? "" : " and ") + std::string(direction.y() > 0 ? "the back" : "the front");
  if (std::abs(tilt - 90) < kStraight) return "level, to " + side;
  if (tilt > 90) return fmt::format("tilted {:.0f} deg from straight down, to {}", 180 - tilt, side);
  return fmt::format("tilted {:.0f} deg from straight up, to {}", tilt, side);
}

std::string where_text(const LengthUnit& unit, const Vec3& at) {
  const auto from = [&](double length, const char* inside, const char* outside) {
    return unbroken(unit.text(std::abs(length))) + " " + (length < 0 ? outside : inside);
  };
  return from(at.x(), "from the left", "out to the left") + ", " +
         from(at.y(), "from the front", "out to the front") + ", " +
         from(at.z(), "above the floor", "below the floor");
}

std::string notes_of(const MeterRow& row) {
  std::string notes = row.hint;
  const auto add = [&](const std::string& note) { notes += (notes.empty() ? "" : "; ") + note; };
  if (!row.towards.empty()) add("the sensor looks at " + row.towards);
  if (row.quantity == Quantity::lux) add("a lux meter, not a telephone");
  if (row.quantity == Quantity::irradiance) add("a thermal power meter only, else leave blank");
  return notes;
}

std::string short_number(double value, const std::string& what) {
  return fmt::format("{:.4g}", six_digits(value, what));
}

}  // namespace

std::string meter_sheet_csv(const Survey& survey) {
  const LengthUnit unit(survey.scene.length_unit);
  std::string out(kHeader);
  for (const MeterRow& row : survey.doubt.meter.rows) {
    const std::string what = "the meter sheet, " + row.place;
    const auto number = [&](double value) { return short_number(value, what); };
    std::vector<std::string> fields = {row.place};
    for (const double coordinate : row.at) fields.push_back(number(unit.from_m(coordinate)));
    fields.insert(fields.end(), {orientation_text(row.direction), std::string(info(row.quantity).name),
                                 std::string(info(row.quantity).unit), number(row.expected), number(row.low),
                                 number(row.high), "", unit.name()});
    for (const double component : row.direction) fields.push_back(number(component));
    fields.insert(fields.end(),
                  {row.lamps.empty() ? "all" : row.lamps, row.through_screen ? "yes" : "no", notes_of(row)});
    for (std::size_t i = 0; i < fields.size(); ++i) out += (i > 0 ? "," : "") + csv_field(fields[i]);
    out += '\n';
  }
  return out;
}

std::string meter_sheet_text(const Survey& survey) {
  const LengthUnit unit(survey.scene.length_unit);
  const MeterPlan& plan = survey.doubt.meter;
  std::string out =
      shortened("Meter sheet: " + (survey.scene.title.empty() ? "the enclosure" : survey.scene.title),
                kColumns) +
      "\n\n";
  if (plan.rows.empty()) {
    put_wrapped(out, "There is no place to measure at: the scene has no lit perch or point to read.", "", "");
    return out;
  }
  put_wrapped(out, "Date ____________  Meter ____________  Zero reading ________  Room ________ deg", "", "");
  put_wrapped(out, "Hours that each lamp has burned ____________________  Mesh: clean / dusty", "", "");
  out += "\nBefore you read\n";
  for (const char* line :
       {"Put UV-blocking goggles on before the lamps, and never look into one. No animal inside.",
        "Lamps: warm for 30 minutes (fluorescent) or 2 hours (where you read temperatures too). A new tube "
        "first "
        "burns for about 100 hours.",
        "Doors, plants and dimmers as in use. Head and hands out of the light.",
        "Cover the sensor: it must read 0.00 to 0.03. Take it out between readings: damp, a hot housing or a "
        "weak "
        "battery make it read wrong.",
        "Ultraviolet: a meter that reads the UV index, with a cosine corrected sensor. One for uW/cm2 of UVB "
        "reads "
        "something else.",
        "Hold the sensor's face, not the meter's middle, within 1 cm of the place. Read three times, write "
        "the mean."})
    put_wrapped(out, line, "  - ", "    ");
  out += "\nReadings, the most useful first\n";
  for (std::size_t i = 0; i < plan.rows.size(); ++i) {
    const MeterRow& row = plan.rows[i];
    const std::string indent = "    ";
    out += "\n";
    put_wrapped(out, fmt::format("{}, {}", shortened(row.place, 60), info(row.quantity).label),
                fmt::format("{:2}. ", i + 1), indent);
    put_wrapped(out, where_text(unit, row.at) + ".", indent, indent);
    put_wrapped(
        out,
        fmt::format("Sensor {}. Lit: {}. {}", orientation_text(row.direction),
                    row.lamps.empty() ? "all lamps, at their dimmers" : "only " + shortened(row.lamps, 28),
                    row.through_screen ? "Through the screen." : "No screen between sensor and lamp."),
        indent, indent);
    const std::string notes = notes_of(row);
    if (!notes.empty()) put_wrapped(out, "(" + notes + ")", indent, indent);
    put_wrapped(out,
                fmt::format("Expected {}, accept {}. Reading: ____________",
                            unbroken(value_text(row.quantity, row.expected)),
                            unbroken(fmt::format("{} to {}", print_number(row.low), print_number(row.high)))),
                indent, indent);
  }
  out += "\n";
  put_wrapped(
      out,
      "A reading inside its band fits what was declared; then read the next. Outside it, something is not as "
      "declared: read again, then look at lamp, dimmer, screen and heights, and correct the scene. The band "
      "holds "
      "19 of 20 readings if lamps, screens, heights and leaves vary as declared, and the meter by 10 %.",
      "", "");
  put_wrapped(
      out,
      "These figures are estimates; the meter decides. If what you read is above what the animal may get, "
      "switch "
      "that lamp off first.",
      "", "");
  return out;
}

bool is_untouched_sheet(std::string_view csv) try {
  if (!csv.starts_with(kHeader)) return false;
  CsvRows rows(csv, "", ',');
  std::vector<CsvCell> row;
  rows.next(row);
  const auto is_reading = [](const CsvCell& cell) { return cell.text == kReading; };
  const auto column =
      static_cast<std::size_t>(std::find_if(row.begin(), row.end(), is_reading) - row.begin());
  while (rows.next(row))
    if (column < row.size() && !row[column].text.empty()) return false;
  return true;
} catch (const InputError&) {
  return false;  // no sheet of ours: somebody has been at it
}

std::optional<std::filesystem::path> place_for_filled(const std::filesystem::path& sheet) {
  std::error_code error;
  if (!std::filesystem::is_regular_file(sheet, error)) return std::nullopt;
  std::ifstream stream(sheet, std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(stream), {}};
  if (text.empty() || is_untouched_sheet(text)) return std::nullopt;
  for (int number = 1;; ++number) {
    std::filesystem::path kept = sheet;
    kept.replace_filename(fmt::format("meter-sheet-filled-{}.csv", number));
    if (!std::filesystem::exists(std::filesystem::symlink_status(kept, error))) return kept;
  }
}

}  // namespace boughlight
