#include "assess/leaf_spread.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

namespace boughlight {

// A receiver's open straight light under one drawing of the leaves, by lamp.
struct DrawnLight {
  std::vector<StraightSum> open;
  RayCount rays;
};
template <class Bytes, SameAs<DrawnLight> Light>
static void carry(Bytes& bytes, Light& light) {
  carry(bytes, light.open);
  carry(bytes, light.rays);
}

namespace {

constexpr std::uint32_t kSamples = 1024;

// The scene with every crown's leaves drawn from another seed.
Scene redrawn(const Scene& scene, std::uint64_t drawing) {
  Scene other = scene;
  for (Plant& plant : other.plants) plant.seed = mix64(plant.seed, drawing);
  return other;
}

// All receivers under one drawing. Its leaves are hung only where something of it is not known yet.
std::vector<DrawnLight> drawn_light(const Setting& setting, const std::vector<Receiver>& receivers,
                                    int drawing) {
  const FieldMemory& memory = setting.field.memory();
  std::vector<DrawnLight> lights(receivers.size());
  std::vector<LightKey> keys(receivers.size());
  std::vector<char> known(receivers.size(), 0);
  for (std::size_t i = 0; i < receivers.size(); ++i) {
    const Receiver& receiver = receivers[i];
    if (!memory || !receiver.where) continue;
    CanonicalBytes asked;
    asked.add("drawn leaves", drawing);
    identify(asked, receiver);
    keys[i] = memory.key(asked);
    known[i] = memory.read(keys[i], lights[i]);
  }
  if (std::all_of(known.begin(), known.end(), [](char is) { return is; })) return lights;
  std::optional<World> other;
  if (drawing > 0)
    other.emplace(redrawn(setting.scene, static_cast<std::uint64_t>(drawing)), TreeBuild::for_few_rays);
  const World& world = other ? *other : setting.field.world();
  tbb::parallel_for(std::size_t{0}, receivers.size(), [&](std::size_t i) {
    if (known[i]) return;
    lights[i] = {};
    lights[i].open = straight_open(setting.field, world, receivers[i], kSamples, lights[i].rays);
    if (receivers[i].where) memory.write(keys[i], lights[i]);
  });
  return lights;
}

}  // namespace

std::vector<std::map<Quantity, LeafSpread>> leaf_spreads(const Setting& setting,
                                                         const std::vector<Receiver>& receivers,
                                                         const std::vector<SensorSpot>& spots,
                                                         RayCount& spent) {
  std::vector<std::map<Quantity, LeafSpread>> spreads(receivers.size());
  if (setting.field.world().leaf_count() == 0) return spreads;
  std::vector<std::vector<DrawnLight>> drawings;  // [drawing][reading]
  for (int drawing = 0; drawing < kLeafDrawings; ++drawing) {
    drawings.push_back(drawn_light(setting, receivers, drawing));
    for (const DrawnLight& light : drawings.back()) spent += light.rays;
  }
  for (std::size_t i = 0; i < receivers.size(); ++i)
    for (const QuantityInfo& about : all_quantities()) {
      if (is_day_quantity(about.quantity) && !setting.has_day) continue;
      const std::vector<SpectralD> weights = setting.weights(about.quantity);
      double rest = 0;
      for (std::size_t source = 0; source < weights.size(); ++source)
        rest += spots[i].rest_value(weights, source);
      std::vector<double> values;
      for (const auto& drawing : drawings) {
        double value = rest;
        for (std::size_t lamp = 0; lamp < drawing[i].open.size(); ++lamp)
          value += drawing[i].open[lamp].weigh(weights[lamp]);
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
