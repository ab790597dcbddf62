#include "assess/lamp_sheet.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace boughlight {
namespace {

double weighted(const LampPart& part, Quantity quantity) {
  return part.radiant_flux_w * part.per_watt.total(quantity);
}

PartSheet part_sheet(const LampPart& part) {
  PartSheet sheet;
  sheet.name = part.name;
  sheet.radiant_flux_w = part.radiant_flux_w;
  sheet.uvc_w = weighted(part, Quantity::uvc);
  sheet.uvb_w = weighted(part, Quantity::uvb);
  sheet.uva_w = weighted(part, Quantity::uva);
  sheet.infrared_w = weighted(part, Quantity::infrared);
  const int first = bin_of(400), last = bin_of(700);
  sheet.visible_w = part.radiant_flux_w * part.per_watt.power.segment(first, last - first).sum();
  sheet.luminous_flux_lm = weighted(part, Quantity::lux);
  sheet.photon_flux_umol_s = weighted(part, Quantity::ppfd);
  return sheet;
}

void add(PartSheet& sum, const PartSheet& part) {
  sum.radiant_flux_w += part.radiant_flux_w;
  sum.uvc_w += part.uvc_w;
  sum.uvb_w += part.uvb_w;
  sum.uva_w += part.uva_w;
  sum.visible_w += part.visible_w;
  sum.infrared_w += part.infrared_w;
  sum.luminous_flux_lm += part.luminous_flux_lm;
  sum.photon_flux_umol_s += part.photon_flux_umol_s;
}

// Far-field intensity per watt, 1/sr, from so far away that the emitter is a point; midpoint rule over the
// emitter.
double far_intensity(const Emitter& emitter, const Vec3& direction) {
  constexpr int kSide = 24;
  const double reach = std::max(
      {emitter.extent(Vec3::UnitX()), emitter.extent(Vec3::UnitY()), emitter.extent(Vec3::UnitZ()), 0.01});
  const double distance = 300 * reach;
  const Vec3 place = distance * direction;
  double sum = 0;
  for (int i = 0; i < kSide; ++i) {
    for (int j = 0; j < kSide; ++j)
      sum += emitter.connect(place, (i + 0.5) / kSide, (j + 0.5) / kSide).weight;
  }
  return sum / (kSide * kSide) * distance * distance;
}

std::optional<double> half_angle(const Emitter& emitter, const Vec3& sideways) {
  const auto intensity = [&](double angle) {
    return far_intensity(emitter, std::cos(angle) * Vec3::UnitZ() + std::sin(angle) * sideways);
  };
  const double half = intensity(0) / 2;
  if (!(half > 0)) return std::nullopt;
  constexpr double kStep = std::numbers::pi / 180;
  for (int degree = 1; degree <= 180; ++degree) {
    if (intensity(degree * kStep) > half) continue;
    double above = (degree - 1) * kStep, below = degree * kStep;
    for (int i = 0; i < 20; ++i) {
      const double middle = (above + below) / 2;
      (intensity(middle) > half ? above : below) = middle;
    }
    return (above + below) / 2;
  }
  return std::nullopt;
}

std::vector<SpectrumStretch> spectrum_stretches(const std::vector<LampPart>& parts, const SpectralD& power) {
  SpectralD uvi = SpectralD::Zero(), lux = SpectralD::Zero();
  for (const LampPart& part : parts) {
    uvi += part.radiant_flux_w * part.per_watt.weighted.row(static_cast<int>(Quantity::uvi)).transpose();
    lux += part.radiant_flux_w * part.per_watt.weighted.row(static_cast<int>(Quantity::lux)).transpose();
  }
  const auto share = [](const SpectralD& weighted_power, int first, int count) {
    const double all = weighted_power.sum();
    return all > 0 ? weighted_power.segment(first, count).sum() / all : 0.0;
  };
  const int visible = bin_of(400);
  std::vector<SpectrumStretch> stretches;
  for (int first = 0; first < kBins;) {
    const int count = first < visible ? 2 : 1;
    stretches.push_back({kBinEdgesNm[first], kBinEdgesNm[first + count], power.segment(first, count).sum(),
                         share(uvi, first, count), share(lux, first, count)});
    first += count;
  }
  return stretches;
}

std::optional<double> shortest_ultraviolet(const SpectralD& power) {
  const int end = bin_of(400);
  const double ultraviolet = power.head(end).sum();
  for (int bin = 0; bin < end; ++bin) {
    if (power[bin] > 1e-6 * ultraviolet) return kBinEdgesNm[bin];
  }
  return std::nullopt;
}

}  // namespace

LampSheet lamp_sheet(const Fixture& fixture, const std::vector<double>& distances_m) {
  LampSheet sheet;
  sheet.whole.name = "all";
  SpectralD power = SpectralD::Zero();
  InstantReadings per_axis{};  // reading per 1/m2 of on_axis()
  for (const LampPart& part : fixture.parts) {
    sheet.parts.push_back(part_sheet(part));
    add(sheet.whole, sheet.parts.back());
    power += part.radiant_flux_w * part.per_watt.power;
    for (int q = 0; q < kInstant; ++q) per_axis[q] += weighted(part, static_cast<Quantity>(q));
  }
  const Emitter& emitter = *fixture.emitter;
  for (const double distance : distances_m) {
    if (distance <= emitter.extent(Vec3::UnitZ())) continue;
    AxisReading reading{distance, {}};
    const double per_watt = emitter.on_axis(distance);
    for (int q = 0; q < kInstant; ++q) reading.reading[q] = per_axis[q] * per_watt;
    sheet.on_axis.push_back(reading);
  }
  sheet.half_angle_along = half_angle(emitter, Vec3::UnitX());
  sheet.half_angle_across = half_angle(emitter, Vec3::UnitY());
  sheet.spectrum = spectrum_stretches(fixture.parts, power);
  sheet.shortest_ultraviolet_nm = shortest_ultraviolet(power);
  return sheet;
}

}  // namespace boughlight
