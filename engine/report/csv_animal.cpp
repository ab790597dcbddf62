// The animal's rows of readings.csv.
#include "report/csv_parts.h"

namespace boughlight {
namespace {

// "sun perch", or "sun perch (juvenile)"
std::string with_size(const std::string& name, const std::string& size) {
  return size.empty() ? name : name + " (" + size + ")";
}

std::string body_rows(const BodyFindings& body, const std::string& size) {
  std::string rows;
  for (const BodyPlace& place : body.places) {
    Reading reading;
    reading.name = body.perch;
    reading.at = place.at;
    reading.facing = "given";
    reading.direction = body.direction;
    reading.values = place.values;
    rows += reading_rows(reading, with_size(body.perch, size), "body");
  }
  return rows;
}

std::string closest_rows(const ClosestPlace& place) {
  std::string rows;
  for (const ClosestFigure* figure : {&place.uvi, &place.irradiance}) {
    Reading reading;
    reading.name = place.lamp;
    reading.at = place.at;
    reading.facing = "brightest";
    reading.direction = figure->direction;
    reading.values[figure->quantity] = figure->figure;
    if (figure->verdict)
      reading.wants.push_back(
          {{figure->quantity, {std::nullopt, figure->limit}, {}}, figure->figure, *figure->verdict});
    rows += reading_rows(reading, place.lamp, "closest");
  }
  return rows;
}

}  // namespace

std::string animal_rows(const Survey& survey) {
  std::string rows;
  for (const BodyFindings& body : survey.animal.bodies) rows += body_rows(body, "");
  for (const SizeFindings& size : survey.animal.sizes) {
    for (const Reading& reading : size.readings)
      rows += reading_rows(reading, with_size(reading.name, size.size.name), "size");
    for (const BodyFindings& body : size.bodies) rows += body_rows(body, size.size.name);
  }
  for (const ClosestPlace& place : survey.animal.closest) rows += closest_rows(place);
  return rows;
}

}  // namespace boughlight
