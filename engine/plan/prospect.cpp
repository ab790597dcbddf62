#include "plan/prospect.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <bit>
#include <cmath>

#include "assess/judge.h"
#include "assess/readings.h"
#include "plan/stages.h"

namespace boughlight {
namespace {

// Sets of joins of a mean over a crown.
constexpr std::uint32_t kParts = 16;
constexpr std::uint32_t kLeastJoins = 4, kMostJoins = 128, kPilotJoins = 16;  // of a kind, in each replicate
// What smoothing over the places around takes off the error of a mean over a crown, roughly.
constexpr double kSmoothed = 0.4;

// Places spread over the lattice's range: the R2 sequence of M. Roberts (2018), multiples of the powers of
// the inverse of the root of x^4 = x + 1.
std::vector<PlacedLamp> spread_out(const Lamp& lamp, const Top& top, const Lattice3& range, int count,
                                   double shift) {
  constexpr double kRoot = 1.2207440846057596;
  const auto along = [&](const std::vector<double>& values, double share) {
    return values.front() + (share - std::floor(share)) * (values.back() - values.front());
  };
  std::vector<PlacedLamp> lamps;
  for (int i = 0; i < count; ++i) {
    const double n = i + shift;
    lamps.emplace_back(hung(lamp, top,
                            {along(range.x, 0.5 + n / kRoot), along(range.y, 0.5 + n / (kRoot * kRoot)),
                             along(range.gap, 0.5 + n / (kRoot * kRoot * kRoot))}));
  }
  return lamps;
}

}  // namespace

Prospect::Prospect(const Scene& scene, std::size_t lamp, const Lattice3& range, double budget,
                   const PlanProgress& progress)
    : standing_(std::make_unique<Standing>(scene, lamp)), asks_(asks_of(scene)), top_(top_of(scene)) {
  const auto tell = [&](const std::string& stage, double share) {
    if (progress) progress(stage, share);
  };
  constexpr int kRange = 8, kTries = 12;
  const std::vector<PlacedLamp> lamps = spread_out(standing_->lamp(), top_, range, kRange, 0);
  tell("reading everything as it is", 0);
  survey_.scene = standing_->scene();
  survey_.has_day = standing_->setting().has_day;
  take_readings(standing_->setting(), survey_);
  tell("following light outwards", 0.33);
  plan_readings();
  // Pilots look between the places that their joins were chosen for.
  set_efforts(lamps, spread_out(standing_->lamp(), top_, range, kTries, 0.5), range.size(), budget);
  RayCount& spent = standing_->setting().spent;
  for (Plan& plan : plans_) plan.reading = reading_of(plan, plan.effort, lamps, kProspectFinalStage);
  std::vector<Quantity> reach;
  std::vector<FigureKey> shares;
  for (std::size_t i = 0; i < asks_.figures.size(); ++i) {
    const FigureKey& key = asks_.figures[i];
    if (key.kind == FigureKind::reach) reach.push_back(key.quantity), reach_figures_.push_back(i);
    if (key.kind == FigureKind::share) shares.push_back(key), share_figures_.push_back(i);
  }
  tell("looking at what is within reach", 0.42);
  if (!reach.empty()) reach_ = std::make_unique<MovedReach>(*standing_, top_, reach, lamps, spent);
  tell("looking at basking places and refuge", 0.6);
  if (!shares.empty()) shares_ = std::make_unique<MovedShares>(*standing_, top_, shares, range, spent);
  tell("ready", 1);
}

void Prospect::plan_readings() {
  const Scene& scene = standing_->scene();
  for (std::size_t i = 0; i < asks_.figures.size(); ++i) {
    const FigureKey& key = asks_.figures[i];
    if (key.kind != FigureKind::reading) continue;
    if (plans_.empty() || plans_.back().item != key.item) {
      plans_.emplace_back();
      plans_.back().item = key.item;
      if (survey_.readings[key.item].kind == ReadingKind::plant)
        plans_.back().crown = &scene.plants[key.item - scene.perches.size()];
    }
    plans_.back().quantities.push_back(key.quantity);
    plans_.back().figures.push_back(i);
  }
}

std::unique_ptr<MovedReading> Prospect::reading_of(const Plan& plan, const UptakeEffort& effort,
                                                   const std::vector<PlacedLamp>& range,
                                                   std::uint64_t stage) {
  return std::make_unique<MovedReading>(
      *standing_, survey_.readings[plan.item], plan.crown, &survey_.responses[plan.item], plan.quantities,
      range, effort, standing_->setting().stream(stage, plan.item), standing_->setting().spent);
}

// Pilots, which are no part of any result, tell how many joins each reading takes to be known to the
// tolerance at most places.
void Prospect::set_efforts(const std::vector<PlacedLamp>& range, const std::vector<PlacedLamp>& tries,
                           std::size_t places, double budget) {
  double joins = 0;
  for (Plan& plan : plans_) {
    // By place and quantity.
    const auto splits_with = [&](const UptakeEffort& effort) {
      const auto reading = reading_of(plan, effort, range, kProspectPilotStage);
      std::vector<std::vector<Split>> splits(tries.size());
      std::vector<RayCount> rays(tries.size());
      tbb::parallel_for(std::size_t{0}, tries.size(),
                        [&](std::size_t i) { splits[i] = reading->at(tries[i], 0, rays[i]).splits; });
      for (const RayCount& count : rays) standing_->setting().spent += count;
      return splits;
    };
    const auto lamp_error = [](Split split) {
      split.rest.fill(0);
      return split.figure().se;
    };
    auto direct = splits_with({kPilotJoins, 0, 1}), indirect = splits_with({0, kPilotJoins, 1});
    std::vector<double> direct_need(tries.size(), 0.0), indirect_need(tries.size(), 0.0);
    for (std::size_t i = 0; i < tries.size(); ++i)
      for (std::size_t q = 0; q < plan.quantities.size(); ++q) {
        const Limits limits = limits_on(asks_, plan.figures[q]);
        const double value = direct[i][q].rest_mean() + direct[i][q].lamp_mean() + indirect[i][q].lamp_mean();
        const double allowed = standing_->setting().tolerance() *
                               std::max(value, nearest_limit(limits, value)) / (plan.crown ? kSmoothed : 1);
        if (!(allowed > 0)) continue;
        // Both kinds share the error that is allowed so that they are fewest together.
        const double direct_error = lamp_error(direct[i][q]), indirect_error = lamp_error(indirect[i][q]);
        const double both = kPilotJoins * (direct_error + indirect_error) / (allowed * allowed);
        direct_need[i] = std::max(direct_need[i], direct_error * both);
        indirect_need[i] = std::max(indirect_need[i], indirect_error * both);
      }
    // What three quarters of the places need.
    const auto most = [](std::vector<double> needs) {
      std::sort(needs.begin(), needs.end());
      const double wanted = std::min(std::ceil(needs[needs.size() * 3 / 4]), 1e6);
      return std::clamp(static_cast<std::uint32_t>(wanted), kLeastJoins, kMostJoins);
    };
    plan.effort = {most(direct_need), most(indirect_need), plan.crown ? kParts : 1};
    joins += kReplicates * static_cast<double>(plan.effort.direct + plan.effort.indirect);
  }
  const double share = std::min(1.0, budget / std::max(1.0, joins * static_cast<double>(places)));
  for (Plan& plan : plans_)
    for (std::uint32_t* count : {&plan.effort.direct, &plan.effort.indirect})
      *count = std::max(kLeastJoins, static_cast<std::uint32_t>(std::lround(share * *count)));
}

Prospect::Outlook Prospect::at(const Hang& hang, std::uint32_t part, RayCount& rays, double output) const {
  Outlook outlook;
  outlook.figures.resize(asks_.figures.size());
  outlook.splits.resize(asks_.figures.size());
  outlook.reach_at.resize(asks_.figures.size(), Vec3::Zero());
  const PlacedLamp lamp(hung(standing_->lamp(), top_, hang));
  const auto put = [&](std::size_t figure, const Split& split) {
    outlook.figures[figure] = split.figure(output);
    outlook.splits[figure] = split;
  };
  for (const Plan& plan : plans_) {
    MovedReading::Read read = plan.reading->at(lamp, part % plan.effort.parts, rays, output);
    for (std::size_t q = 0; q < plan.figures.size(); ++q) put(plan.figures[q], read.splits[q]);
  }
  if (reach_) {
    std::vector<MovedReach::Found> found = reach_->at(lamp, rays, output);
    for (std::size_t i = 0; i < found.size(); ++i) {
      outlook.reach_at[reach_figures_[i]] = found[i].at;
      put(reach_figures_[i], found[i].split);
    }
  }
  if (shares_) {
    const std::vector<Figure> shares = shares_->at(hang, rays, output);
    for (std::size_t i = 0; i < shares.size(); ++i) outlook.figures[share_figures_[i]] = shares[i];
  }
  return outlook;
}

Prospect::Outlook Prospect::best_at(const Hang& hang, RayCount& rays, double output) const {
  Outlook outlook = at(hang, 0, rays, output);
  const PlacedLamp lamp(hung(standing_->lamp(), top_, hang));
  for (const Plan& plan : plans_) {
    if (plan.effort.parts == 1) continue;
    for (std::uint32_t part = 1; part < plan.effort.parts; ++part) {
      const MovedReading::Read read = plan.reading->at(lamp, part, rays, output);
      for (std::size_t q = 0; q < plan.figures.size(); ++q)
        for (std::size_t k = 0; k < kReplicates; ++k)
          outlook.splits[plan.figures[q]]->lamp[k] += read.splits[q].lamp[k];
    }
    for (const std::size_t figure : plan.figures) {
      for (double& value : outlook.splits[figure]->lamp) value /= plan.effort.parts;
      outlook.figures[figure] = outlook.splits[figure]->figure(output);
    }
  }
  return outlook;
}

bool Prospect::is_averaged(std::size_t figure) const {
  return std::any_of(plans_.begin(), plans_.end(), [&](const Plan& plan) {
    return plan.crown && std::find(plan.figures.begin(), plan.figures.end(), figure) != plan.figures.end();
  });
}

std::uint32_t Prospect::parts() const {
  return kParts;
}

}  // namespace boughlight
