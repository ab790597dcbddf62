#include "assess/output.h"

#include <algorithm>

namespace boughlight {

std::vector<QuantityBins> source_outputs(const Scene& scene, Power power) {
  std::vector<QuantityBins> outputs;
  for (const Lamp& lamp : scene.lamps) {
    QuantityBins sum = QuantityBins::Zero();
    for (const LampPart& part : lamp.fixture->parts)
      sum += part.ageing.at(lamp.burned_h) * dimmed_output(part, power == Power::full ? 1 : lamp.dim);
    outputs.push_back(sum);
  }
  if (scene.has_room_light()) outputs.push_back(scene.room->irradiance_w_m2 * scene.room->per_watt.weighted);
  return outputs;
}

std::vector<std::optional<double>> source_hours(const Scene& scene) {
  std::vector<std::optional<double>> hours;
  const auto add = [&](const std::optional<std::vector<ClockSpan>>& lit) {
    hours.push_back(lit ? std::optional(total_hours(*lit)) : std::nullopt);
  };
  for (const Lamp& lamp : scene.lamps) add(lamp.lit);
  if (scene.has_room_light()) add(scene.room->lit);
  return hours;
}

bool has_day_quantities(const Scene& scene) {
  return std::all_of(scene.lamps.begin(), scene.lamps.end(),
                     [](const Lamp& lamp) { return lamp.lit.has_value(); });
}

Importance importance_of(const Scene& scene) {
  const auto outputs = source_outputs(scene, Power::full);
  Importance importance;
  for (const Quantity quantity : {Quantity::uvi, Quantity::ppfd, Quantity::irradiance}) {
    SpectralD sum = SpectralD::Zero();
    for (const QuantityBins& output : outputs) sum += output.row(static_cast<int>(quantity)).transpose();
    if (!(sum.sum() > 0)) continue;
    // A little for every bin, so that no light is ever left out altogether.
    constexpr double kLittle = 1e-4;
    importance.purposes.push_back(((1 - kLittle) * sum / sum.sum() + kLittle / kBins).cast<float>());
  }
  if (importance.purposes.empty()) importance.purposes.push_back(Spectral::Constant(1.0f / kBins));
  return importance;
}

std::vector<SpectralD> quantity_weights(Quantity quantity, const std::vector<QuantityBins>& outputs,
                                        const std::vector<std::optional<double>>& hours) {
  const QuantityInfo& about = info(quantity);
  std::vector<SpectralD> weights;
  for (std::size_t source = 0; source < outputs.size(); ++source) {
    const double factor = is_day_quantity(quantity) ? about.per_hour * hours[source].value_or(0) : 1;
    weights.push_back(factor * outputs[source].row(static_cast<int>(about.of)).transpose());
  }
  return weights;
}

std::vector<Channel> channels_of(Quantity quantity, const std::vector<QuantityBins>& outputs) {
  std::vector<Channel> channels;
  for (std::size_t source = 0; source < outputs.size(); ++source)
    channels.push_back({static_cast<int>(source),
                        outputs[source].row(static_cast<int>(quantity)).transpose().cast<float>()});
  return channels;
}

}  // namespace boughlight
