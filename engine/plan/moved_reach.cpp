#include "plan/moved_reach.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "assess/reachable.h"
#include "plan/stages.h"

namespace boughlight {
namespace {

constexpr double kFineStep = 0.02, kCoarseStep = 0.09;  // m
constexpr std::uint32_t kRoofSamples = 64, kLookSamples = 16, kReadSamples = 16, kRestSamples = 4;

// On a sensor that faces where it comes from.
float value_of(const Spectral& weights, const Arrival& arrival) {
  return arrival.scalar *
         (arrival.through.is_spectral ? (weights * arrival.through.spectral).sum() : weights.sum());
}

}  // namespace

MovedReach::MovedReach(const Standing& standing, const Top& top, std::vector<Quantity> quantities,
                       const std::vector<PlacedLamp>& range, RayCount& rays)
    : standing_(standing),
      top_(top),
      quantities_(std::move(quantities)),
      rest_lamps_(standing.rest_scene().lamps.begin(), standing.rest_scene().lamps.end()) {
  for (const Quantity quantity : quantities_) {
    weights_.push_back(standing.lamp_weights(quantity));
    rest_weights_.emplace_back();
    for (const SpectralD& weights : standing.rest().weights(quantity))
      rest_weights_.back().push_back(weights.cast<float>());
  }
  const Reachable reachable(standing.rest_scene());
  const double reach = reachable.reach();
  low_ = Vec3(top.x0 + reach, top.y0 + reach, top.z - reach);
  high_ = Vec3(top.x1 - reach, top.y1 - reach, top.z - reach);
  if ((high_ - low_).head<2>().minCoeff() > 0) {
    const auto roof = [&](double step) {
      Roof lattice;
      lattice.x0 = low_.x(), lattice.y0 = low_.y(), lattice.z = low_.z();
      const Vec3 size = high_ - low_;
      lattice.nx = static_cast<std::size_t>(std::ceil(size.x() / step)) + 1;
      lattice.ny = static_cast<std::size_t>(std::ceil(size.y() / step)) + 1;
      lattice.dx = size.x() / static_cast<double>(lattice.nx - 1);
      lattice.dy = size.y() / static_cast<double>(lattice.ny - 1);
      return lattice;
    };
    fine_ = roof(kFineStep), coarse_ = roof(kCoarseStep);
    sides_pass_ = sides_that_pass();
    obstructed_ = is_obstructed(rays);
    light_roof(rays);
    spots_.resize(coarse_.nx * coarse_.ny);
    std::vector<RayCount> counts(spots_.size());
    tbb::parallel_for(std::size_t{0}, spots_.size(), [&](std::size_t i) {
      spots_[i] = light_spot(coarse_.place(i), false, range, i, counts[i]);
    });
    for (const RayCount& count : counts) rays += count;
  }
  std::vector<Vec3> strongest;
  for (std::size_t q = 0; q < quantities_.size() && !spots_.empty() && !range.empty(); ++q) {
    const auto strong =
        std::max_element(roof_[q].begin(), roof_[q].end(),
                         [](const Vec3f& a, const Vec3f& b) { return a.squaredNorm() < b.squaredNorm(); });
    const Vec3 place = fine_.place(static_cast<std::size_t>(strong - roof_[q].begin()));
    strongest.push_back(
        uphill(place, [&](const Vec3& at, std::uint32_t) { return rest_direct(at, rays)[q].norm(); }));
  }
  mark_places(std::move(strongest), range, rays);
  steady_.resize(quantities_.size());
  if (empty() || range.empty()) return;
  for (std::size_t q = 0; q < quantities_.size(); ++q) {
    // A lamp that has none of it changes nothing, wherever it hangs.
    if (!(weights_[q].sum() > 0)) steady_[q] = find(range.front(), q, 1, rays);
  }
}

std::vector<Vec3f> MovedReach::rest_direct(const Vec3& place, RayCount& rays) const {
  std::vector<Vec3f> sums(quantities_.size(), Vec3f::Zero());
  for (std::uint32_t sample = 0; sample < kRoofSamples; ++sample) {
    PairSampler sampler(standing_.setting().stream(kReachRoofStage, 0), sample);
    standing_.rest_field().direct(
        place.cast<float>(), nullptr, 0, sampler, rays, [&](const Arrival& arrival) {
          for (std::size_t q = 0; q < sums.size(); ++q) {
            const Spectral& bins = rest_weights_[q][static_cast<std::size_t>(arrival.source)];
            sums[q] += value_of(bins, arrival) / kRoofSamples * arrival.direction;
          }
        });
  }
  return sums;
}

void MovedReach::light_roof(RayCount& rays) {
  roof_.assign(quantities_.size(), std::vector<Vec3f>(fine_.nx * fine_.ny, Vec3f::Zero()));
  std::vector<RayCount> counts(fine_.nx * fine_.ny);
  tbb::parallel_for(std::size_t{0}, counts.size(), [&](std::size_t i) {
    const std::vector<Vec3f> sums = rest_direct(fine_.place(i), counts[i]);
    for (std::size_t q = 0; q < sums.size(); ++q) roof_[q][i] = sums[q];
  });
  for (const RayCount& count : counts) rays += count;
}

MovedReach::Spot MovedReach::light_spot(const Vec3& place, bool marked, const std::vector<PlacedLamp>& range,
                                        std::uint64_t number, RayCount& rays) const {
  constexpr GatherEffort kReflected{0, 64}, kAll{64, 512};
  constexpr UptakeEffort kJoins{0, 16, 1};
  Spot spot;
  spot.at = place;
  const std::uint64_t id = standing_.setting().stream(kReachSpotStage, number);
  std::vector<Channel> channels;
  for (const auto& sources : rest_weights_)
    for (std::size_t source = 0; source < sources.size(); ++source)
      channels.push_back({static_cast<int>(source), sources[source]});
  const std::size_t sources = rest_weights_.empty() ? 0 : rest_weights_.front().size();
  std::vector<float> values(quantities_.size());
  for (std::uint64_t k = 0; k < kReplicates; ++k) {
    spot.rest.emplace_back(quantities_.size());
    const DirectedLight light = collect_light(standing_.rest_field(), channels, place.cast<float>(),
                                              mix64(id, k), marked ? kAll : kReflected);
    rays += light.rays;
    for (Eigen::Index i = 0; i < light.directions.cols(); ++i) {
      for (std::size_t q = 0; q < values.size(); ++q)
        values[q] = light.values.col(i)
                        .segment(static_cast<Eigen::Index>(q * sources), static_cast<Eigen::Index>(sources))
                        .sum();
      spot.rest.back().add(light.directions.col(i).matrix(), values.data());
    }
  }
  spot.lamp = std::make_unique<Uptake>(standing_.field(),
                                       fixed_receiver(place.cast<float>(), Vec3f::UnitZ(), mix64(id, 99)),
                                       false, weights_, range, kJoins, rays);
  return spot;
}

void MovedReach::mark_places(std::vector<Vec3> chosen, const std::vector<PlacedLamp>& range, RayCount& rays) {
  // About three thousand places, whatever the size; those near the lamps that stay are among them.
  constexpr double kStarts = 3000;
  constexpr std::size_t kOfTheRest = 3, kOfThisLamp = 1;
  double volume = 0;
  for (const Box& box : standing_.scene().boxes) volume += box.size.prod();
  const std::vector<Vec3> starts = Reachable(standing_.rest_scene()).starts(std::cbrt(volume / kStarts));
  const std::size_t given = chosen.size();
  const auto choose = [&](const std::vector<float>& values, std::size_t count) {
    std::vector<std::size_t> order(starts.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return values[a] > values[b]; });
    for (const std::size_t i : order) {
      if (count == 0 || !(values[i] > 0)) break;
      const auto near = [&](const Vec3& other) { return (other - starts[i]).norm() < kApart; };
      if (std::any_of(chosen.begin(), chosen.end(), near)) {
        --count;  // the best is there already
        continue;
      }
      chosen.push_back(starts[i]);
      --count;
    }
  };
  std::vector<RayCount> counts(starts.size());
  std::vector<float> values(starts.size());
  for (std::size_t q = 0; q < quantities_.size(); ++q) {
    tbb::parallel_for(std::size_t{0}, starts.size(), [&](std::size_t i) {
      Vec3f sum = Vec3f::Zero();
      for (std::size_t other = 0; other < rest_lamps_.size(); ++other)
        for (std::uint32_t sample = 0; sample < kLookSamples; ++sample) {
          PairSampler sampler(standing_.setting().stream(kReachLookStage, other), sample);
          standing_.rest_field().direct_from(rest_lamps_[other], 0, starts[i].cast<float>(), nullptr, 0,
                                             sampler, counts[i], [&](const Arrival& arrival) {
                                               sum += value_of(rest_weights_[q][other], arrival) /
                                                      kLookSamples * arrival.direction;
                                             });
        }
      values[i] = sum.norm();
    });
    choose(values, kOfTheRest);
    for (const PlacedLamp& lamp : range) {
      tbb::parallel_for(std::size_t{0}, starts.size(), [&](std::size_t i) {
        values[i] = straight_light(lamp, q, starts[i], kLookSamples, true, counts[i]).norm();
      });
      choose(values, kOfThisLamp);
    }
  }
  for (const RayCount& count : counts) rays += count;
  // What else lies under the top is searched for each place of the lamp.
  if (!spots_.empty() && !obstructed_) {
    constexpr double kTouch = 1e-6;
    chosen.erase(std::remove_if(chosen.begin() + static_cast<std::ptrdiff_t>(given), chosen.end(),
                                [&](const Vec3& place) { return place.z() > low_.z() - kTouch; }),
                 chosen.end());
  }
  marked_.resize(chosen.size());
  std::vector<RayCount> spent(chosen.size());
  tbb::parallel_for(std::size_t{0}, chosen.size(), [&](std::size_t i) {
    const std::uint64_t number = spots_.size() + i;
    marked_[i] = light_spot(chosen[i], true, range, number, spent[i]);
    marked_[i].direct = rest_direct(chosen[i], spent[i]);
  });
  for (const RayCount& count : spent) rays += count;
}

