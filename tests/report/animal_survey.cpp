#include "animal_survey.h"

#include "sample_survey.h"

namespace boughlight {
namespace {

Figures figures(double uvi, double irradiance) {
  return {{Quantity::uvi, {uvi, 0.01, {}}},
          {Quantity::lux, {2000 * uvi, 20, {}}},
          {Quantity::irradiance, {irradiance, 1, {}}},
          {Quantity::infrared, {0.8 * irradiance, 1, {}}}};
}

BodyFindings body(const std::string& perch) {
  BodyFindings found;
  found.perch = perch;
  found.back = 0.05;
  found.length = 0.22;
  found.height = 0.07;
  found.axis_origin = AxisOrigin::along;
  for (const bool flank : {false, true})
    for (const double along : {-0.11, 0.0, 0.11})
      found.places.push_back({flank, along, Vec3(0.45 + along, 0.32, flank ? 1.36 : 1.43),
                              figures(flank ? 2 : 3, flank ? 200 : 300), !flank});
  found.spread = {{Quantity::uvi, {3, 2, 1.5}},
                  {Quantity::lux, {6000, 4000, 1.5}},
                  {Quantity::irradiance, {300, 200, 1.5}},
                  {Quantity::infrared, {240, 0, {}}}};
  found.line_from = -0.3;
  found.line_to = 0.15;
  found.beams = {{Quantity::infrared, {240, 0, -0.1, 0.1, false, false}},
                 {Quantity::uvi, {3, 0.01, -0.2, 0.12, false, false}},
                 {Quantity::lux, {6000, 0.1, -0.05, 0.15, false, true}}};
  found.nested = false;
  found.for_basking = true;
  found.wants_share = 1;
  found.flank_wants_share = 0;
  return found;
}

ClosestFigure closest(Quantity quantity, double value, std::optional<double> limit) {
  ClosestFigure figure{quantity, {value, 0.01 * value, {}}, Vec3::UnitZ(), "uv tube", 0.9, limit, {}};
  if (limit) figure.verdict = value > *limit ? Verdict::above : Verdict::met;
  return figure;
}

Shelter shelter() {
  Shelter found;
  found.sun_perch = "sun perch";
  found.sun_uvi = 3;
  found.sun_infrared = 240;
  found.stride = 0.22;
  found.places = {{"high bough", {0.45, 0.32, 1.43}, 1.38, 0.5, figures(3, 300), 1, false, true, false},
                  {"high bough", {0.2, 0.3, 1.4}, 1.35, 0.25, figures(1.8, 80), 0.6, false, false, true},
                  {"trunk", {0.38, 0.25, 0.9}, 0.9, 0.25, figures(0.9, 60), 0.3, false, false, false},
                  {"ledge", {0.15, 0.45, 0.65}, 0.6, 0.25, figures(0.1, 10), 0.033, true, false, false}};
  found.fraction = {0.2, 0.2, 0.6};
  found.fraction_se = {0.001, 0.002, 0.001};
  found.levels = {{0.625, 0.25, {1, 0, 0}}, {1.375, 0.75, {0, 0, 1}}};
  found.way = CoveredWay{true, 0.3, 0.85, {0, 2, 3}};
  found.refuges = {{0.125, 0.3}, {0.625, 0.25}};
  found.heat_matters = true;
  found.uv_without_heat_length = 0.25;
  found.uv_without_heat = 1;
  return found;
}

}  // namespace

Survey animal_survey() {
  Survey survey = sample_survey();
  AnimalFindings& animal = survey.animal;
  animal.sun_perch = "sun perch";
  animal.bodies = {body("sun perch")};
  SizeFindings juvenile;
  juvenile.size = {"juvenile", 0.02, std::pair(0.1, 0.03)};
  juvenile.readings = {survey.readings[0]};
  animal.sizes = {juvenile};
  animal.closest = {{"uv tube",
                     {0.45, 0.24, 1.57},
                     0.18,
                     0.03,
                     "fine-mesh",
                     closest(Quantity::uvi, 9.4, 7.0),
                     closest(Quantity::irradiance, 80, {}),
                     closest(Quantity::uvi, 11.8, 7.0),
                     closest(Quantity::irradiance, 95, {})}};
  animal.mends = {{Quantity::uvi, 7, "uv tube", {0.45, 0.24, 1.57}, 0.045, 0.74, 2.21, kMostRaise}};
  animal.shelter = shelter();
  return survey;
}

}  // namespace boughlight
