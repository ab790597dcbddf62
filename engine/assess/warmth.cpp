#include "assess/warmth.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace boughlight {
namespace {

constexpr double kStefanBoltzmann = 5.670374419e-8;  // W/(m2 K4), CODATA 2018
constexpr double kGravity = 9.80665;                 // m/s2, standard
constexpr double kZeroCelsius = 273.15;

struct AirRow {
  double celsius, conductivity, viscosity_m2_s, prandtl;
};
constexpr std::array<AirRow, 17> kAirTable = {{{-10, 0.02288, 1.252e-5, 0.7387},
                                               {0, 0.02364, 1.338e-5, 0.7362},
                                               {5, 0.02401, 1.382e-5, 0.7350},
                                               {10, 0.02439, 1.426e-5, 0.7336},
                                               {15, 0.02476, 1.470e-5, 0.7323},
                                               {20, 0.02514, 1.516e-5, 0.7309},
                                               {25, 0.02551, 1.562e-5, 0.7296},
                                               {30, 0.02588, 1.608e-5, 0.7282},
                                               {35, 0.02625, 1.655e-5, 0.7268},
                                               {40, 0.02662, 1.702e-5, 0.7255},
                                               {50, 0.02735, 1.798e-5, 0.7228},
                                               {60, 0.02808, 1.896e-5, 0.7202},
                                               {70, 0.02881, 1.995e-5, 0.7177},
                                               {80, 0.02953, 2.097e-5, 0.7154},
                                               {100, 0.03095, 2.306e-5, 0.7111},
                                               {120, 0.03235, 2.522e-5, 0.7073},
                                               {140, 0.03374, 2.745e-5, 0.7041}}};

}  // namespace

Air1Atm air_at(double kelvin) {
  const double celsius =
      std::clamp(kelvin - kZeroCelsius, kAirTable.front().celsius, kAirTable.back().celsius);
  std::size_t above = 1;
  while (kAirTable[above].celsius < celsius) ++above;
  const AirRow &a = kAirTable[above - 1], &b = kAirTable[above];
  const double t = (celsius - a.celsius) / (b.celsius - a.celsius);
  return {std::lerp(a.conductivity, b.conductivity, t), std::lerp(a.viscosity_m2_s, b.viscosity_m2_s, t),
          std::lerp(a.prandtl, b.prandtl, t)};
}

double plate_length(double length_m, double width_m) {
  return length_m * width_m / (2 * (length_m + width_m));
}

double plate_nusselt(double rayleigh) {
  return std::max(0.54 * std::pow(rayleigh, 0.25), 0.15 * std::cbrt(rayleigh));
}

double free_convection(double surface_k, double air_k, double plate_length_m) {
  const double warmer = surface_k - air_k;
  if (!(warmer > 0)) return 0;
  const double film_k = (surface_k + air_k) / 2;
  const Air1Atm air = air_at(film_k);
  const double grashof =
      kGravity / film_k * warmer * std::pow(plate_length_m, 3) / (air.viscosity_m2_s * air.viscosity_m2_s);
  return plate_nusselt(grashof * air.prandtl) * air.conductivity / plate_length_m;
}

double HeatBalance::surplus(double surface_k) const {
  return convection(surface_k) * (surface_k - air_k) +
         emissivity * kStefanBoltzmann * (std::pow(surface_k, 4) - std::pow(surroundings_k, 4)) -
         absorbed_w_m2;
}

double steady_temperature(const HeatBalance& balance) {
  double low = std::min(balance.air_k, balance.surroundings_k);
  double high = std::max(balance.air_k, balance.surroundings_k) + 1;
  constexpr double kNoSuchHeat = 1e5;  // K
  while (balance.surplus(high) < 0) {
    high *= 2;
    if (high > kNoSuchHeat) throw std::logic_error("steady_temperature: nothing carries the heat away");
  }
  // Halved until the two are neighbours.
  for (double middle = low + (high - low) / 2; middle > low && middle < high; middle = low + (high - low) / 2)
    (balance.surplus(middle) <= 0 ? low : high) = middle;
  return low;
}

Warmth back_warmth(double irradiance_w_m2, double air_c, double plate_length_m, const WarmthDoubt& doubt) {
  if (!(irradiance_w_m2 >= 0)) throw std::logic_error("back_warmth: an irradiance is 0 or more");
  const double air_k = air_c + kZeroCelsius;
  const auto back_c = [&](double light, double convection, double absorptance) {
    HeatBalance balance{absorptance * light * irradiance_w_m2, air_k, air_k, kBackEmissivity, {}};
    balance.convection = [&](double surface_k) {
      return convection * free_convection(surface_k, air_k, plate_length_m);
    };
    return steady_temperature(balance) - kZeroCelsius;
  };
  Warmth warmth;
  warmth.value_c = irradiance_w_m2 > 0 ? back_c(1, 1, kBackAbsorptance) : air_c;
  if (irradiance_w_m2 == 0) {
    warmth.low_c = warmth.high_c = air_c;
    return warmth;
  }
  const std::array<double, 3> lower = {back_c(1 - doubt.irradiance, 1, kBackAbsorptance),
                                       back_c(1, 1 + doubt.convection, kBackAbsorptance),
                                       back_c(1, 1, kBackAbsorptance - doubt.absorptance)};
  const std::array<double, 3> upper = {back_c(1 + doubt.irradiance, 1, kBackAbsorptance),
                                       back_c(1, 1 - doubt.convection, kBackAbsorptance),
                                       back_c(1, 1, kBackAbsorptance + doubt.absorptance)};
  double below = 0, above = 0;
  for (std::size_t i = 0; i < lower.size(); ++i) {
    below += std::pow(warmth.value_c - lower[i], 2);
    above += std::pow(upper[i] - warmth.value_c, 2);
  }
  warmth.low_c = warmth.value_c - std::sqrt(below);
  warmth.high_c = warmth.value_c + std::sqrt(above);
  return warmth;
}

}  // namespace boughlight
