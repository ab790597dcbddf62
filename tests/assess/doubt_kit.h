// A survey's readings with everything that is found out about their doubts.
#pragma once

#include <gtest/gtest.h>

#include "assess/doubt.h"
#include "assess/field_cells.h"
#include "assess/hottest.h"
#include "assess/readings.h"
#include "assess/survey_kit.h"

namespace boughlight::kit {

// Readings and doubts, and with an animal the hottest places; no grid in the result.
inline Survey doubts_of(Stage& stage) {
  Survey survey;
  survey.scene = stage.scene();
  survey.leaf_count = stage.field().world().leaf_count();
  take_readings(stage.setting(), survey);
  if (stage.scene().animal) survey.hottest = find_hottest(stage.setting(), light_cells(stage.setting()));
  find_doubt(stage.setting(), survey);
  return survey;
}
inline Survey doubts_of(Scene scene) {
  Stage stage(std::move(scene));
  return doubts_of(stage);
}

inline std::shared_ptr<Fixture> own_fixture(Lamp& lamp) {
  auto fixture = std::make_shared<Fixture>(*lamp.fixture);
  lamp.fixture = fixture;
  return fixture;
}

// The factor of a loss; NaN where it has none.
inline double factor(const LossChain& chain, std::string_view name) {
  for (const Loss& loss : chain.losses)
    if (loss.name == name) return loss.factor.value_or(std::nan(""));
  ADD_FAILURE() << "no loss is called " << name;
  return 0;
}

inline double product(const LossChain& chain) {
  double product = chain.start;
  for (const Loss& loss : chain.losses) product *= loss.factor.value_or(1);
  return product;
}

inline const FailureCase& failure(const Survey& survey, std::string_view kind, std::string_view name = "") {
  for (const FailureCase& about : survey.doubt.failures)
    if (about.kind == kind && about.name == name) return about;
  throw std::runtime_error("no such failure case");
}

}  // namespace boughlight::kit
