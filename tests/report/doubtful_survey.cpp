#include "doubtful_survey.h"

#include <cmath>

namespace boughlight {
namespace {

Band band(double value, double log_sd) {
  Band made{value * std::exp(-1.96 * log_sd), value * std::exp(1.96 * log_sd), log_sd, {}};
  made.causes = {
      {CauseKind::lamp, "uv tube", 0.6}, {CauseKind::mesh, "fine-mesh", 0.3}, {CauseKind::height, "", 0.1}};
  return made;
}

LossChain chain(double value) {
  LossChain made;
  made.lamp = "uv tube";
  made.quantity = Quantity::uvi;
  made.start = 4;
  made.start_m = 0.3;
  made.declared = true;
  made.losses = {
      {"age", 0.9},  {"dimmer", 1.0}, {"distance_and_shape", 0.7},  {"slant", 1.0},
      {"mesh", 0.6}, {"panes", 1.0},  {"leaves_and_branches", 1.0}, {"reflection_gained", value / 1.512}};
  made.value = value;
  made.reflected = value - 1.512;
  return made;
}

}  // namespace

Survey doubtful_survey() {
  Survey survey = sample_survey();
  Reading& perch = survey.readings[0];
  const double uvi = perch.values.at(Quantity::uvi).value;
  perch.wants[0].want.limits = {uvi * 0.9, uvi * 1.8};
  perch.wants[0].verdict = Verdict::met;
  survey.doubt.readings.resize(survey.readings.size());
  for (std::size_t i = 0; i < survey.readings.size(); ++i) {
    for (const auto& [quantity, figure] : survey.readings[i].values) {
      survey.doubt.readings[i].bands[quantity] = band(figure.value, 0.2);
      survey.doubt.readings[i].leaves[quantity] = {0.95 * figure.value, 0.12};
    }
    for (WantResult& want : survey.readings[i].wants) want.firm = want.verdict == Verdict::met && i > 0;
  }
  survey.doubt.readings[0].chains = {chain(uvi)};
  survey.doubt.leaf_drawings = 8;
  survey.doubt.hottest_uvi = band(survey.hottest->uvi.figure.value, 0.2);
  survey.hottest->uvi.firm = false;

  FailureCase out{"lamp-out", "uv tube", "'uv tube' goes out", {}, {}, {}};
  out.breaks = {{"sun perch", Quantity::uvi, {0.01, 0.001, {}}, 2.5, Verdict::below, false},
                {"shade fork", Quantity::uvi, {0.7, 0.001, {}}, 0.5, Verdict::above, false},
                {"", Quantity::irradiance, {1290, 9, {}}, 1000, Verdict::above, true}};
  FailureCase hot{"hot-room", "", "the room is at 31 C", {}, 31, {}};
  survey.doubt.failures = {out, hot};

  MeterRow first{"sun perch",
                 "where the animal's back is",
                 {0.45, 0.32, 1.43},
                 Vec3::UnitZ(),
                 "uv tube",
                 "",
                 Quantity::uvi,
                 uvi,
                 0.6 * uvi,
                 1.6 * uvi,
                 true};
  MeterRow second{"on the screen under basking flood",
                  "",
                  {0.55, -0.1, 1.61},
                  Vec3(-1, 1, 1).normalized(),
                  "",
                  "basking flood",
                  Quantity::lux,
                  12345.678,
                  8000,
                  19000,
                  false};
  MeterRow third{"low, \"ledge\"",
                 "",
                 {0.15, 0.45, 0.65},
                 -Vec3::UnitX(),
                 "",
                 "",
                 Quantity::irradiance,
                 15,
                 9,
                 24,
                 true};
  survey.doubt.meter = {{first, second, third}, 0.2, 0.1};
  return survey;
}

}  // namespace boughlight
