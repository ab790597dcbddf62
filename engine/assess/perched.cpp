#include "assess/perched.h"

#include <tbb/parallel_for.h>

#include <cmath>

#include "assess/judge.h"

namespace boughlight {
namespace {

enum : std::uint64_t { kPerchStage = 302 };

constexpr int kBatches = 4, kPasses = 4;
constexpr GatherEffort kFirst{64, 128};

// Chance that a true value is at least `limit`.
double chance_at_least(const Figure& figure, double limit) {
  if (figure.se <= 0) return limit <= figure.value ? 1 : 0;
  return 0.5 * std::erfc((limit - figure.value) / (figure.se * std::sqrt(2.0)));
}

}  // namespace

double chance_at_most(const Figure& figure, double limit) {
  return figure.se <= 0 ? (figure.value <= limit ? 1 : 0) : 1 - chance_at_least(figure, limit);
}

PerchedLight::PerchedLight(const Setting& setting)
    : places_(perchable_places(setting.scene, setting.scene.survey.spacing)),
      about_(zone_channels(setting, {Quantity::infrared})),
      values_(places_.size()) {}

void PerchedLight::look_once(Setting& setting) {
  if (looked_) return;
  look_again(setting, std::vector<char>(places_.size(), 1), 0, 1);
  looked_ = true;
}

void PerchedLight::look_again(Setting& setting, const std::vector<char>& which, int pass,
                              std::uint32_t times) {
  std::vector<RayCount> rays(places_.size());
  tbb::parallel_for(std::size_t{0}, places_.size(), [&](std::size_t i) {
    if (which[i]) look(setting, i, pass, times, rays[i]);
  });
  for (const RayCount& count : rays) setting.spent += count;
}

void PerchedLight::look(Setting& setting, std::size_t place, int pass, std::uint32_t times, RayCount& rays) {
  auto& values = values_[place];
  values.assign(about_.quantities.size(), {});
  for (int batch = 0; batch < kBatches; ++batch) {
    const std::uint64_t id =
        setting.stream(kPerchStage, (place * kPasses + static_cast<std::size_t>(pass)) * kBatches +
                                        static_cast<std::size_t>(batch));
    const DirectedLight light =
        collect_light(setting.field, about_.channels, places_[place].back.cast<float>(), id,
                      {kFirst.direct * times, kFirst.paths * times});
    rays += light.rays;
    std::vector<Orientations> sums(about_.quantities.size(), Orientations::Zero());
    for (Eigen::Index k = 0; k < light.directions.cols(); ++k) {
      const Orientations cosines = orientation_cosines(light.directions.col(k).matrix());
      for (std::size_t q = 0; q < sums.size(); ++q) {
        float value = 0;
        for (std::size_t source = 0; source < about_.sources; ++source) {
          const ZoneChannels::Use& use = about_.use(q, source, Power::as_declared);
          value += use.scale * light.values(static_cast<Eigen::Index>(use.channel), k);
        }
        sums[q] += value * cosines;
      }
    }
    for (std::size_t q = 0; q < sums.size(); ++q) values[q].push_back(sums[q].maxCoeff());
  }
}

Figure PerchedLight::figure(std::size_t place, Quantity quantity) const {
  return figure_of(values_[place].at(about_.index_of(quantity)));
}

double PerchedLight::chance(std::size_t place, const std::vector<Want>& wants) const {
  double holds = 1;
  for (const Want& want : wants) {
    const Figure here = figure(place, want.quantity);
    if (want.limits.min && *want.limits.min > 0) holds *= chance_at_least(here, *want.limits.min);
    if (want.limits.max) holds *= chance_at_most(here, *want.limits.max);
  }
  return holds;
}

}  // namespace boughlight
