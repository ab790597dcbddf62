#include "assess/perched.h"

#include <tbb/parallel_for.h>

#include <cmath>

#include "assess/judge.h"
#include "assess/stages.h"

namespace boughlight {
namespace {

constexpr std::size_t kBatches = 4;
constexpr int kPerchedPasses = 4;
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

PerchedLight::PerchedLight(const Setting& setting, const GridLight& light)
    : places_(perchable_places(setting.scene, setting.scene.survey.spacing)),
      about_(zone_channels(setting, {Quantity::infrared})),
      light_(light),
      scales_(setting, about_.quantities, light.mean, light.grid->size()),
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

PerchedLight::Look PerchedLight::trace(const Setting& setting, std::size_t place, int pass,
                                       std::uint32_t times) const {
  Look look;
  look.channels.assign(kBatches * about_.channels.size(), Orientations::Zero());
  for (std::size_t batch = 0; batch < kBatches; ++batch) {
    const std::uint64_t id = setting.stream(
        kPerchedStage, (place * kPerchedPasses + static_cast<std::size_t>(pass)) * kBatches + batch);
    const DirectedLight light =
        collect_light(setting.field, about_.channels, places_[place].back.cast<float>(), id,
                      {kFirst.direct * times, kFirst.paths * times});
    look.rays += light.rays;
    for (Eigen::Index k = 0; k < light.directions.cols(); ++k) {
      const Orientations cosines = orientation_cosines(light.directions.col(k).matrix());
      for (std::size_t c = 0; c < about_.channels.size(); ++c)
        look.channels[batch * about_.channels.size() + c] +=
            light.values(static_cast<Eigen::Index>(c), k) * cosines;
    }
  }
  return look;
}

void PerchedLight::look(const Setting& setting, std::size_t place, int pass, std::uint32_t times,
                        RayCount& rays) {
  CanonicalBytes asked;
  asked.add("perched", places_[place].back, setting.stream(kPerchedStage, place), pass, times);
  identify(asked, about_.channels);
  const Look found = setting.field.memory().recall(asked, [&] { return trace(setting, place, pass, times); });
  rays += found.rays;
  const std::size_t cell = light_.grid->nearest_cell(places_[place].back.cast<float>());
  auto& values = values_[place];
  values.assign(about_.quantities.size(), {});
  for (std::size_t batch = 0; batch < kBatches; ++batch)
    for (std::size_t q = 0; q < about_.quantities.size(); ++q) {
      Orientations sum = Orientations::Zero();
      for (std::size_t source = 0; source < about_.sources; ++source)
        sum += scales_.at(q, source, Power::as_declared, cell) *
               found.channels[batch * about_.channels.size() + about_.at(q, source)];
      values[q].push_back(sum.maxCoeff());
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
