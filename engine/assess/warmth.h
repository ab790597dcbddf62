// How warm a dry, dark surface gets in the light: a steady state in which what it absorbs leaves by
// convection and by radiation to the room. An estimate with a band, for judging and comparing; only a probe
// at the place decides. Left out: the animal's own warmth, its breath and the blood that carries heat away,
// evaporation, conduction into what it sits on, a draught, and air in the enclosure that is warmer than the
// room's.
#pragma once

#include <functional>

namespace boughlight {

// --- relations
// -----------------------------------------------------------------------------------------------

// Dry air at 1 atm.
struct Air1Atm {
  double conductivity = 0;    // W/(m K)
  double viscosity_m2_s = 0;  // kinematic
  double prandtl = 0;
};
// -10 to 140 deg C, straight between the entries of the table, held beyond it (Cengel and Ghajar, Heat and
// Mass Transfer, Table A-15).
Air1Atm air_at(double kelvin);

// Length of a flat rectangle for natural convection from its upper side: area over perimeter, m.
double plate_length(double length_m, double width_m);

// Mean Nusselt number of natural convection from the upper side of a hot horizontal plate: 0.54 Ra^(1/4),
// from Ra 4.7e6 on 0.15 Ra^(1/3) (McAdams 1954, with the characteristic length of Goldstein, Sparrow and
// Jones 1973, as in handbooks for Ra from 1e4 to 1e11; handbooks change over at 1e7, the crossing keeps it
// steady). For a small body (Ra below 1e4) it is somewhat low, which errs on the warm side.
double plate_nusselt(double rayleigh);

// Heat transfer coefficient of it, W/(m2 K), properties at the film temperature; 0 where the surface is no
// warmer than the air.
double free_convection(double surface_k, double air_k, double plate_length_m);

// A surface whose other side is insulated.
struct HeatBalance {
  double absorbed_w_m2 = 0;  // >= 0
  double air_k = 0;
  double surroundings_k = 0;                           // what it radiates to, black
  double emissivity = 0;                               // 0..1
  std::function<double(double surface_k)> convection;  // coefficient, W/(m2 K), >= 0

  // What leaves less what is absorbed, W/m2: 0 in the steady state.
  double surplus(double surface_k) const;
};
// The steady state, to rounding. What leaves must rise with the temperature, and without bounds.
double steady_temperature(const HeatBalance& balance);

// --- the back of an animal
// -----------------------------------------------------------------------------------

// Share of the light that a dark back absorbs: the skin of a dark tree lizard reflects 7 to 11 % of 290 to
// 2600 nm, that of a pale one 31 to 46 % ("Temperature-dependent color change in Kenyan chameleons",
// Physiological Zoology 1993; journal and year from memory); Australian lizards absorb 77 to 88 % (Christian,
// Bedford and Shannahan 1996, Aust. J. Zool. 44:59). Dark errs on the warm side.
inline constexpr double kBackAbsorptance = 0.90;
// Thermal emissivity of skin (common practice, no source).
inline constexpr double kBackEmissivity = 0.95;

// Half widths of the inputs that make the band, about two standard deviations each.
struct WarmthDoubt {
  // Relative. Lamps of one type, their age and the mesh together: some 20 % one standard deviation.
  double irradiance = 0.40;
  // Relative, from still to gently moving air and from one published correlation to another.
  double convection = 0.40;
  double absorptance = 0.07;
};

struct Warmth {
  double value_c = 0;
  double low_c = 0, high_c = 0;  // the band: low <= value <= high
};

// A dry, dark back in the light, its surroundings as warm as the air. `irradiance_w_m2` >= 0 on it, all
// wavelengths. The band's ends: the changes by each of the inputs alone, added as squares. No light: the
// air's temperature, no band.
Warmth back_warmth(double irradiance_w_m2, double air_c, double plate_length_m,
                   const WarmthDoubt& doubt = {});

}  // namespace boughlight