const MovedReach::Spot& MovedReach::spot_for(const Vec3& place, int replicate) const {
  for (const Spot& spot : marked_)
    if (spot.at == place) return spot;
  // One of the four around, as often as its share in what is bilinear between them.
  const auto along = [](double offset, double step, std::size_t count, double& share) {
    const double steps = std::clamp(offset / step, 0.0, static_cast<double>(count - 1));
    const auto low = std::min(static_cast<std::size_t>(steps), count - 2);
    share = steps - static_cast<double>(low);
    return low;
  };
  double u = 0, v = 0;
  const std::size_t i = along(place.x() - coarse_.x0, coarse_.dx, coarse_.nx, u);
  const std::size_t j = along(place.y() - coarse_.y0, coarse_.dy, coarse_.ny, v);
  // Replicates in a shuffled order, so that the two halves of them meet the same corners.
  const double chance = ((replicate * 7) % kReplicates + 0.5) / kReplicates;
  const bool upper = chance < v;
  const double within = upper ? chance / v : (chance - v) / (1 - v);
  return spots_[coarse_.at(i + (within < u ? 1 : 0), j + (upper ? 1 : 0))];
}

MovedReach::Found MovedReach::read(const PlacedLamp& lamp, std::size_t quantity, const Vec3& place,
                                   double output, RayCount& rays) const {
  TurnedSensor sensor({quantities_[quantity]}, 0);
  LampSamples samples;
  const Vec3f at = place.cast<float>();
  const bool is_marked =
      std::any_of(marked_.begin(), marked_.end(), [&](const Spot& spot) { return spot.at == place; });
  for (int k = 0; k < kReplicates; ++k) {
    const std::uint64_t stream = standing_.setting().stream(kReachReadStage, static_cast<std::uint64_t>(k));
    for (std::uint32_t i = 0; i < kReadSamples; ++i) {
      PairSampler sampler(stream, i);
      standing_.field().direct_from(lamp, 0, at, nullptr, 1, sampler, rays, [&](const Arrival& arrival) {
        const float value = value_of(weights_[quantity], arrival) / kReadSamples;
        samples.replicates[static_cast<std::size_t>(k)].add(arrival.direction, &value, 1);
      });
    }
    // What stays is known where it is marked; elsewhere it is the smaller part.
    for (std::uint32_t i = 0; i < kRestSamples && !is_marked; ++i) {
      PairSampler sampler(mix64(stream, 1), i);
      standing_.rest_field().direct(at, nullptr, 1, sampler, rays, [&](const Arrival& arrival) {
        const Spectral& bins = rest_weights_[quantity][static_cast<std::size_t>(arrival.source)];
        const float value = value_of(bins, arrival) / kRestSamples;
        sensor.add_rest(k, arrival.direction, &value);
      });
    }
    const Spot& spot = spot_for(place, k);
    sensor.add_rest_first(k, spot.rest[static_cast<std::size_t>(k)], quantity);
    spot.lamp->read_replicate(k, lamp, 0, rays, [&](const Vec3f& direction, const float* values) {
      samples.replicates[static_cast<std::size_t>(k)].add(direction, values + quantity, 1);
    });
  }
  sensor.settle();
  TurnedSensor::Read read = sensor.read(samples, output);
  return {place, read.direction, read.splits.front()};
}

