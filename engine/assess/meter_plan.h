// Where to measure: the few readings that would shrink the doubt in the figures asked for the most.
#pragma once

#include "assess/causes.h"

namespace boughlight {

// A usual hand-held meter: 10 % off in all (standard deviation), most of it a scale of its own that every
// reading of a quantity shares, the rest from one reading to the next; held within a centimetre. Common
// practice, no source.
inline constexpr double kMeterScale = 0.08, kMeterRepeat = 0.06;
inline constexpr double kMeterPlacement_m = 0.01;
// What a meter of a quantity may show in the dark, in its unit: 0.03 of UV index as makers' instructions have
// it; of others the last digit or two of usual meters (common practice, no source).
double meter_floor(Quantity quantity);

// A linear figure of the parameters: how much one standard deviation of each moves its logarithm.
struct DesignFigure {
  Eigen::VectorXd row;
};
struct DesignReading {
  Eigen::VectorXd row;
  double noise = 0;  // variance of what the parameters do not explain
  int rank = 0;      // a lower one is preferred where two are worth nearly the same
};

struct DesignStep {
  std::size_t reading = 0;
  double variance_left = 0;  // summed over the figures, once this and all before are read
};

// Linear Gaussian design: parameters are independent and of unit variance before anything is read; each step
// takes the reading that lowers the figures' summed variance most (within a tenth of the best, the one of
// lowest rank). fiftieth of the whole.
std::vector<DesignStep> choose_readings(const std::vector<DesignFigure>& figures,
                                        const std::vector<DesignReading>& readings, std::size_t least,
                                        std::size_t most);

// A place where a meter can be held.
struct MeterPlace {
  std::string name, hint;
  Vec3 at = Vec3::Zero();
  Vec3 direction = Vec3::UnitZ();
  const SensorSpot* spot = nullptr;
  int rank = 0;                          // how readily a keeper reads there, 0 first
  std::optional<std::size_t> reading{};  // whose height it shares
  bool uvi = true, light = true;         // what is worth reading there: UV index; visible light or all power
  std::optional<std::size_t> lamp{};     // the only one that may be lit; else any or all
  // Of the reading with its leaves elsewhere; empty where that is not known.
  std::map<Quantity, LeafSpread> leaves{};
};

// A figure that carries a limit.
struct WantedFigure {
  const SensorSpot* spot = nullptr;
  std::optional<std::size_t> reading;
  Quantity quantity = Quantity::uvi;
};

MeterPlan plan_readings(const Setting& setting, const std::vector<Cause>& causes, std::size_t readings,
                        const std::vector<WantedFigure>& wanted, const std::vector<MeterPlace>& places);

}  // namespace boughlight
