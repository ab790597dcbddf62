#include "assess/output.h"

#include <algorithm>
#include <array>

#include "transport/light_field.h"

namespace boughlight {

namespace {

// Mean of the outputs over a ramp, in which the setting runs evenly from 0 to `dim`.
QuantityBins mean_over_ramp(const Lamp& lamp, double dim) {
  const bool evenly = std::all_of(lamp.fixture->parts.begin(), lamp.fixture->parts.end(),
                                  [](const LampPart& part) { return !part.filament_k; });
  if (evenly) return 0.5 * lamp_output(lamp, dim);
  // Gauss-Legendre with 8 points on each half; the output rises smoothly from nothing (its ultraviolet about
  // as the fifth power of the setting), so the error is far below 0.1 %.
  constexpr std::array<double, 4> kAt = {0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
                                         0.9602898564975363};
  constexpr std::array<double, 4> kWeight = {0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
                                             0.1012285362903763};
  QuantityBins mean = QuantityBins::Zero();
  for (const double middle : {0.25, 0.75})
    for (std::size_t k = 0; k < kAt.size(); ++k)
      for (const double side : {-1.0, 1.0})
        mean += 0.25 * kWeight[k] * lamp_output(lamp, dim * (middle + side * 0.25 * kAt[k]));
  return mean;
}

}  // namespace

QuantityBins lamp_output(const Lamp& lamp, double setting) {
  QuantityBins sum = QuantityBins::Zero();
  for (const LampPart& part : lamp.fixture->parts)
    sum += part.ageing.at(lamp.burned_h) * dimmed_output(part, setting);
  return sum;
}

std::vector<QuantityBins> source_outputs(const Scene& scene, Power power) {
  std::vector<QuantityBins> outputs;
  for (const Lamp& lamp : scene.lamps)
    outputs.push_back(lamp_output(lamp, power == Power::full ? 1 : lamp.dim));
  if (scene.has_room_light()) outputs.push_back(scene.room->irradiance_w_m2 * scene.room->per_watt.weighted);
  return outputs;
}

std::vector<QuantityBins> fresh_outputs(const Scene& scene) {
  Scene fresh;
  fresh.lamps = scene.lamps;
  fresh.room = scene.room;
  for (Lamp& lamp : fresh.lamps) lamp.burned_h = 0;
  return source_outputs(fresh, Power::full);
}

double lit_share(const std::vector<ClockSpan>& lit, double ramp_h, double clock_h) {
  for (const ClockSpan& span : joined_over_midnight(lit))
    for (const double hour : {clock_h, clock_h + 24}) {
      if (hour < span.from_h || hour >= span.to_h) continue;
      if (ramp_h <= 0) return 1;
      return std::min({1.0, (hour - span.from_h) / ramp_h, (span.to_h - hour) / ramp_h});
    }
  return 0;
}

std::optional<QuantityBins> lamp_day_output(const Lamp& lamp, double setting) {
  if (!lamp.lit) return std::nullopt;
  const auto spans = static_cast<double>(joined_over_midnight(*lamp.lit).size());
  const double ramping_h = 2 * lamp.ramp_h * spans;
  QuantityBins day = (total_hours(*lamp.lit) - ramping_h) * lamp_output(lamp, setting);
  if (ramping_h > 0) day += ramping_h * mean_over_ramp(lamp, setting);
  return day;
}

DayOutputs day_outputs(const Scene& scene, Power power) {
  DayOutputs day;
  for (const Lamp& lamp : scene.lamps)
    day.push_back(lamp_day_output(lamp, power == Power::full ? 1 : lamp.dim));
  if (!scene.has_room_light()) return day;
  day.emplace_back();
  if (scene.room->lit)
    day.back() = total_hours(*scene.room->lit) * scene.room->irradiance_w_m2 * scene.room->per_watt.weighted;
  return day;
}

bool has_day_quantities(const Scene& scene) {
  return std::all_of(scene.lamps.begin(), scene.lamps.end(),
                     [](const Lamp& lamp) { return lamp.lit.has_value(); });
}

Importance importance_of(const Scene& scene) {
  const auto outputs = fresh_outputs(scene);
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
                                        const DayOutputs& day) {
  const QuantityInfo& about = info(quantity);
  const auto row = static_cast<int>(about.of);
  std::vector<SpectralD> weights(outputs.size(), SpectralD::Zero());
  for (std::size_t source = 0; source < outputs.size(); ++source) {
    if (!is_day_quantity(quantity)) {
      weights[source] = outputs[source].row(row).transpose();
    } else if (day[source]) {
      weights[source] = about.per_hour * day[source]->row(row).transpose();
    }
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

Eigen::ArrayXd output_ratios(Quantity quantity, const std::vector<QuantityBins>& outputs,
                             const std::vector<QuantityBins>& reference) {
  const auto row = static_cast<int>(quantity);
  Eigen::ArrayXd ratios(static_cast<Eigen::Index>(outputs.size()));
  for (std::size_t source = 0; source < outputs.size(); ++source) {
    const double whole = reference[source].row(row).sum();
    ratios[static_cast<Eigen::Index>(source)] = whole > 0 ? outputs[source].row(row).sum() / whole : 0;
  }
  return ratios;
}

}  // namespace boughlight
