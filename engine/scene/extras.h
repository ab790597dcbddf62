// What a scene's file says that only planning asks for: what may be changed, and what was measured before.
#pragma once

#include <filesystem>
#include <memory>
#include <vector>

#include "scene/model.h"

namespace boughlight {

struct LampExtras {
  bool has_dimmer = false;  // `dim` is declared, if only as 100 %
  // What the section `measured` says, times the fixture's own output, by part: already in Lamp::fixture.
  // Empty: nothing.
  std::vector<double> measured_factors;
  // Other fixtures that may hang in its stead (`choose`).
  std::vector<std::shared_ptr<const Fixture>> choices;
};

struct SceneExtras {
  std::vector<LampExtras> lamps;     // beside Scene::lamps
  std::vector<double> mesh_factors;  // beside Scene::materials: `measured`, on each layer; already in soiling
};

struct PlannedScene {
  Scene scene;
  SceneExtras extras;
};

// load_scene() with these. Throws InputError.
PlannedScene load_planned_scene(const std::filesystem::path& file);

}  // namespace boughlight
