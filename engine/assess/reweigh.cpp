#include "assess/reweigh.h"

#include <cmath>

#include "assess/judge.h"

namespace boughlight {
namespace {

// How a source's light at a spot is scaled: what comes straight, and the rest.
struct Scale {
  double straight = 1, rest = 1;
};

Scale scale_of(const Reweighing& how, const SensorSpot* spot, std::size_t source, const SpectralD& weights) {
  Scale scale;
  if (!spot) return scale;
  // None for the room, whose light has no straight part.
  const StraightLight* const light = source < spot->light.size() ? &spot->light[source] : nullptr;
  const double open = light ? light->open.weigh(weights) : 0;
  if (how.mesh_off) {
    const MeshCrossing& way = spot->way(source, *how.mesh_off);
    scale.rest *= way.gain_without_one;
    scale.straight *=
        open > 0 ? light->meshes[*how.mesh_off].open_without_one.weigh(weights) / open : way.gain_without_one;
  }
  for (std::size_t mesh = 0; mesh < how.mesh_factors.size(); ++mesh) {
    const double factor = how.mesh_factors[mesh];
    if (factor == 1) continue;
    const MeshCrossing& way = spot->way(source, mesh);
    const double layers = open > 0 ? light->meshes[mesh].open_crossings.weigh(weights) / open : way.crossings;
    scale.straight *= std::pow(factor, layers);
    scale.rest *= std::pow(factor, way.crossings);
  }
  return scale;
}

}  // namespace

std::vector<double> reweighed_replicates(const Reweighing& how, const TracedSpot& at, Quantity quantity) {
  const Response& response = *at.response;
  const std::vector<SpectralD> weights = quantity_weights(quantity, how.outputs, how.day_outputs);
  std::vector<double> values(kReplicates, 0.0);
  for (std::size_t source = 0; source < response.sources; ++source) {
    const Scale scale = scale_of(how, at.spot, source, weights[source]);
    for (int replicate = 0; replicate < kReplicates; ++replicate) {
      const std::size_t i = response.at(replicate, source);
      values[static_cast<std::size_t>(replicate)] +=
          scale.straight * (response.direct[i].cast<double>() * weights[source]).sum() +
          scale.rest * (response.indirect[i].cast<double>() * weights[source]).sum();
    }
  }
  return values;
}

Figure reweighed(const Reweighing& how, const TracedSpot& at, Quantity quantity) {
  return figure_of(reweighed_replicates(how, at, quantity));
}

std::vector<double> reweighed_irradiance(const Reweighing& how, const SensorSpot& spot) {
  const std::vector<SpectralD> weights = quantity_weights(Quantity::irradiance, how.outputs, how.day_outputs);
  std::vector<double> values;
  for (std::size_t source = 0; source < weights.size(); ++source) {
    const Scale scale = scale_of(how, &spot, source, weights[source]);
    values.push_back(scale.straight * spot.straight_value(weights, source) +
                     scale.rest * spot.rest_value(weights, source));
  }
  return values;
}

}  // namespace boughlight
