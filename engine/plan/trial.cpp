#include "plan/trial.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "assess/perchable.h"
#include "assess/reachable.h"
#include "geometry/foliage.h"
#include "plan/stages.h"
#include "transport/brightest.h"

namespace boughlight {
namespace {

// Samples: direct to each lamp, and light paths.
constexpr GatherEffort kReadingEffort{256, 384}, kCrownEffort{16, 48}, kReachEffort{64, 48},
    kZoneEffort{12, 24};
constexpr std::size_t kCrownPlaces = 24;
constexpr std::size_t kVolumePlaces = 160, kPlacesOfALevel = 16;
constexpr std::size_t kMostReachPlaces = 24;  // near each lamp

// The sum over the bins of what a source gives of an instant quantity.
double whole(const QuantityBins& bins, Quantity quantity) {
  return bins.row(static_cast<int>(info(quantity).of)).sum();
}

}  // namespace

// Channels are quantities side by side for each source: source * quantities + quantity.
struct Trial::Common {
  Asks asks;
  std::vector<Quantity> quantities;
  std::size_t uvi = 0, lux = 0;  // positions among them
  struct Zone {
    std::string name;
    std::vector<Want> wants;
  };
  std::vector<Zone> zones;
  double room_channels = 0;

  std::size_t position(Quantity quantity) const {
    return static_cast<std::size_t>(std::find(quantities.begin(), quantities.end(), quantity) -
                                    quantities.begin());
  }
  // One quantity of every source.
  Eigen::ArrayXf only(std::size_t quantity, const Eigen::ArrayXf& scale) const {
    Eigen::ArrayXf chosen = Eigen::ArrayXf::Zero(scale.size());
    for (Eigen::Index i = static_cast<Eigen::Index>(quantity); i < scale.size();
         i += static_cast<Eigen::Index>(quantities.size()))
      chosen[i] = scale[i];
    return chosen;
  }
};

// What a source's channels are worth at other settings of the dimmers, as factors. A filament's light reddens
// as it is dimmed: each quantity has a factor of its own, that of its whole light.
Eigen::ArrayXf Trial::scales(const std::vector<double>& dims) const {
  const auto& quantities = common_->quantities;
  std::vector<float> scale;
  for (std::size_t lamp = 0; lamp < lamps_.size(); ++lamp) {
    const QuantityBins full = lamp_output(lamps_[lamp], 1), now = lamp_output(lamps_[lamp], dims[lamp]);
    for (const Quantity quantity : quantities) {
      const double most = whole(full, quantity);
      scale.push_back(most > 0 ? static_cast<float>(whole(now, quantity) / most) : 0.0f);
    }
  }
  scale.resize(scale.size() + static_cast<std::size_t>(common_->room_channels), 1.0f);
  return Eigen::Map<const Eigen::ArrayXf>(scale.data(), static_cast<Eigen::Index>(scale.size()));
}

namespace {

float read(const DirectedLight& light, const Vec3f& direction, const Eigen::ArrayXf& scale) {
  const Eigen::ArrayXf cosines =
      (direction.transpose() * light.directions.matrix()).transpose().array().max(0.0f);
  return ((light.values.colwise() * scale).colwise().sum().transpose() * cosines).sum();
}

}  // namespace

void Trial::put_gauge(const Gauge& gauge, const Eigen::ArrayXf& scale, std::vector<double>& figures) const {
  constexpr float kLeastUvi = 0.01f;  // as a survey turns its sensors
  const Common& common = *common_;
  for (const std::size_t figure : gauge.figures) figures[figure] = 0;
  for (const Place& place : gauge.places) {
    if (gauge.greatest) {
      for (const std::size_t figure : gauge.figures) {
        const Eigen::ArrayXf one = common.only(common.position(common.asks.figures[figure].quantity), scale);
        figures[figure] =
            std::max(figures[figure], static_cast<double>(brightest_orientation(place.light, one).value));
      }
      continue;
    }
    Vec3f direction = place.direction;
    if (place.brightest) {
      const Brightest uvi = brightest_orientation(place.light, common.only(common.uvi, scale));
      direction = uvi.value >= kLeastUvi
                      ? uvi.direction
                      : brightest_orientation(place.light, common.only(common.lux, scale)).direction;
    }
    for (const std::size_t figure : gauge.figures) {
      const Eigen::ArrayXf one = common.only(common.position(common.asks.figures[figure].quantity), scale);
      figures[figure] += read(place.light, direction, one) / static_cast<double>(gauge.places.size());
    }
  }
}

void Trial::put_zones(const Eigen::ArrayXf& scale, std::vector<double>& figures) const {
  const Common& common = *common_;
  const auto count = common.quantities.size();
  for (std::size_t figure = 0; figure < common.asks.figures.size(); ++figure) {
    const FigureKey& key = common.asks.figures[figure];
    if (key.kind != FigureKind::share) continue;
    const auto zone = std::find_if(common.zones.begin(), common.zones.end(),
                                   [&](const Common::Zone& one) { return one.name == key.zone; });
    double inside = 0, all = 0;
    std::map<int, std::pair<double, double>> levels;
    for (const ZonePlace& place : zones_) {
      const double size = key.share == ZoneShare::perch ? place.length : place.volume;
      if (size <= 0) continue;
      bool holds = true;
      for (const Want& want : zone->wants) {
        const std::size_t quantity = common.position(want.quantity);
        Orientations sum = Orientations::Zero();
        for (std::size_t channel = quantity; channel < place.light.size(); channel += count)
          sum += scale[static_cast<Eigen::Index>(channel)] * place.light[channel];
        const double most = sum.maxCoeff();
        holds = holds && !(want.limits.min && most < *want.limits.min) &&
                !(want.limits.max && most > *want.limits.max);
      }
      inside += holds ? size : 0, all += size;
      auto& [in_level, of_level] = levels[place.level];
      in_level += holds ? size : 0, of_level += size;
    }
    figures[figure] = all > 0 ? inside / all : 0;
    if (key.share == ZoneShare::each_level)
      for (const auto& [level, sums] : levels)
        figures[figure] = std::min(figures[figure], sums.first / sums.second);
  }
}

std::vector<double> Trial::figures(const std::vector<double>& dims) const {
  std::vector<double> figures(common_->asks.figures.size(), 0.0);
  const Eigen::ArrayXf scale = scales(dims);
  for (const Gauge& gauge : gauges_) put_gauge(gauge, scale, figures);
  put_zones(scale, figures);
  return figures;
}

// --- tracing

struct TrialRoom::Parts {
  Scene scene;
  LightField field;  // of the scene as it is; others share its surfaces
  std::shared_ptr<Trial::Common> common;
  // Places that stay wherever the lamps are.
  std::vector<Trial::Gauge> gauges;  // of readings, not yet lit
  std::vector<std::vector<Vec3f>> gauge_places;
  std::vector<Trial::ZonePlace> zones;
  std::vector<Vec3f> zone_places;

