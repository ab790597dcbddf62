// What a straight ray meets of the meshes. Private to this room.
#pragma once

#include <algorithm>
#include <vector>

#include "transport/straight_light.h"

namespace boughlight {

// What one ray meets of the meshes, and what the panes leave of it.
class Crossings {
 public:
  explicit Crossings(const World& world) : world_(world), materials_(mesh_materials(world)) {}

  void follow(const Vec3f& origin, const Vec3f& direction, float distance) {
    layers_.clear();
    panes_ = {};
    world_.crossed(origin, direction, distance, [&](const Panel& panel, float at) {
      if (panel.kind == Panel::Kind::mesh) {
        const auto mesh = std::lower_bound(materials_.begin(), materials_.end(), panel.material);
        // The dirty one first, so that it is a clean one that is taken away.
        for (int i = 0; i < panel.layers; ++i)
          layers_.push_back(
              {static_cast<std::size_t>(mesh - materials_.begin()), at,
               world_.mesh_straight(panel, (panel.dirty_layer + i) % panel.layers, 1, direction)});
      } else {
        Spectral transmittance, reflectance;
        world_.pane_shares(panel, direction, transmittance, reflectance);
        panes_.multiply(transmittance);
      }
    });
  }

  std::size_t meshes() const { return materials_.size(); }
  const Straight& panes() const { return panes_; }
  int count(std::size_t mesh) const {
    return static_cast<int>(std::count_if(layers_.begin(), layers_.end(),
                                          [mesh](const Layer& layer) { return layer.mesh == mesh; }));
  }
  float transmittance() const { return product(nullptr); }
  // With the layer of a mesh that is nearest to the ray's end taken away.
  float without_last(std::size_t mesh) const {
    const Layer* last = nullptr;
    for (const Layer& layer : layers_)
      if (layer.mesh == mesh && (!last || layer.at >= last->at)) last = &layer;
    return product(last);
  }

 private:
  struct Layer {
    std::size_t mesh;
    float at, transmittance;
  };
  float product(const Layer* left_out) const {
    float all = 1;
    for (const Layer& layer : layers_)
      if (&layer != left_out) all *= layer.transmittance;
    return all;
  }

  const World& world_;
  std::vector<int> materials_;
  std::vector<Layer> layers_;
  Straight panes_;
};

}  // namespace boughlight
