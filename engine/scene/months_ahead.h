// What a scene says of the months to come: the section `outlook`. The scene itself stays as it stands today.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "scene/growth_curve.h"
#include "scene/model.h"

namespace boughlight {

// The share of its light that a mesh loses each month where nothing is said: at this rate it comes down to
// 70 % within a year, at which keepers clean (common practice, no source).
inline constexpr double kUsualFouling = 0.03;
inline constexpr double kDaysAMonth = 30.4375;  // a twelfth of the Julian year of 365.25 days

// The animal from a month on; between two of them it grows evenly.
struct AnimalAhead {
  double month = 0;
  double back = 0;                                // m
  std::optional<std::pair<double, double>> body;  // length, height, m
};

struct MonthsAhead {
  double months = 12;
  double step = 1;  // months
  // By mesh material; one that is missing has `fouling`.
  std::map<std::string, double> fouling_of;
  double fouling = kUsualFouling;
  bool fouling_given = false;                  // for all meshes of the scene
  std::map<std::string, GrowthCurve> growing;  // by plant; the others stay as they are
  std::vector<AnimalAhead> animal;             // by month; empty: it does not grow

  // The share of its clean light that a mesh still lets through, per layer.
  double mesh_factor(const std::string& material, double month) const;
};

struct SceneAhead {
  Scene scene;
  MonthsAhead ahead;
};
// As load_scene(), with what lies ahead.
SceneAhead load_scene_ahead(const std::filesystem::path& file);

// The scene as it stands at a month: crowns grown, lamps burned by their hours (one without `lit` does not
// age), the animal grown. Fouling is not in it (see MonthsAhead::mesh_factor).
Scene scene_at(const Scene& scene, const MonthsAhead& ahead, double month);

}  // namespace boughlight
