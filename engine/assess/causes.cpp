#include "assess/causes.h"

#include <algorithm>
#include <cmath>

namespace boughlight {

std::string_view cause_name(CauseKind kind) {
  switch (kind) {
    case CauseKind::lamp:
      return "lamp";
    case CauseKind::age:
      return "age";
    case CauseKind::mesh:
      return "mesh";
    case CauseKind::reflected:
      return "reflected";
    case CauseKind::lamp_height:
      return "lamp_height";
    case CauseKind::height:
      return "height";
    case CauseKind::meter:
      return "meter";
  }
  return "";
}

double log_deviation(double relative_deviation) {
  return std::sqrt(std::log1p(relative_deviation * relative_deviation));
}

double lamp_spread(const Scene& scene, const Lamp& lamp) {
  return lamp.spread.value_or(lamp.fixture->spread.value_or(scene.doubts.lamp));
}

std::vector<Cause> causes_of(const Scene& scene, const std::vector<int>& mesh_materials) {
  std::vector<Cause> causes;
  const auto add = [&](CauseKind kind, const std::string& name, std::size_t index, double sd) {
    if (sd > 0) causes.push_back({kind, name, index, sd});
  };
  for (std::size_t i = 0; i < scene.lamps.size(); ++i) {
    const Lamp& lamp = scene.lamps[i];
    add(CauseKind::lamp, lamp.name, i, log_deviation(lamp_spread(scene, lamp)));
    if (lamp.burned_h > 0) add(CauseKind::age, lamp.name, i, log_deviation(scene.doubts.ageing));
    add(CauseKind::lamp_height, lamp.name, i, scene.doubts.position);
  }
  if (scene.has_room_light()) {
    const std::size_t room = scene.lamps.size();
    add(CauseKind::lamp, scene.source_name(room), room, log_deviation(scene.doubts.lamp));
  }
  for (std::size_t i = 0; i < mesh_materials.size(); ++i) {
    const Material& mesh = scene.materials[static_cast<std::size_t>(mesh_materials[i])];
    add(CauseKind::mesh, mesh.name, i, log_deviation(mesh.spread.value_or(scene.doubts.mesh)));
  }
  add(CauseKind::reflected, "", 0, log_deviation(scene.doubts.surfaces));
  return causes;
}

Eigen::VectorXd log_gradient(const std::vector<Cause>& causes, double height_sd_m, const SensorSpot& spot,
                             const std::vector<SpectralD>& weights) {
  const auto count = static_cast<Eigen::Index>(causes.size());
  Eigen::VectorXd gradient = Eigen::VectorXd::Zero(count + 1);
  const double value = spot.value(weights);
  if (!(value > 0)) return gradient;
  const std::size_t lamps = spot.light.size();
  const auto mesh_part = [&](std::size_t mesh) {
    double sum = 0;
    for (std::size_t lamp = 0; lamp < lamps; ++lamp) {
      const StraightLight& light = spot.light[lamp];
      const MeshWay& way = light.meshes[mesh];
      const double open = light.open.weigh(weights[lamp]);
      const double layers = open > 0 ? way.open_crossings.weigh(weights[lamp]) / open : way.crossings;
      sum += layers * spot.straight_value(weights, lamp) + way.crossings * spot.rest_value(weights, lamp);
    }
    if (!spot.room.empty()) sum += spot.room[mesh].crossings * spot.rest_value(weights, lamps);
    return sum;
  };
  for (Eigen::Index i = 0; i < count; ++i) {
    const Cause& cause = causes[static_cast<std::size_t>(i)];
    double moved = 0;
    switch (cause.kind) {
      case CauseKind::lamp:
      case CauseKind::age:
        moved = spot.straight_value(weights, cause.index) + spot.rest_value(weights, cause.index);
        break;
      case CauseKind::mesh:
        moved = mesh_part(cause.index);
        break;
      case CauseKind::reflected:
        for (std::size_t lamp = 0; lamp < lamps; ++lamp) moved += spot.rest_value(weights, lamp);
        break;
      case CauseKind::lamp_height:
        moved = spot.slopes[cause.index].lamp.weigh(weights[cause.index]);
        break;
      case CauseKind::height:
      case CauseKind::meter:
        break;
    }
    gradient[i] = cause.sd * moved / value;
  }
  double slope = 0;
  for (std::size_t lamp = 0; lamp < lamps; ++lamp) slope += spot.slopes[lamp].sensor.weigh(weights[lamp]);
  gradient[count] = height_sd_m * slope / value;
  return gradient;
}

Band band_of(double value, const std::vector<Cause>& causes, const Eigen::VectorXd& gradient) {
  Band band;
  const double variance = gradient.squaredNorm();
  // Close behind a lamp a figure may change beyond all numbers within a step: it may be nearly anything then.
  band.log_sd = std::min(std::sqrt(variance), kMostLogSd);
  band.low = value * std::exp(-kNormal95 * band.log_sd);
  band.high = value * std::exp(kNormal95 * band.log_sd);
  if (!(variance > 0)) return band;
  constexpr double kLeastShare = 1e-3;
  for (Eigen::Index i = 0; i < gradient.size(); ++i) {
    const double share = gradient[i] * gradient[i] / variance;
    if (share < kLeastShare) continue;
    const auto at = static_cast<std::size_t>(i);
    if (at < causes.size()) {
      band.causes.push_back({causes[at].kind, causes[at].name, share});
    } else {
      band.causes.push_back({CauseKind::height, "", share});
    }
  }
  std::stable_sort(band.causes.begin(), band.causes.end(),
                   [](const CauseShare& a, const CauseShare& b) { return a.share > b.share; });
  return band;
}

}  // namespace boughlight
