// Everything that stays as it is while one lamp is moved, turned up or swapped.
#pragma once

#include <memory>
#include <vector>

#include "assess/setting.h"

namespace boughlight {

class Standing {
 public:
  // `lamp`: index into scene.lamps.
  Standing(const Scene& scene, std::size_t lamp);
  Standing(const Standing&) = delete;
  Standing& operator=(const Standing&) = delete;

  const Scene& scene() const { return *scene_; }
  std::size_t lamp_index() const { return lamp_; }
  const Lamp& lamp() const { return scene_->lamps[lamp_]; }
  // The scene without that lamp, its light, and what its sources give.
  const Scene& rest_scene() const { return *rest_scene_; }
  const LightField& rest_field() const { return *rest_field_; }
  const LightField& field() const { return *field_; }  // with it, as declared

  Setting& setting() { return *setting_; }
  const Setting& setting() const { return *setting_; }
  const Setting& rest() const { return *rest_; }

  // Of the lamp alone, as declared: what its response counts for, in a quantity's own unit.
  Spectral lamp_weights(Quantity quantity) const;

 private:
  std::unique_ptr<Scene> scene_, rest_scene_;
  std::size_t lamp_;
  std::unique_ptr<LightField> field_, rest_field_;
  std::unique_ptr<Setting> setting_, rest_;
};

}  // namespace boughlight
