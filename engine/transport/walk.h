// One light path through the scene, followed from surface to surface by chance. The same walk serves a
// receiver (against the light) and a lamp (with the light); only mesh, which is not symmetric, tells them
// apart.
#pragma once

#include "transport/directions.h"
#include "transport/light_field.h"

namespace boughlight {

enum class Travel { against_light, with_light };

// What a path has met before one of its pieces.
enum class Met {
  nothing,  // or meshes that it went straight through: the same of every bin is left
  panes,    // that it went straight through
  surface   // a surface, a mesh or a mirror, that it left in another direction
};

// Where a path scatters, for connecting it to the lamps.
struct ScatterSite {
  Vec3f place;
  Vec3f normal;                            // unit, on the side the path came from
  const DiffuseOptics* diffuse = nullptr;  // a surface, or else ...
  const Panel* mesh = nullptr;             // ... a mesh, of which
  int layer = 0;                           // it is this one

  // Light arriving from `direction` (towards its source): what leaves towards where the path came from is
  // colour x scalar x irradiance on a sensor facing it, as radiance (1/sr). Includes the cosine at the
  // surface.
  struct Kernel {
    const Spectral* colour;
    float scalar;
  };
  Kernel kernel(const World& world, const Vec3f& direction) const {
    const float cosine = normal.dot(direction);
    const float lambert = std::abs(cosine) * kInversePi;
    if (diffuse) return {cosine > 0 ? &diffuse->reflectance : &diffuse->transmittance, lambert};
    const MeshShares shares = world.mesh_shares(*mesh, layer, direction);
    // The light comes through the layers between this one and the side that it comes from.
    const bool from_above = mesh->normal.dot(direction) > 0;
    const float left = from_above ? world.mesh_straight(*mesh, layer + 1, mesh->layers - layer - 1, direction)
                                  : world.mesh_straight(*mesh, 0, layer, direction);
    return {&world.mesh(*mesh).reflectance(), lambert * left * (cosine > 0 ? shares.back : shares.forward)};
  }
};

// Visitor:
//   void segment(origin, direction, distance, throughput, Met): a straight piece of the path (distance may be
//     infinite).
//   void vertex(const ScatterSite&, throughput): before the path goes on from there; with `throughput` as it
//     arrives, whatever the path does next.
//   void escape(direction, throughput): the path has left the scene.
// Throughput is relative to the start: dimensionless, an unbiased weight for every bin.
template <Travel kTravel, class Visitor>
void walk(const LightField& field, Vec3f origin, Vec3f direction, Spectral throughput, PairSampler& sampler,
          RayCount& rays, Visitor& visitor) {
  const World& world = field.world();
  const Importance& importance = field.importance();
  const float offset = world.offset();
  const float start_importance = importance.of(throughput);
  if (!(start_importance > 0)) return;
  float carried = start_importance;  // importance.of(throughput), always
  Met met = Met::nothing;
  // Only the first bounces look for lamps: each time it costs a little of all other light.
  constexpr int kLookingBounces = 2;
  constexpr float kTowardsLamps = 0.2f;
  // What carries on after so many is in a cavity that loses little.
  constexpr int kBrightBounces = 8;
  int bounces = 0;

  const auto scale = [&](float factor) { throughput *= factor, carried *= factor; };
  // Ends the path by chance where little is left, without bias. False when it ends. What carries more than a
  // fair part of the start goes on: in a bright cavity the number of bounces would else be the greatest
  // noise.
  const auto survives = [&](float chance) {
    const float left = carried / start_importance;
    if (!(left > 0)) return false;
    const float fair = bounces < kBrightBounces ? 0.25f : 0.05f;
    constexpr float kMost = 0.9998f;  // so that even perfect mirrors end
    const float survival = std::min(left / fair, kMost);
    if (chance >= survival) return false;
    scale(1 / survival);
    return true;
  };
  // Splits by chance between two ways, in proportion to what each carries (importance): whichever is taken
  // then carries both's. True for the first; `factor` is what the throughput along the way taken is to be
  // multiplied by.
  const auto first_of = [&](float first, float second, float chance, float& factor) {
    const float share = first / (first + second);
    const bool takes_first = chance < share;
    factor = 1 / (takes_first ? share : 1 - share);
    carried = first + second;
    return takes_first;
  };

  for (;;) {
    Hit hit;
    ++rays.closest;
    const bool found = world.closest(origin, direction, hit);
    const float reach = found ? hit.distance : std::numeric_limits<float>::infinity();
    float travelled = 0;
    bool turned = false;  // the path took a new direction at a panel
    for (;;) {
      float at = 0;
      const int index = world.next_panel(origin, direction, travelled, reach, at);
      const float until = index < 0 ? reach : at;
      visitor.segment(Vec3f(origin + travelled * direction), direction, until - travelled, throughput, met);
      if (index < 0) break;
      travelled = at;
      const Panel& panel = world.panels()[static_cast<std::size_t>(index)];
      const Vec3f normal = panel.normal.dot(direction) > 0 ? Vec3f(-panel.normal) : panel.normal;
      const Vec3f crossing = world.kept_inside(origin, origin + at * direction, normal);
      float factor = 1;
      if (panel.kind == Panel::Kind::pane) {
        Spectral transmittance, reflectance;
        world.pane_shares(panel, direction, transmittance, reflectance);
        const float through = importance.of(throughput * transmittance);
        const float mirrored = importance.of(throughput * reflectance);
        if (!(through + mirrored > 0)) return;
        const Pair pair = sampler.next();
        if (first_of(through, mirrored, pair.u, factor)) {
          throughput *= factor * transmittance;
          if (met == Met::nothing) met = Met::panes;
          continue;
        }
        throughput *= factor * reflectance;
        if (!survives(pair.v)) return;
        direction = (direction + 2 * std::abs(normal.dot(direction)) * normal).normalized();
        origin = crossing + offset * normal;
      } else {
        const Spectral& wires = world.mesh(panel).reflectance();
        Vec3f facing = normal;  // the layer's side that the path comes from
        bool scattered = false;
        // From layer to layer, until the path leaves the last on either side.
        const auto upward = [&] { return panel.normal.dot(direction) > 0; };
        for (int layer = upward() ? 0 : panel.layers - 1; layer >= 0 && layer < panel.layers;
             layer += upward() ? 1 : -1) {
          const MeshShares shares = world.mesh_shares(panel, layer, direction);
          const float straight = shares.straight * carried, scattering = shares.back + shares.forward;
          const float scatter = scattering * importance.of(throughput * wires);
          if (!(straight + scatter > 0)) return;
          // The mesh's own light is asked for at every crossing, whichever way the path then goes.
          if (scatter > 0) visitor.vertex(ScatterSite{crossing, facing, nullptr, &panel, layer}, throughput);
          const Pair pair = sampler.next();
          if (first_of(straight, scatter, pair.u, factor)) {
            throughput *= factor * shares.straight;
            continue;
          }
          throughput *= (factor * scattering) * wires;
          // The side is chosen by what the mesh does with the direction at hand: exact with the light, a fair
          // guess against it.
          const float back_share = shares.back / scattering;
          const Pair turn = sampler.next(), choice = sampler.next();
          const bool back = choice.u < back_share;
          if (!back) facing = -facing;
          direction = sample_cosine(facing, turn);
          facing = -facing;
          if constexpr (kTravel == Travel::against_light) {
            const MeshShares arriving = world.mesh_shares(panel, layer, direction);
            scale((back ? arriving.back / back_share : arriving.forward / (1 - back_share)) / scattering);
          }
          if (!survives(choice.v)) return;
          scattered = true;
        }
        if (!scattered) continue;
        origin = crossing - offset * facing;
      }
      met = Met::surface;
      turned = true;
      break;
    }
    if (turned) continue;
    if (!found) {
      visitor.escape(direction, throughput);
      return;
    }
    const DiffuseOptics& optics = world.diffuse(hit.optics);
    const Vec3f& place = hit.place;
    visitor.vertex(ScatterSite{place, hit.normal, &optics, nullptr}, throughput);
    const float reflected = importance.of(throughput * optics.reflectance);
    const float transmitted = optics.transmits ? importance.of(throughput * optics.transmittance) : 0;
    if (!(reflected + transmitted > 0)) return;
    const Pair choice = sampler.next(), turn = sampler.next();
    float factor = 1;
    const bool back = first_of(reflected, transmitted, choice.u, factor);
    throughput *= factor * (back ? optics.reflectance : optics.transmittance);
    if (!survives(choice.v)) return;
    const Vec3f side = back ? hit.normal : Vec3f(-hit.normal);
    if constexpr (kTravel == Travel::with_light) {
      direction = sample_cosine(side, turn);
    } else {
      const BounceDirections ways(field.lamp_cones(), place, side,
                                  bounces < kLookingBounces ? kTowardsLamps : 0);
      direction = ways.sample(turn);
      const float weight = ways.weight(direction);
      if (!(weight > 0)) return;
      scale(weight);
    }
    ++bounces;
    origin = place + offset * side;
    met = Met::surface;
  }
}

}  // namespace boughlight
