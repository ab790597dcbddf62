#include "plan/moved_shares.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "assess/perchable.h"
#include "plan/stages.h"

namespace boughlight {
namespace {

constexpr double kSharedPlaces = 450;         // about so many in all
constexpr double kSharedPlacesOfALevel = 24;  // where every level is asked about
// Straight from the lamp, at each place; twice as many where a limit is not far off.
constexpr std::uint32_t kLampSamples = 4;
constexpr double kAnchorStep = 0.2, kAnchorGapStep = 0.12;  // m
// A place whose reading is as near to a limit as this may well be on the other side of it.
constexpr float kNearLimit = 0.05f;

// From the first to the last of `values`, no further apart than `step`.
std::vector<double> thinned(const std::vector<double>& values, double step) {
  const double low = values.front(), high = values.back();
  const int steps = static_cast<int>(std::ceil((high - low) / step - 1e-9));
  std::vector<double> thin = {low};
  for (int i = 1; i <= steps; ++i) thin.push_back(low + (high - low) * i / steps);
  return thin;
}

// Where `value` lies between the entries of a rising list: the lower one and the share of the way to the
// next.
struct Step {
  std::size_t low = 0;
  float share = 0;
};
Step step_of(const std::vector<double>& values, double value) {
  if (values.size() < 2) return {};
  const auto above = std::upper_bound(values.begin() + 1, values.end() - 1, value);
  const auto high = static_cast<std::size_t>(above - values.begin());
  const double share = (value - values[high - 1]) / (values[high] - values[high - 1]);
  return {high - 1, static_cast<float>(std::clamp(share, 0.0, 1.0))};
}

// The greatest intensity of a lamp per watt, 1/sr, as found from places all round it.
float most_intensity(const PlacedLamp& lamp) {
  constexpr std::uint32_t kWays = 4096;
  constexpr float kFar = 20;  // m
  float most = 0;
  for (std::uint32_t i = 0; i < kWays; ++i) {
    PairSampler sampler(1, i);
    const Vec3f from = lamp.at.cast<float>() + kFar * sample_sphere(sampler.next());
    most = std::max(most, kFar * kFar * LightField::connect(lamp, from, {0.5f, 0.5f}).weight);
  }
  const Vec3f ahead = lamp.at.cast<float>() + kFar * lamp.scene_from_local.col(2).cast<float>();
  return std::max(most, kFar * kFar * LightField::connect(lamp, ahead, {0.5f, 0.5f}).weight);
}

}  // namespace

MovedShares::MovedShares(const Standing& standing, const Top& top, const std::vector<FigureKey>& keys,
                         const Lattice3& range, RayCount& rays)
    : standing_(standing), top_(top) {
  bool volume = false, perch = false, by_level = false;
  for (const FigureKey& key : keys) {
    if (key.kind != FigureKind::share) continue;
    keys_.push_back(key);
    volume = volume || key.share != ZoneShare::perch;
    perch = perch || key.share == ZoneShare::perch;
    by_level = by_level || key.share == ZoneShare::each_level;
    if (std::any_of(zones_.begin(), zones_.end(), [&](const Zone& zone) { return zone.name == key.zone; }))
      continue;
    const Animal& animal = *standing.scene().animal;
    Zone zone{key.zone, key.zone == "basking" ? animal.basking : animal.refuge, {}};
    for (const Want& want : zone.wants) {
      const auto known = std::find(quantities_.begin(), quantities_.end(), want.quantity);
      zone.quantity.push_back(static_cast<std::size_t>(known - quantities_.begin()));
      if (known == quantities_.end()) quantities_.push_back(want.quantity);
    }
    zones_.push_back(std::move(zone));
  }
  if (keys_.empty()) return;
  for (const Quantity quantity : quantities_) {
    weights_.push_back(standing.lamp_weights(quantity));
    whole_.push_back(weights_.back().sum());
  }
  most_intense_ = most_intensity(PlacedLamp(standing.lamp()));
  if (volume) add_volume_places(by_level);
  if (perch)
    for (const PerchablePlace& place : perchable_places(standing.scene(), standing.scene().survey.spacing)) {
      places_.emplace_back();
      places_.back().at = place.back.cast<float>();
      places_.back().length = place.length;
    }
  anchors_ = {thinned(range.x, kAnchorStep), thinned(range.y, kAnchorStep),
              thinned(range.gap, kAnchorGapStep)};
  std::vector<PlacedLamp> anchors;
  for (std::size_t i = 0; i < anchors_.size(); ++i)
    anchors.emplace_back(hung(standing.lamp(), top, anchors_.hang(i)));
  std::vector<RayCount> counts(places_.size());
  tbb::parallel_for(std::size_t{0}, places_.size(),
                    [&](std::size_t i) { light(places_[i], i, anchors, counts[i]); });
  for (const RayCount& count : counts) rays += count;
}

void MovedShares::add_volume_places(bool by_level) {
  const Scene& scene = standing_.scene();
  double volume = 0;
  for (const Box& box : scene.boxes) volume += box.size.prod();
  const double step = std::cbrt(volume / kSharedPlaces);
  std::uint64_t number = 0;
  for (const Box& box : scene.boxes) {
    // Levels as a survey has them where they are asked about.
    const double height = by_level ? scene.survey.spacing : step;
    const double width = by_level ? std::sqrt(box.size.x() * box.size.y() / kSharedPlacesOfALevel) : step;
    const Vec3 wished = box.size.cwiseQuotient(Vec3(width, width, height));
    const std::array<int, 3> count = {std::max(1, static_cast<int>(std::lround(wished.x()))),
                                      std::max(1, static_cast<int>(std::lround(wished.y()))),
                                      std::max(1, static_cast<int>(std::lround(wished.z())))};
    const Vec3 cell = box.size.cwiseQuotient(Vec3(count[0], count[1], count[2]));
    for (int z = 0; z < count[2]; ++z) {
      levels_.push_back(box.corner.z() + (z + 0.5) * cell.z());
      for (int y = 0; y < count[1]; ++y)
        for (int x = 0; x < count[0]; ++x) {
          Stream random(standing_.setting().stream(kSharesPlaceStage, number++), 0);
          const double u = random.next(), v = random.next(), w = random.next();
          const Vec3 at = box.corner + cell.cwiseProduct(Vec3(x + u, y + v, z + w));
          if (scene.inside_solid(at)) continue;
          places_.emplace_back();
          places_.back().at = at.cast<float>();
          places_.back().volume = cell.prod();
          places_.back().level = static_cast<int>(levels_.size()) - 1;
        }
    }
  }
}

void MovedShares::light(Place& place, std::uint64_t number, const std::vector<PlacedLamp>& anchors,
                        RayCount& rays) const {
  constexpr GatherEffort kRest{64, 128};
  constexpr UptakeEffort kReflected{0, 3, 1};
  const std::uint64_t id = standing_.setting().stream(kSharesLightStage, number);
  const std::size_t sources = standing_.rest().outputs.size();
  std::vector<Channel> channels;
  for (const Quantity quantity : quantities_) {
    const std::vector<SpectralD> weights = standing_.rest().weights(quantity);
    for (std::size_t source = 0; source < sources; ++source)
      channels.push_back({static_cast<int>(source), weights[source].cast<float>()});
  }
  const DirectedLight rest = collect_light(standing_.rest_field(), channels, place.at, id, kRest);
  rays += rest.rays;
  place.rest.assign(quantities_.size(), Orientations::Zero());
  for (Eigen::Index i = 0; i < rest.directions.cols(); ++i) {
    const Orientations cosines = orientation_cosines(rest.directions.col(i).matrix());
    for (std::size_t q = 0; q < quantities_.size(); ++q)
      place.rest[q] +=
          rest.values.col(i)
              .segment(static_cast<Eigen::Index>(q * sources), static_cast<Eigen::Index>(sources))
              .sum() *
          cosines;
  }
  place.reflected.assign(anchors.size() * quantities_.size(), Orientations::Zero());
  // A few of the anchors tell which sites count.
  std::vector<PlacedLamp> few;
  constexpr std::size_t kFew = 4;
  for (std::size_t i = 0; i < std::min(kFew, anchors.size()); ++i)
    few.push_back(anchors[(2 * i + 1) * anchors.size() / (2 * std::min(kFew, anchors.size()))]);
  const Uptake uptake(standing_.field(), fixed_receiver(place.at, Vec3f::UnitZ(), mix64(id, 1)), false,
                      weights_, few, kReflected, rays);
  for (std::size_t a = 0; a < anchors.size(); ++a)
    uptake.read(anchors[a], 0, rays, [&](int, const Vec3f& direction, const float* values) {
      const Orientations cosines = orientation_cosines(direction);
      for (std::size_t q = 0; q < quantities_.size(); ++q)
        place.reflected[a * quantities_.size() + q] += values[q] / kReplicates * cosines;
    });
}

void MovedShares::add_reflected(const Place& place, const Hang& hang, double output,
                                std::vector<Orientations>& light) const {
  const std::size_t kinds = quantities_.size();
  const Step x = step_of(anchors_.x, hang.x), y = step_of(anchors_.y, hang.y),
             gap = step_of(anchors_.gap, hang.gap);
  for (int corner = 0; corner < 8; ++corner) {
    const auto weigh = [&](const Step& axis, bool high) { return high ? axis.share : 1 - axis.share; };
    const float weight =
        static_cast<float>(output) * weigh(x, corner & 1) * weigh(y, corner & 2) * weigh(gap, corner & 4);
    if (weight == 0) continue;
    const std::size_t anchor = anchors_.at(x.low + (corner & 1 ? 1 : 0), y.low + (corner & 2 ? 1 : 0),
                                           gap.low + (corner & 4 ? 1 : 0));
    for (std::size_t q = 0; q < kinds; ++q) light[q] += weight * place.reflected[anchor * kinds + q];
  }
}

void MovedShares::add_straight(const Place& place, const PlacedLamp& lamp, double output,
                               std::uint64_t stream, std::uint32_t first, std::vector<Orientations>& light,
                               RayCount& rays) const {
  const auto add = [&](const Arrival& arrival) {
    const Orientations cosines = orientation_cosines(arrival.direction);
    const float scalar = static_cast<float>(output) * arrival.scalar / kLampSamples;
    for (std::size_t q = 0; q < light.size(); ++q)
      light[q] += scalar *
                  (arrival.through.is_spectral ? (weights_[q] * arrival.through.spectral).sum() : whole_[q]) *
                  cosines;
  };
  in_batches(
      kLampSamples,
      [&](std::uint32_t i) {
        return DirectSample{place.at, PairSampler(stream, first + i)};
      },
      [&](std::span<DirectSample> batch) { standing_.field().direct_from(lamp, 0, batch, 1, rays, add); });
}

// Whether every zone is settled already, `nearness` off each limit, where the readings lie between `low` and
// `high`.
bool MovedShares::settled(const std::vector<float>& low, const std::vector<float>& high,
                          float nearness) const {
  return std::all_of(zones_.begin(), zones_.end(), [&](const Zone& zone) {
    bool inside = true;
    for (std::size_t i = 0; i < zone.wants.size(); ++i) {
      const Limits& limits = zone.wants[i].limits;
      const std::size_t q = zone.quantity[i];
      const bool has_min = limits.min && *limits.min > 0;
      if (limits.max && low[q] > *limits.max * (1 + nearness)) return true;
      if (has_min && high[q] < *limits.min * (1 - nearness)) return true;
      inside = inside && !(limits.max && high[q] > *limits.max * (1 - nearness)) &&
               !(has_min && low[q] < *limits.min * (1 + nearness));
    }
    return inside;
  });
}

MovedShares::Holds MovedShares::holds(const Zone& zone, const std::vector<float>& values) {
  // How far inside all limits, as a share of the limit; negative outside.
  double least = 1;
  for (std::size_t i = 0; i < zone.wants.size(); ++i) {
    const Limits& limits = zone.wants[i].limits;
    const double value = values[zone.quantity[i]];
    const auto spare = [&](double limit) { return (value - limit) / (limit > 0 ? limit : 1); };
    if (limits.min && *limits.min > 0) least = std::min(least, spare(*limits.min));
    if (limits.max) least = std::min(least, -spare(*limits.max));
  }
  const double near = static_cast<double>(kNearLimit);
  return least >= near    ? Holds::yes
         : least >= 0     ? Holds::nearly_yes
         : least >= -near ? Holds::nearly_no
                          : Holds::no;
}

void MovedShares::judge(const Place& place, const PlacedLamp& lamp, const Hang& hang, double output,
                        std::uint64_t number, std::vector<Holds>& result, RayCount& rays) const {
  const std::size_t kinds = quantities_.size();
  thread_local std::vector<Orientations> light, more;
  thread_local std::vector<float> low, high;
  light.assign(place.rest.begin(), place.rest.end());
  low.resize(kinds), high.resize(kinds);
  add_reflected(place, hang, output, light);
  // All that the lamp could send straight there and a tenth more, by way of mirrors: may it change anything?
  constexpr float kMirrors = 1.1f;
  const auto settled_below = [&](float most) {
    for (std::size_t q = 0; q < kinds; ++q) {
      low[q] = light[q].maxCoeff();
      high[q] = low[q] + kMirrors * static_cast<float>(output) * most * whole_[q];
    }
    return settled(low, high, kNearLimit);
  };
  const auto unhindered = [&](std::uint64_t stream) {
    float sum = 0;
    for (std::uint32_t i = 0; i < kLampSamples; ++i) {
      PairSampler sampler(stream, i);
      sum += LightField::connect(lamp, place.at, sampler.next()).weight / kLampSamples;
    }
    return sum;
  };
  const auto gap = static_cast<float>(
      lamp.emitter().distance(lamp.scene_from_local.transpose() * (place.at.cast<double>() - lamp.at)));
  const std::uint64_t stream = standing_.setting().stream(kSharesLampStage, number);
  if (!settled_below(most_intense_ / std::max(gap * gap, 1e-6f)) && !settled_below(unhindered(stream))) {
    more = light;
    add_straight(place, lamp, output, stream, 0, light, rays);
    for (std::size_t q = 0; q < kinds; ++q) low[q] = light[q].maxCoeff();
    constexpr float kClear = 0.4f;
    if (!settled(low, low, kClear)) {
      add_straight(place, lamp, output, stream, kLampSamples, more, rays);
      for (std::size_t q = 0; q < kinds; ++q) low[q] = (0.5f * (light[q] + more[q])).maxCoeff();
    }
  }
  for (std::size_t zone = 0; zone < zones_.size(); ++zone) result[zone] = holds(zones_[zone], low);
}

Figure MovedShares::share_of(const FigureKey& key, const std::vector<std::vector<Holds>>& holds) const {
  const auto zone = static_cast<std::size_t>(
      std::find_if(zones_.begin(), zones_.end(), [&](const Zone& z) { return z.name == key.zone; }) -
      zones_.begin());
  struct Sum {
    double whole = 0, held = 0, sample = 0, near = 0;
    void add(double weight, Holds hold, bool sampled) {
      whole += weight;
      if (hold == Holds::yes || hold == Holds::nearly_yes) held += weight;
      if (sampled) sample += weight * weight;
      if (hold == Holds::nearly_yes || hold == Holds::nearly_no) near += weight * weight;
    }
    // A fraction of places drawn at random, and a coin tossed for each that is near a limit.
    Figure figure() const {
      if (!(whole > 0)) return {};
      const double share = held / whole;
      const double variance = (share * (1 - share) * sample + 0.25 * near) / (whole * whole);
      return {share, std::sqrt(variance), std::nullopt};
    }
  };
  if (key.share != ZoneShare::each_level) {
    Sum sum;
    for (std::size_t i = 0; i < places_.size(); ++i) {
      const bool by_volume = key.share == ZoneShare::volume;
      const double weight = by_volume ? places_[i].volume : places_[i].length;
      if (weight > 0) sum.add(weight, holds[i][zone], by_volume);
    }
    return sum.figure();
  }
  // The poorest or, where the limit is a greatest share, the richest level: whichever is nearest to breaking
  // it.
  std::vector<Sum> sums(levels_.size());
  for (std::size_t i = 0; i < places_.size(); ++i)
    if (places_[i].level >= 0)
      sums[static_cast<std::size_t>(places_[i].level)].add(places_[i].volume, holds[i][zone], true);
  Limits limits;
  for (const ZoneWant& want : standing_.scene().zone_wants)
    if (want.zone == key.zone && want.share == key.share) limits = want.limits;
  Figure worst;
  double least = std::numeric_limits<double>::infinity();
  for (const Sum& sum : sums) {
    if (!(sum.whole > 0)) continue;
    const Figure figure = sum.figure();
    double spare = std::numeric_limits<double>::infinity();
    if (limits.min) spare = std::min(spare, figure.value - *limits.min);
    if (limits.max) spare = std::min(spare, *limits.max - figure.value);
    if (spare < least) least = spare, worst = figure;
  }
  return worst;
}

std::vector<Figure> MovedShares::at(const Hang& hang, RayCount& rays, double output) const {
  std::vector<Figure> figures;
  if (keys_.empty()) return figures;
  const PlacedLamp lamp(hung(standing_.lamp(), top_, hang));
  std::vector<std::vector<Holds>> found(places_.size(), std::vector<Holds>(zones_.size()));
  for (std::size_t i = 0; i < places_.size(); ++i) judge(places_[i], lamp, hang, output, i, found[i], rays);
  for (const FigureKey& key : keys_) figures.push_back(share_of(key, found));
  return figures;
}

}  // namespace boughlight
