#include "assess/meter_plan.h"

#include <algorithm>
#include <cmath>

namespace boughlight {
namespace {

// Quantities that keepers' meters read, the commonest meter first. `floor`: see meter_floor(). Less than
// three times that is not worth reading.
struct Metered {
  Quantity quantity;
  double floor;
};
constexpr std::array<Metered, 4> kMetered = {
    {{Quantity::uvi, 0.03}, {Quantity::lux, 10}, {Quantity::ppfd, 1}, {Quantity::irradiance, 5}}};
constexpr std::size_t kLux = 1, kPpfd = 2, kIrradiance = 3;  // positions in the table

// Parameters: the causes, then the height of every reading, then the meters' scales.
class Layout {
 public:
  Layout(std::size_t causes, std::size_t readings) : causes_(causes), readings_(readings) {}

  // `gradient` for a height known to kMeterPlacement_m; the reading's own is known to `position_m`.
  Eigen::VectorXd row(const Eigen::VectorXd& gradient, std::optional<std::size_t> reading,
                      double position_m) const {
    Eigen::VectorXd row =
        Eigen::VectorXd::Zero(static_cast<Eigen::Index>(causes_ + readings_ + kMetered.size()));
    row.head(static_cast<Eigen::Index>(causes_)) = gradient.head(static_cast<Eigen::Index>(causes_));
    if (reading)
      row[static_cast<Eigen::Index>(causes_ + *reading)] =
          gradient[static_cast<Eigen::Index>(causes_)] * position_m / kMeterPlacement_m;
    return row;
  }
  Eigen::Index meter(std::size_t kind) const { return static_cast<Eigen::Index>(causes_ + readings_ + kind); }

