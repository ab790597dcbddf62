#include "plan/standing.h"

namespace boughlight {
namespace {

std::unique_ptr<Scene> without_lamp(const Scene& scene, std::size_t lamp) {
  auto rest = std::make_unique<Scene>(scene);
  rest->lamps.erase(rest->lamps.begin() + static_cast<std::ptrdiff_t>(lamp));
  return rest;
}

// The lamp's own body would stay behind when it moves: it is left away.
std::unique_ptr<Scene> without_body(const Scene& scene, std::size_t lamp) {
  auto bare = std::make_unique<Scene>(scene);
  auto fixture = std::make_shared<Fixture>(*bare->lamps[lamp].fixture);
  fixture->body.reset();
  bare->lamps[lamp].fixture = fixture;
  return bare;
}

}  // namespace

Standing::Standing(const Scene& scene, std::size_t lamp)
    : scene_(without_body(scene, lamp)),
      rest_scene_(without_lamp(scene, lamp)),
      lamp_(lamp),
      field_(std::make_unique<LightField>(*scene_, importance_of(*scene_))),
      rest_field_(std::make_unique<LightField>(*field_, rest_scene_->lamps)),
      setting_(std::make_unique<Setting>(setting_of(*scene_, *field_))),
      rest_(std::make_unique<Setting>(setting_of(*rest_scene_, *rest_field_))) {}

Spectral Standing::lamp_weights(Quantity quantity) const {
  return setting_->weights(quantity)[lamp_].cast<float>();
}

}  // namespace boughlight
