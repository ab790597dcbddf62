// What the scene's figures may be off by, as independent causes, and how strongly each moves a figure.
#pragma once

#include "assess/results_doubt.h"
#include "assess/spot.h"

namespace boughlight {

struct Cause {
  CauseKind kind = CauseKind::lamp;
  std::string name;
  std::size_t index = 0;  // of the source, of the mesh in mesh_materials(), of the reading, or the quantity
  // Standard deviation of the factor's natural logarithm; for heights in metres.
  double sd = 0;
};

// The natural logarithm of a factor of mean 1 and this relative standard deviation, taken as log-normal, has
// the standard deviation sqrt(ln(1 + r^2)).
double log_deviation(double relative_deviation);

// One lamp's spread: its own, its fixture's or the scene's.
double lamp_spread(const Scene& scene, const Lamp& lamp);

// All but heights of readings, in a fixed order; those without any spread are left out. The room's light
// counts as a lamp of the scene's spread.
std::vector<Cause> causes_of(const Scene& scene, const std::vector<int>& mesh_materials);

// How much one standard deviation of each cause, and last of the reading's own height, moves the natural
// logarithm of a figure: the straight light by mesh to the power of the layers crossed, what is reflected by
// the layers on its lamp's way in, heights by the straight light alone. All 0 where the figure is 0.
Eigen::VectorXd log_gradient(const std::vector<Cause>& causes, double height_sd_m, const SensorSpot& spot,
                             const std::vector<SpectralD>& weights);

// Half the width of the 95 % interval of a normal variable, in standard deviations.
inline constexpr double kNormal95 = 1.959964;
// The most that a figure's log_sd is taken for, ln(10^6) / 1.96: the band then goes from a millionth of it to
// a million times it.
inline constexpr double kMostLogSd = 7.05;

// From the gradient: first order in the logarithms, exact for a product of log-normal factors, and for a sum
// of such good to a few per cent of the width up to a log_sd of 0.4.
Band band_of(double value, const std::vector<Cause>& causes, const Eigen::VectorXd& gradient);

}  // namespace boughlight
