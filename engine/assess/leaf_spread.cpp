#include "assess/leaf_spread.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

namespace boughlight {
namespace {

constexpr std::uint32_t kSamples = 1024;

// The scene with every crown's leaves drawn from another seed.
Scene redrawn(const Scene& scene, std::uint64_t drawing) {
  Scene other = scene;
  for (Plant& plant : other.plants) plant.seed = mix64(plant.seed, drawing);
  return other;
}

}  // namespace

std::vector<std::map<Quantity, LeafSpread>> leaf_spreads(const Setting& setting,
                                                         const std::vector<Receiver>& receivers,
                                                         const std::vector<SensorSpot>& spots,
                                                         RayCount& spent) {
  std::vector<std::map<Quantity, LeafSpread>> spreads(receivers.size());
  if (setting.field.world().leaf_count() == 0) return spreads;
  std::vector<std::vector<std::vector<StraightSum>>> open(kLeafDrawings);  // [drawing][reading][lamp]
  for (int drawing = 0; drawing < kLeafDrawings; ++drawing) {
    const World* world = &setting.field.world();
    std::unique_ptr<World> other;
    if (drawing > 0) {
      other = std::make_unique<World>(redrawn(setting.scene, static_cast<std::uint64_t>(drawing)));
      world = other.get();
    }
    auto& readings = open[static_cast<std::size_t>(drawing)];
    readings.resize(receivers.size());
    std::vector<RayCount> rays(receivers.size());
    tbb::parallel_for(std::size_t{0}, receivers.size(), [&](std::size_t i) {
      readings[i] = straight_open(setting.field, *world, receivers[i], kSamples, rays[i]);
    });
    for (const RayCount& count : rays) spent += count;
  }
  for (std::size_t i = 0; i < receivers.size(); ++i)
    for (const QuantityInfo& about : all_quantities()) {
      if (is_day_quantity(about.quantity) && !setting.has_day) continue;
      const std::vector<SpectralD> weights = setting.weights(about.quantity);
      double rest = 0;
      for (std::size_t source = 0; source < weights.size(); ++source)
        rest += spots[i].rest_value(weights, source);
      std::vector<double> values;
      for (const auto& drawing : open) {
        double value = rest;
        for (std::size_t lamp = 0; lamp < drawing[i].size(); ++lamp)
          value += drawing[i][lamp].weigh(weights[lamp]);
        values.push_back(value);
      }
      LeafSpread& spread = spreads[i][about.quantity];
      for (const double value : values) spread.mean += value / kLeafDrawings;
      double variance = 0;
      for (const double value : values)
        variance += (value - spread.mean) * (value - spread.mean) / (kLeafDrawings - 1);
      const auto [low, high] = std::minmax_element(values.begin(), values.end());
      // Rounding alone is no spread.
      spread.relative_sd = *low < *high ? std::sqrt(variance) / spread.mean : 0;
    }
  return spreads;
}

}  // namespace boughlight
