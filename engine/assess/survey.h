// The whole survey: traces every receiver, judges every want.
#pragma once

#include <functional>
#include <string>

#include "assess/first_look.h"
#include "assess/results.h"
#include "transport/light_store.h"

namespace boughlight {

struct SurveyControl {
  int threads = 0;  // 0: all
  // Called from one thread at a time with what is being done and the share of the whole done (0..1).
  std::function<void(const std::string& stage, double share)> progress{};
  FirstLookTeller first_look{};  // called once at most, early on
  // Where light that is traced is kept for another survey of the same enclosure and lamps, whatever dimmers,
  // hours, ages, wants and names it has. Null: nowhere. Results are the same in every bit.
  std::shared_ptr<LightCache> cache{};
};

// Uses scene.survey's seed, tolerance and spacing. The result is fixed by the scene alone, whatever the
// threads. Throws std::runtime_error when a sample is negative or not finite.
Survey run_survey(const Scene& scene, const SurveyControl& control = {});

}  // namespace boughlight
