// What one part of a lamp (ultraviolet, visible, heat) radiates: its spectrum, integrated into bins and
// weighted quantities, per watt; and the part itself, scaled by something a keeper can read.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "spectrum/quantity.h"
#include "spectrum/table.h"

namespace boughlight {

// Components of a spectrum. Each is normalised to 1 W inside 250 nm to 25 um and then takes its weight's
// share.
struct GaussianBand {
  double centre_nm = 0;
  double fwhm_nm = 0;  // full width at half maximum
  double from_nm = 0;  // cut below; 0 when not cut
  double to_nm = 0;    // cut above; 0 when not cut
};
struct SpectralLine {
  double at_nm = 0;  // no width
};
struct Blackbody {
  double temperature_k = 0;
};
struct TabulatedEmission {
  Table table;  // relative power per nm, linear, zero beyond its ends
  // Of a filament that has cooled: the table at `full_k`, times the ratio of the blackbodies at `cooled_k`
  // and there, K. As it is where that is nothing.
  struct Cooling {
    double full_k, cooled_k;
  };
  std::optional<Cooling> cooling = std::nullopt;
};
struct SpectrumComponent {
  std::variant<GaussianBand, SpectralLine, Blackbody, TabulatedEmission> shape;
  double weight = 1;
};

// Planck's spectral exitance, W/m2 per nm (CODATA 2018 constants).
double planck_w_m2_nm(double wavelength_nm, double temperature_k);

struct SpectrumPerWatt {
  SpectralD power = SpectralD::Zero();           // W in each bin; sums to 1
  QuantityBins weighted = QuantityBins::Zero();  // integral over the bin of spectral power x weighting

  // The whole weighted sum of a quantity per watt (lm/W for lux, umol/J for ppfd, 40 x s_er for uvi ...).
  double total(Quantity instant) const { return weighted.row(static_cast<int>(instant)).sum(); }
};

// Integrates between all knots (components', weightings', bin edges) with Gauss-Legendre points no further
// apart than 1 nm below 1 um; relative error below 1e-6. The weights' sum must be > 0. Throws
// std::invalid_argument with a message for people when a component radiates below 250 nm or above 25 um (a
// band by more than 1e-6 of itself; a blackbody is by definition taken inside the range only).
SpectrumPerWatt integrate_spectrum(const std::vector<SpectrumComponent>& components);

// Relative spectral power at a wavelength for drawing, W/nm per W, lines left out.
double spectral_density(const std::vector<SpectrumComponent>& components, double wavelength_nm);

// Power in each of `count` stretches of `step_nm` from `from_nm` up, lines included, W per W of the whole
// spectrum: for drawing. Edges that are whole nanometres are kept to.
std::vector<double> power_in_stretches(const std::vector<SpectrumComponent>& components, double from_nm,
                                       double step_nm, std::size_t count);

struct LampPart {
  std::string name;
  // Colour temperature of its filament at 100 %, K. Nothing: a dimmer changes the output alone (fluorescent
  // tubes, LEDs on a switch-mode or phase-cut dimmer).
  std::optional<double> filament_k;
  std::vector<SpectrumComponent> components;
  // Nobody declared or measured the spectrum: it is what a lamp of the kind is likely to have.
  bool guessed = false;
  SpectrumPerWatt per_watt;
  double radiant_flux_w = 0;  // new, at 100 %, inside 250 nm to 25 um
  // Distance on the axis at which its output was declared, m; nothing where it was declared as a flux.
  std::optional<double> anchor_m;
  Table ageing;  // factor against hours burned; linear, holds its ends; constant 1 if not given
};

// A part's weighted spectrum times watts at a dimmer setting (0..1, the share of its radiant watts), new. A
// filament cools as it is dimmed, so its light moves towards the infrared: its colour temperature goes with
// the 0.42/1.6 th power of the watts (exponents of lamp voltage as published for rerating filament lamps,
// power 1.6 and colour temperature 0.42; https://en.wikipedia.org/wiki/Lamp_rerating). A blackbody's
// temperature goes down in that proportion; a table takes the ratio of the two blackbodies at every
// wavelength, not at its points alone.
QuantityBins dimmed_output(const LampPart& part, double dim);
inline constexpr double kFilamentExponent = 0.42 / 1.6;

}  // namespace boughlight
