// Light that comes straight from the lamps to a sensor, with what stands in its way taken in one thing after
// another: first nothing, then the meshes, the panes, and every surface. All from the same sample points, so
// that the ratios between them are known far better than the sums.
#pragma once

#include <vector>

#include "transport/gather.h"

namespace boughlight {

// Irradiance per unit of a lamp's emission, 1/m2 per watt: the same in every bin but for what crossed a pane.
struct StraightSum {
  double grey = 0;
  SpectralD spectral = SpectralD::Zero();

  SpectralD bins() const { return spectral + grey; }
  // The reading that weights on the bins make of it.
  double weigh(const SpectralD& weights) const { return grey * weights.sum() + (spectral * weights).sum(); }
};

template <class Bytes, SameAs<StraightSum> Sum>
void carry(Bytes& bytes, Sum& sum) {
  carry(bytes, sum.grey);
  carry(bytes, sum.spectral);
}

// One mesh material on a source's way.
struct MeshCrossing {
  // Layers of it that the light crosses: mean over all that the meshes let through to the place, from every
  // direction, with no surface in the way. Where nothing gets there, the layers between place and lamp.
  double crossings = 0;
  // How many times as much of that light there is with the layer nearest to the source taken away; 1 where
  // none is crossed.
  double gain_without_one = 1;
};
// The same on a lamp's way.
struct MeshWay : MeshCrossing {
  StraightSum open_crossings;    // `open`, each ray times the layers that it crosses
  StraightSum open_without_one;  // `open`, with the layer nearest to the lamp taken away
};

template <class Bytes, SameAs<MeshCrossing> Crossing>
void carry(Bytes& bytes, Crossing& crossing) {
  carry(bytes, crossing.crossings);
  carry(bytes, crossing.gain_without_one);
}
template <class Bytes, SameAs<MeshWay> Way>
void carry(Bytes& bytes, Way& way) {
  carry(bytes, way.crossings);
  carry(bytes, way.gain_without_one);
  carry(bytes, way.open_crossings);
  carry(bytes, way.open_without_one);
}

// One lamp's straight light at one sensor; what comes by way of mirrors is left out.
struct StraightLight {
  double faced = 0;             // 1/m2, free air, the sensor turned to the lamp's centre
  double free = 0;              // 1/m2, free air, the sensor as it faces
  double meshed = 0;            // 1/m2, behind the meshes alone
  StraightSum clear;            // behind meshes and panes
  StraightSum open;             // everything where it is
  std::vector<MeshWay> meshes;  // in the order of mesh_materials()
};

template <class Bytes, SameAs<StraightLight> Light>
void carry(Bytes& bytes, Light& light) {
  carry(bytes, light.faced);
  carry(bytes, light.free);
  carry(bytes, light.meshed);
  carry(bytes, light.clear);
  carry(bytes, light.open);
  carry(bytes, light.meshes);
}

// The scene's materials of which there is a mesh panel, rising.
std::vector<int> mesh_materials(const World& world);

// [lamp], from `samples` (a power of two stratifies best) places and points of each lamp. `world` need not be
// the field's own: the same scene with other leaves, say. The receiver's id fixes the samples.
std::vector<StraightLight> straight_light(const LightField& field, const World& world,
                                          const Receiver& receiver, std::uint32_t samples, RayCount& rays);
// `open` alone, from the same points.
std::vector<StraightSum> straight_open(const LightField& field, const World& world, const Receiver& receiver,
                                       std::uint32_t samples, RayCount& rays);

// By mesh_materials(): what the room's light crosses on its way to a sensor, as the rays have it that come in
// from outside straight; those with a surface in the way where there are no others.
std::vector<MeshCrossing> room_ways(const LightField& field, const Receiver& receiver, std::uint32_t samples,
                                    RayCount& rays);

// [lamp] direct light that comes by way of panes, as mirrors, from samples of its own.
std::vector<StraightSum> mirrored_light(const LightField& field, const Receiver& receiver,
                                        std::uint32_t samples, RayCount& rays);

// Change of `open` for each metre that the sensor, or the lamp, is raised: 1/m3 per watt.
struct HeightSlope {
  StraightSum sensor, lamp;
};
template <class Bytes, SameAs<HeightSlope> Slope>
void carry(Bytes& bytes, Slope& slope) {
  carry(bytes, slope.sensor);
  carry(bytes, slope.lamp);
}
// Whether shadows are found anew at the moved place, or go with it as a crown's own leaves do.
enum class Shadows { stay_put, go_along };
// [lamp], from the difference between `step` (m) higher and lower, with the same random numbers; from one
// side only where a surface or a panel is in the way of the other, and 0 where both are closed.
std::vector<HeightSlope> height_slopes(const Scene& scene, const LightField& field, const Receiver& receiver,
                                       Shadows shadows, float step, std::uint32_t samples, RayCount& rays);

}  // namespace boughlight