MovedReach::Found MovedReach::find(const PlacedLamp& lamp, std::size_t q, double output,
                                   RayCount& rays) const {
  // Under the top: uphill from right below the lamp, from where it points, and from where the others are
  // strongest.
  std::vector<Vec3> places;
  const auto add = [&](const Vec3& place) {
    if (std::none_of(places.begin(), places.end(),
                     [&](const Vec3& other) { return (other - place).norm() < kApart; }))
      places.push_back(place);
  };
  if (!spots_.empty()) {
    const auto reachable = [&](const Vec3& place) -> Vec3 { return place.cwiseMax(low_).cwiseMin(high_); };
    const Vec3 foot = reachable(lamp.at), aim = lamp.scene_from_local.col(2);
    add(climb(lamp, q, foot, output, rays));
    const Vec3 aimed_at = aim.z() < 0 ? reachable(lamp.at + (lamp.at.z() - low_.z()) / -aim.z() * aim) : foot;
    if ((aimed_at - foot).norm() > kApart) add(climb(lamp, q, aimed_at, output, rays));
    // Right below it and where it points it may be dark.
    if (obstructed_)
      for (const Vec3& place : brightest_under_top(lamp, q, output, rays))
        add(climb(lamp, q, place, output, rays));
    // Where the others are strongest the lamp may well be of no account.
    constexpr float kOfNoAccount = 0.03f;
    const Spot& strong = marked_[q];
    const float here =
        static_cast<float>(output) * straight_light(lamp, q, strong.at, kLookSamples, false, rays).norm();
    if (here > kOfNoAccount * strong.direct[q].norm()) add(climb(lamp, q, strong.at, output, rays));
  }
  // Which of them, and of those that are marked, with shadows; the reading has numbers of its own.
  Vec3 best = Vec3::Zero();
  float most = -1;
  const auto consider = [&](const Vec3& place, const Vec3f& rest) {
    const Vec3f lamp_light =
        static_cast<float>(output) *
        straight_light(lamp, q, place, obstructed_ ? kRoofSamples : kLookSamples, true, rays);
    const float value = std::max({(rest + lamp_light).norm(), rest.norm(), lamp_light.norm()});
    if (value > most) most = value, best = place;
  };
  for (const Vec3& place : places) consider(place, rest_light(q, place));
  for (const Spot& spot : marked_) consider(spot.at, spot.direct[q]);
  return read(lamp, q, best, output, rays);
}

std::vector<MovedReach::Found> MovedReach::at(const PlacedLamp& lamp, RayCount& rays, double output) const {
  std::vector<Found> found;
  if (empty()) return found;
  for (std::size_t q = 0; q < quantities_.size(); ++q)
    found.push_back(steady_[q] ? *steady_[q] : find(lamp, q, output, rays));
  return found;
}

}  // namespace boughlight
