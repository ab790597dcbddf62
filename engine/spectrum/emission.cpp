#include "spectrum/emission.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "spectrum/constants.h"
#include "units/units.h"

namespace boughlight {

namespace {

constexpr double kSigmaPerFwhm = 0.42466090014400953;  // 1 / (2 sqrt(2 ln 2))
constexpr int kReachSigmas = 9;                        // beyond it a Gaussian holds less than 1e-18 of itself
constexpr double kOutsideAllowed = 1e-6;               // share of a band that may lie outside the range

constexpr double kPanelNm = 1;        // longest panel below 1 um
constexpr double kPanelRatio = 1.05;  // greatest ratio of a panel's ends above 1 um
// Gauss-Legendre on [-1, 1], 4 points (exact to degree 7).
constexpr std::array<double, 4> kPanelNodes = {-0.86113631159405258, -0.33998104358485626,
                                               0.33998104358485626, 0.86113631159405258};
constexpr std::array<double, 4> kPanelWeights = {0.34785484513745386, 0.65214515486254614,
                                                 0.65214515486254614, 0.34785484513745386};

std::string nm(double wavelength_nm) {
  return print_number(wavelength_nm, 5) + " nm";
}

[[noreturn]] void refuse_outside(const std::string& what, bool below) {
  throw std::invalid_argument(
      what + (below ? " radiates below 250 nm; nothing there is reckoned, so cut it at 250 nm or "
                      "above, as the lamp's envelope does"
                    : " radiates above 25 um; nothing there is reckoned, so cut it there"));
}

// Where a component is not zero, and the places between which it is smooth.
struct Span {
  double from_nm = kFirstNm, to_nm = kLastNm;
  std::vector<double> knots_nm;
};

double normal_below(double x) {
  return 0.5 * std::erfc(-x / std::sqrt(2.0));
}

// Share of the whole Gaussian between two places in units of sigma, accurate in either wing.
double normal_between(double a, double b) {
  return a > 0 ? normal_below(-a) - normal_below(-b) : normal_below(b) - normal_below(a);
}

Span span_of(const GaussianBand& band) {
  const std::string what = "the band at " + nm(band.centre_nm);
  if (!(band.fwhm_nm > 0)) throw std::invalid_argument(what + " needs a width above 0");
  const double infinite = std::numeric_limits<double>::infinity();
  const double from = band.from_nm > 0 ? band.from_nm : -infinite;
  const double to = band.to_nm > 0 ? band.to_nm : infinite;
  if (!(from < to)) throw std::invalid_argument(what + " is cut to nothing: 'from' must be below 'to'");

  const double sigma = band.fwhm_nm * kSigmaPerFwhm;
  const auto z = [&](double x) { return (x - band.centre_nm) / sigma; };
  Span span{std::max(from, band.centre_nm - kReachSigmas * sigma),
            std::min(to, band.centre_nm + kReachSigmas * sigma),
            {}};
  if (!(span.from_nm < span.to_nm))
    throw std::invalid_argument(what + " is cut so far from its centre that nothing is left of it");
  const double whole = normal_between(z(from), z(to));
  if (from < kFirstNm && normal_between(z(from), std::min(z(to), z(kFirstNm))) > kOutsideAllowed * whole)
    refuse_outside(what, true);
  if (to > kLastNm && normal_between(std::max(z(from), z(kLastNm)), z(to)) > kOutsideAllowed * whole)
    refuse_outside(what, false);
  span.from_nm = std::max(span.from_nm, kFirstNm);
  span.to_nm = std::min(span.to_nm, kLastNm);
  for (int i = -kReachSigmas; i <= kReachSigmas; ++i) span.knots_nm.push_back(band.centre_nm + i * sigma);
  return span;
}

Span span_of(const Blackbody& body) {
  if (!(body.temperature_k > 0)) throw std::invalid_argument("a blackbody needs a temperature above 0 K");
  return {};
}

Span span_of(const TabulatedEmission& emission) {
  const Table& table = emission.table;
  if (table.x().size() < 2) throw std::invalid_argument("a spectrum's table needs at least two points");
  for (const bool below : {true, false}) {
    const double a = below ? table.x().front() : std::max(kLastNm, table.x().front());
    const double b = below ? std::min(kFirstNm, table.x().back()) : table.x().back();
    if (a < b && table.mean(a, b) > 0) refuse_outside("the table of a spectrum", below);
  }
  return {std::max(kFirstNm, table.x().front()), std::min(kLastNm, table.x().back()), table.x()};
}

// Power per nm at a place inside the span, in a scale of the component's own.
double shape_at(const GaussianBand& band, double wavelength_nm) {
  const double z = (wavelength_nm - band.centre_nm) / (band.fwhm_nm * kSigmaPerFwhm);
  return std::exp(-0.5 * z * z);
}
double shape_at(const Blackbody& body, double wavelength_nm) {
  return planck_w_m2_nm(wavelength_nm, body.temperature_k);
}
double shape_at(const TabulatedEmission& emission, double wavelength_nm) {
  const double power = emission.table.at(wavelength_nm);
  if (!emission.cooling || power == 0) return power;
  return power * (planck_w_m2_nm(wavelength_nm, emission.cooling->cooled_k) /
                  planck_w_m2_nm(wavelength_nm, emission.cooling->full_k));
}

// Bin edges and the knots of every weighting function, rising.
const std::vector<double>& standard_knots() {
  static const std::vector<double> knots = [] {
    std::vector<double> all(kBinEdgesNm.begin(), kBinEdgesNm.end());
    for (int q = 0; q < kInstant; ++q) {
      const auto& own = weighting(static_cast<Quantity>(q)).knots_nm();
      all.insert(all.end(), own.begin(), own.end());
    }
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
    return all;
  }();
  return knots;
}

// Calls visit(wavelength, power) over a quadrature of the component: `power` is its density there times the
// node's own width.
template <typename Shape, typename Visit>
void visit_nodes(const Shape& shape, const Visit& visit) {
  const Span span = span_of(shape);
  std::vector<double> knots = {span.from_nm, span.to_nm};
  for (const std::vector<double>* list : {&standard_knots(), &span.knots_nm})
    for (double x : *list)
      if (x > span.from_nm && x < span.to_nm) knots.push_back(x);
  std::sort(knots.begin(), knots.end());
  for (std::size_t i = 1; i < knots.size(); ++i) {
    const double a = knots[i - 1], b = knots[i];
    if (!(a < b)) continue;
    const double count = a < 1000 ? (b - a) / kPanelNm : std::log(b / a) / std::log(kPanelRatio);
    const int panels = std::max(1, static_cast<int>(std::ceil(count - 1e-9)));
    const double half = 0.5 * (b - a) / panels;
    for (int panel = 0; panel < panels; ++panel) {
      const double middle = a + (2 * panel + 1) * half;
      for (std::size_t k = 0; k < kPanelNodes.size(); ++k) {
        const double at = middle + half * kPanelNodes[k];
        visit(at, shape_at(shape, at) * half * kPanelWeights[k]);
      }
    }
  }
}

// 1 W of a component.
template <typename Shape>
SpectrumPerWatt one_watt(const Shape& shape) {
  SpectrumPerWatt sum;
  visit_nodes(shape, [&](double at, double power) {
    const int bin = bin_of(at);
    sum.power[bin] += power;
    for (int q = 0; q < kInstant; ++q)
      sum.weighted(q, bin) += power * weighting(static_cast<Quantity>(q)).at(at);
  });
  const double whole = sum.power.sum();
  if (!(whole > 0 && std::isfinite(whole)))
    throw std::invalid_argument("a component of the spectrum has no power between 250 nm and 25 um");
  sum.power /= whole;
  sum.weighted /= whole;
  return sum;
}

SpectrumPerWatt one_watt(const SpectralLine& line) {
  const int bin = bin_of(line.at_nm);
  if (bin < 0) throw std::invalid_argument("the line at " + nm(line.at_nm) + " lies outside 250 nm to 25 um");
  SpectrumPerWatt sum;
  sum.power[bin] = 1;
  for (int q = 0; q < kInstant; ++q)
    sum.weighted(q, bin) = weighting(static_cast<Quantity>(q)).at(line.at_nm);
  return sum;
}

double density_per_watt(const SpectralLine&, double) {
  return 0;
}
template <typename Shape>
double density_per_watt(const Shape& shape, double wavelength_nm) {
  const Span span = span_of(shape);
  if (wavelength_nm < span.from_nm || wavelength_nm > span.to_nm) return 0;
  double whole = 0;
  visit_nodes(shape, [&](double, double power) { whole += power; });
  return whole > 0 ? shape_at(shape, wavelength_nm) / whole : 0;
}

// Calls visit(wavelength, share of 1 W of the component) over its whole spectrum.
template <typename Visit>
void visit_shares(const SpectralLine& line, const Visit& visit) {
  visit(line.at_nm, 1.0);
}
template <typename Shape, typename Visit>
void visit_shares(const Shape& shape, const Visit& visit) {
  double whole = 0;
  visit_nodes(shape, [&](double, double power) { whole += power; });
  if (whole > 0) visit_nodes(shape, [&](double at, double power) { visit(at, power / whole); });
}

double sum_of_weights(const std::vector<SpectrumComponent>& components) {
  double sum = 0;
  for (const SpectrumComponent& component : components) {
    if (!(component.weight >= 0 && std::isfinite(component.weight)))
      throw std::invalid_argument("a component's weight must be 0 or more");
    sum += component.weight;
  }
  if (!(sum > 0))
    throw std::invalid_argument("a spectrum needs at least one component with a weight above 0");
  return sum;
}

}  // namespace

double planck_w_m2_nm(double wavelength_nm, double temperature_k) {
  const double metres = wavelength_nm * 1e-9;
  const double z = kPlanck * kLight / (kBoltzmann * temperature_k * metres);
  const double first = 2 * std::numbers::pi * kPlanck * kLight * kLight / std::pow(metres, 5);
  return 1e-9 * first / std::expm1(z);
}

SpectrumPerWatt integrate_spectrum(const std::vector<SpectrumComponent>& components) {
  const double weights = sum_of_weights(components);
  SpectrumPerWatt sum;
  for (const SpectrumComponent& component : components) {
    const SpectrumPerWatt own =
        std::visit([](const auto& shape) { return one_watt(shape); }, component.shape);
    sum.power += component.weight / weights * own.power;
    sum.weighted += component.weight / weights * own.weighted;
  }
  return sum;
}

double spectral_density(const std::vector<SpectrumComponent>& components, double wavelength_nm) {
  const double weights = sum_of_weights(components);
  double sum = 0;
  for (const SpectrumComponent& component : components)
    sum += component.weight / weights *
           std::visit([&](const auto& shape) { return density_per_watt(shape, wavelength_nm); },
                      component.shape);
  return sum;
}

std::vector<double> power_in_stretches(const std::vector<SpectrumComponent>& components, double from_nm,
                                       double step_nm, std::size_t count) {
  std::vector<double> power(count, 0.0);
  const double weights = sum_of_weights(components);
  for (const SpectrumComponent& component : components)
    std::visit(
        [&](const auto& shape) {
          visit_shares(shape, [&](double at_nm, double share) {
            const double stretch = std::floor((at_nm - from_nm) / step_nm);
            if (stretch >= 0 && stretch < static_cast<double>(count))
              power[static_cast<std::size_t>(stretch)] += component.weight / weights * share;
          });
        },
        component.shape);
  return power;
}

QuantityBins dimmed_output(const LampPart& part, double dim) {
  const double watts = dim * part.radiant_flux_w;
  if (!part.filament_k || dim == 1 || watts == 0) return watts * part.per_watt.weighted;
  const double full_k = *part.filament_k, cooled_k = full_k * std::pow(dim, kFilamentExponent);
  std::vector<SpectrumComponent> cooled = part.components;
  for (SpectrumComponent& component : cooled) {
    if (auto* blackbody = std::get_if<Blackbody>(&component.shape))
      blackbody->temperature_k *= cooled_k / full_k;
    if (auto* tabulated = std::get_if<TabulatedEmission>(&component.shape))
      tabulated->cooling = {full_k, cooled_k};
  }
  return watts * integrate_spectrum(cooled).weighted;
}

}  // namespace boughlight