 private:
  std::size_t causes_, readings_;
};

struct Readable {
  MeterRow row;
  DesignReading reading;
};

std::size_t strongest_source(const SensorSpot& spot, const std::vector<SpectralD>& weights) {
  std::size_t strongest = 0;
  double most = -1;
  for (std::size_t source = 0; source < weights.size(); ++source) {
    const double own = spot.straight_value(weights, source) + spot.rest_value(weights, source);
    if (own > most) most = own, strongest = source;
  }
  return strongest;
}

bool behind_mesh(const StraightLight& light) {
  return std::any_of(light.meshes.begin(), light.meshes.end(),
                     [](const MeshWay& way) { return way.crossings > 0.5; });
}

// One meter for visible light will do: lux, unless photons alone are asked for.
std::size_t light_meter(const std::vector<WantedFigure>& wanted) {
  const auto asked = [&](Quantity quantity) {
    return std::any_of(wanted.begin(), wanted.end(),
                       [quantity](const WantedFigure& figure) { return figure.quantity == quantity; });
  };
  return asked(Quantity::ppfd) && !asked(Quantity::lux) ? kPpfd : kLux;
}

// Weights with every lamp but one out; the room stays as it is.
std::vector<SpectralD> alone(std::vector<SpectralD> weights, std::size_t lamp, std::size_t lamps) {
  for (std::size_t other = 0; other < lamps; ++other)
    if (other != lamp) weights[other].setZero();
  return weights;
}

}  // namespace

double meter_floor(Quantity quantity) {
  for (const Metered& metered : kMetered)
    if (metered.quantity == quantity) return metered.floor;
  constexpr double kBandMeter = 0.01;  // W/m2, 1 uW/cm2
  return quantity == Quantity::infrared ? meter_floor(Quantity::irradiance) : kBandMeter;
}

std::vector<DesignStep> choose_readings(const std::vector<DesignFigure>& figures,
                                        const std::vector<DesignReading>& readings, std::size_t least,
                                        std::size_t most) {
  std::vector<DesignStep> steps;
  if (figures.empty() || readings.empty()) return steps;
  constexpr double kWorthwhile = 0.02, kAsGood = 0.9;
  const Eigen::Index size = figures.front().row.size();
  Eigen::MatrixXd covariance = Eigen::MatrixXd::Identity(size, size);
  double left = 0;
  for (const DesignFigure& figure : figures) left += figure.row.squaredNorm();
  const double whole = left;
  std::vector<bool> taken(readings.size(), false);
  while (steps.size() < most) {
    std::vector<double> gain(readings.size(), -1);
    for (std::size_t i = 0; i < readings.size(); ++i) {
      if (taken[i]) continue;
      const Eigen::VectorXd along = covariance * readings[i].row;
      const double variance = readings[i].row.dot(along) + readings[i].noise;
      gain[i] = 0;
      for (const DesignFigure& figure : figures) {
        const double shared = figure.row.dot(along);
        if (variance > 0) gain[i] += shared * shared / variance;
      }
    }
    const double best = *std::max_element(gain.begin(), gain.end());
    if (!(best > 0) || (steps.size() >= least && best < kWorthwhile * whole)) break;
    std::size_t chosen = readings.size();
    for (std::size_t i = 0; i < readings.size(); ++i) {
      if (gain[i] < kAsGood * best) continue;
      const bool better = chosen == readings.size() || readings[i].rank < readings[chosen].rank ||
                          (readings[i].rank == readings[chosen].rank && gain[i] > gain[chosen]);
      if (better) chosen = i;
    }
    const Eigen::VectorXd along = covariance * readings[chosen].row;
    covariance -= along * along.transpose() / (readings[chosen].row.dot(along) + readings[chosen].noise);
    taken[chosen] = true;
    left = 0;
    for (const DesignFigure& figure : figures) left += figure.row.dot(covariance * figure.row);
    steps.push_back({chosen, left});
  }
  return steps;
}

MeterPlan plan_readings(const Setting& setting, const std::vector<Cause>& causes, std::size_t readings,
                        const std::vector<WantedFigure>& wanted, const std::vector<MeterPlace>& places) {
  const Scene& scene = setting.scene;
  if (scene.source_count() == 0) return {};  // nothing to read
  const Layout layout(causes.size(), readings);
  const double position = scene.doubts.position;
  std::vector<DesignFigure> figures;
  for (const WantedFigure& figure : wanted)
    figures.push_back(
        {layout.row(log_gradient(causes, kMeterPlacement_m, *figure.spot, setting.weights(figure.quantity)),
                    figure.reading, position)});

  std::vector<Readable> candidates;
  const auto add = [&](const MeterPlace& place, std::size_t kind, const std::vector<SpectralD>& weights,
                       const std::string& only) {
    const SensorSpot& spot = *place.spot;
    Readable candidate;
    MeterRow& row = candidate.row;
    row.expected = spot.value(weights);
    if (row.expected < 3 * kMetered[kind].floor) return;
    row.place = place.name;
    row.hint = place.hint;
    row.at = place.at;
    row.direction = place.direction;
    row.lamps = only;
    row.quantity = kMetered[kind].quantity;
    const std::size_t strongest = strongest_source(spot, weights);
    if (strongest < scene.lamps.size()) {
      constexpr double kTowards = 0.985;  // cosine of 10 degrees
      const Lamp& lamp = scene.lamps[strongest];
      if ((lamp.at - place.at).normalized().dot(place.direction) > kTowards) row.towards = lamp.name;
      row.through_screen = behind_mesh(spot.light[strongest]);
    }
    const Eigen::VectorXd gradient = log_gradient(causes, kMeterPlacement_m, spot, weights);
    candidate.reading.row = layout.row(gradient, place.reading, position);
    candidate.reading.row[layout.meter(kind)] = log_deviation(kMeterScale);
    const double placement = gradient[gradient.size() - 1];
    const double repeat = log_deviation(std::hypot(kMeterRepeat, kMetered[kind].floor / row.expected));
    const auto leaves = place.leaves.find(row.quantity);
    const double leaf = leaves == place.leaves.end() ? 0 : log_deviation(leaves->second.relative_sd);
    candidate.reading.noise = placement * placement + repeat * repeat + leaf * leaf;
    candidate.reading.rank = 10 * place.rank + static_cast<int>(2 * kind) + (only.empty() ? 0 : 1);
    const double width = kNormal95 * std::sqrt(candidate.reading.row.squaredNorm() + candidate.reading.noise);
    row.low = row.expected * std::exp(-width);
    row.high = row.expected * std::exp(width);
    candidates.push_back(std::move(candidate));
  };
  const std::size_t light = light_meter(wanted);
  const std::vector<SpectralD> light_weights = setting.weights(kMetered[light].quantity);
  for (const MeterPlace& place : places)
    for (const std::size_t kind : {std::size_t{0}, light, kIrradiance}) {
      if (!(kind == 0 ? place.uvi : place.light)) continue;
      const std::vector<SpectralD> weights = setting.weights(kMetered[kind].quantity);
      if (kind == kIrradiance) {
        // Few have a meter for it: only for a lamp that no light meter sees.
        const std::size_t source = strongest_source(*place.spot, weights);
        const double visible =
            place.spot->straight_value(light_weights, source) + place.spot->rest_value(light_weights, source);
        if (visible > 3 * kMetered[light].floor) continue;
      }
      if (!place.lamp) add(place, kind, weights, "");
      const double whole = place.spot->value(weights);
      for (std::size_t lamp = 0; lamp < scene.lamps.size(); ++lamp) {
        if (place.lamp && *place.lamp != lamp) continue;
        // Where one lamp gives next to all or next to nothing, the others need not be switched off.
        constexpr double kNextToNothing = 0.05;
        const double own = place.spot->straight_value(weights, lamp) + place.spot->rest_value(weights, lamp);
        const bool some = own > kNextToNothing * whole, all = own > (1 - kNextToNothing) * whole;
        if (all && place.lamp) add(place, kind, weights, "");
        if (some && !all) add(place, kind, alone(weights, lamp, scene.lamps.size()), scene.lamps[lamp].name);
      }
    }

  constexpr std::size_t kLeast = 3, kMost = 8;
  std::vector<DesignReading> design;
  for (const Readable& candidate : candidates) design.push_back(candidate.reading);
  MeterPlan plan;
  double before = 0;
  for (const DesignFigure& figure : figures) before += figure.row.squaredNorm();
  double after = before;
  for (const DesignStep& step : choose_readings(figures, design, kLeast, kMost)) {
    plan.rows.push_back(candidates[step.reading].row);
    after = step.variance_left;
  }
  if (!figures.empty()) {
    plan.log_sd_before = std::sqrt(before / static_cast<double>(figures.size()));
    plan.log_sd_after = std::sqrt(std::max(0.0, after) / static_cast<double>(figures.size()));
  }
  return plan;
}

}  // namespace boughlight