  explicit Parts(const Scene& given) : scene(given), field(scene, importance_of(scene)) {}

  void add_readings();
  void add_zones();
  std::vector<Channel> channels(const std::vector<Lamp>& lamps) const;
  std::vector<Vec3f> reach_places(const std::vector<Lamp>& lamps) const;
  std::uint64_t stream(std::uint64_t stage, std::uint64_t number) const {
    return mix64(mix64(scene.survey.seed, stage), number);
  }
};

void TrialRoom::Parts::add_readings() {
  const double back = scene.animal ? scene.animal->back : 0;
  std::size_t item = 0;
  const auto add = [&](const Vec3& at, const Facing& facing, const Plant* crown) {
    Trial::Gauge gauge;
    for (std::size_t i = 0; i < common->asks.figures.size(); ++i) {
      const FigureKey& key = common->asks.figures[i];
      if (key.kind == FigureKind::reading && key.item == item) gauge.figures.push_back(i);
    }
    ++item;
    if (gauge.figures.empty()) return;
    std::vector<Vec3f> places;
    for (std::size_t k = 0; k < (crown ? kCrownPlaces : 1); ++k) {
      const Vec3f normal = facing.direction.cast<float>();
      const Vec3 place =
          crown ? place_in_crown(scene, *crown, stream(kTrialCrownStage, item * 1000 + k)) : at;
      places.push_back(reading_place(scene, field, place, normal));
      gauge.places.push_back({{}, facing.brightest, normal});
    }
    gauges.push_back(std::move(gauge));
    gauge_places.push_back(std::move(places));
  };
  for (const Perch& perch : scene.perches) add(perch.at + Vec3(0, 0, back), perch.facing, nullptr);
  for (const Plant& plant : scene.plants) add(plant.crown_centre, Facing{}, &plant);
  for (const Point& point : scene.points) add(point.at, point.facing, nullptr);
}

void TrialRoom::Parts::add_zones() {
  bool volume = false, perch = false, by_level = false;
  for (const FigureKey& key : common->asks.figures) {
    if (key.kind != FigureKind::share) continue;
    perch = perch || key.share == ZoneShare::perch;
    volume = volume || key.share != ZoneShare::perch;
    by_level = by_level || key.share == ZoneShare::each_level;
    const bool known = std::any_of(common->zones.begin(), common->zones.end(),
                                   [&](const Trial::Common::Zone& zone) { return zone.name == key.zone; });
    if (!known)
      common->zones.push_back(
          {key.zone, key.zone == "basking" ? scene.animal->basking : scene.animal->refuge});
  }
  double whole_volume = 0;
  for (const Box& box : scene.boxes) whole_volume += box.size.prod();
  int level = 0;
  for (const Box& box : scene.boxes) {
    if (!volume) break;
    const auto layers = static_cast<int>(std::max(1.0, std::round(box.size.z() / scene.survey.spacing)));
    for (int layer = 0; layer < layers; ++layer, ++level) {
      const double size = box.size.prod() / layers;
      const double fair = static_cast<double>(kVolumePlaces) * size / whole_volume;
      const auto least = by_level ? static_cast<double>(kPlacesOfALevel) : 2.0;
      const auto count = static_cast<std::size_t>(std::round(std::max(fair, least)));
      for (std::size_t k = 0; k < count; ++k) {
        PairSampler sampler(stream(kTrialPickStage, static_cast<std::uint64_t>(level)),
                            static_cast<std::uint32_t>(k));
        const Pair flat = sampler.next(), deep = sampler.next();
        const Vec3 at = box.corner + Vec3(flat.u * box.size.x(), flat.v * box.size.y(),
                                          (layer + static_cast<double>(deep.u)) / layers * box.size.z());
        if (scene.inside_solid(at)) continue;
        Trial::ZonePlace place;
        place.volume = size / static_cast<double>(count);
        place.level = level;
        zones.push_back(place);
        zone_places.push_back(at.cast<float>());
      }
    }
  }
  if (!perch) return;
  for (const PerchablePlace& sat : perchable_places(scene, scene.survey.spacing)) {
    Trial::ZonePlace place;
    place.length = sat.length;
    zones.push_back(place);
    zone_places.push_back(sat.back.cast<float>());
  }
}

std::vector<Channel> TrialRoom::Parts::channels(const std::vector<Lamp>& lamps) const {
  Scene full = scene;
  full.lamps = lamps;
  const auto outputs = source_outputs(full, Power::full);
  const DayOutputs day = day_outputs(full, Power::full);
  std::vector<std::vector<SpectralD>> weights;
  for (const Quantity quantity : common->quantities)
    weights.push_back(quantity_weights(quantity, outputs, day));
  std::vector<Channel> channels;
  for (std::size_t source = 0; source < outputs.size(); ++source)
    for (const std::vector<SpectralD>& of_quantity : weights)
      channels.push_back({static_cast<int>(source), of_quantity[source].cast<float>()});
  return channels;
}

// Where the animal gets nearest to each lamp.
std::vector<Vec3f> TrialRoom::Parts::reach_places(const std::vector<Lamp>& lamps) const {
  std::vector<Vec3f> places;
  Scene hung = scene;
  hung.lamps = lamps;
  const Reachable reachable(hung);
  for (const Lamp& lamp : lamps) {
    const std::vector<Vec3> near = reachable.near_lamp(lamp);
    const std::size_t step = near.size() / kMostReachPlaces + 1;
    for (std::size_t i = 0; i < near.size(); i += step) places.push_back(near[i].cast<float>());
  }
  return places;
}

TrialRoom::TrialRoom(const Scene& scene, const Asks& asks) : parts_(std::make_unique<Parts>(scene)) {
  Parts& parts = *parts_;
  parts.common = std::make_shared<Trial::Common>();
  Trial::Common& common = *parts.common;
  common.asks = asks;
  common.quantities = {Quantity::uvi, Quantity::lux};
  const auto need = [&](Quantity quantity) {
    if (common.position(quantity) == common.quantities.size()) common.quantities.push_back(quantity);
  };
  for (const FigureKey& key : asks.figures)
    if (key.kind != FigureKind::share) need(key.quantity);
  if (scene.animal)
    for (const auto* wants : {&scene.animal->basking, &scene.animal->refuge})
      for (const Want& want : *wants) need(want.quantity);
  common.uvi = 0, common.lux = 1;
  common.room_channels = scene.has_room_light() ? static_cast<double>(common.quantities.size()) : 0;
  parts.add_readings();
  parts.add_zones();
}

TrialRoom::~TrialRoom() = default;

Trial TrialRoom::trial(const std::vector<Lamp>& lamps) const {
  const Parts& parts = *parts_;
  const LightField field(parts.field, lamps);
  const std::vector<Channel> channels = parts.channels(lamps);
  Trial trial;
  trial.common_ = parts.common;
  trial.lamps_ = lamps;
  trial.gauges_ = parts.gauges;
  trial.zones_ = parts.zones;
  Trial::Gauge reach;
  reach.greatest = true;
  for (std::size_t i = 0; i < parts.common->asks.figures.size(); ++i)
    if (parts.common->asks.figures[i].kind == FigureKind::reach) reach.figures.push_back(i);
  std::vector<Vec3f> reached;
  if (!reach.figures.empty()) reached = parts.reach_places(lamps);
  reach.places.resize(reached.size());
  trial.gauges_.push_back(std::move(reach));

  // One task a place.
  struct Task {
    Vec3f at;
    std::uint64_t id;
    GatherEffort effort;
    DirectedLight* light;
    Trial::ZonePlace* zone;
  };
  std::vector<Task> tasks;
  std::uint64_t number = 0;
  for (std::size_t g = 0; g < parts.gauges.size(); ++g)
    for (std::size_t k = 0; k < parts.gauge_places[g].size(); ++k) {
      const bool crown = parts.gauge_places[g].size() > 1;
      tasks.push_back({parts.gauge_places[g][k], parts.stream(kTrialReadingStage, number++),
                       crown ? kCrownEffort : kReadingEffort, &trial.gauges_[g].places[k].light, nullptr});
    }
  for (std::size_t k = 0; k < reached.size(); ++k)
    tasks.push_back({reached[k], parts.stream(kTrialReachStage, k), kReachEffort,
                     &trial.gauges_.back().places[k].light, nullptr});
  for (std::size_t k = 0; k < trial.zones_.size(); ++k)
    tasks.push_back(
        {parts.zone_places[k], parts.stream(kTrialZoneStage, k), kZoneEffort, nullptr, &trial.zones_[k]});
  tbb::parallel_for(std::size_t{0}, tasks.size(), [&](std::size_t i) {
    const Task& task = tasks[i];
    DirectedLight light = collect_light(field, channels, task.at, task.id, task.effort);
    if (task.light) {
      *task.light = std::move(light);
      return;
    }
    task.zone->light.assign(channels.size(), Orientations::Zero());
    for (Eigen::Index sample = 0; sample < light.directions.cols(); ++sample) {
      const Orientations cosines = orientation_cosines(light.directions.col(sample).matrix());
      for (std::size_t channel = 0; channel < channels.size(); ++channel)
        task.zone->light[channel] += light.values(static_cast<Eigen::Index>(channel), sample) * cosines;
    }
  });
  return trial;
}

}  // namespace boughlight
