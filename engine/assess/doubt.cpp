#include "assess/doubt.h"

#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <limits>

#include "assess/causes.h"
#include "assess/facts.h"
#include "assess/failures.h"
#include "assess/leaf_spread.h"
#include "assess/loss_chain.h"
#include "assess/meter_plan.h"
#include "assess/readings.h"
#include "assess/stages.h"

namespace boughlight {
namespace {

bool within(const Band& band, const Limits& limits) {
  return !(limits.min && *limits.min > 0 && band.low < *limits.min) &&
         !(limits.max && band.high > *limits.max);
}

// A spot that is no reading of the scene's, with what its meter reading is called.
struct ScreenPlace {
  std::size_t lamp;  // under which
  Vec3 at;
  SensorSpot spot;
};

// m. In a tiny enclosure a step of the usual size would leave it, or end in a lamp.
double shortest_edge(const Scene& scene) {
  double shortest = std::numeric_limits<double>::infinity();
  for (const Box& box : scene.boxes) shortest = std::min(shortest, box.size.minCoeff());
  return shortest;
}

class DoubtFinder {
 public:
  DoubtFinder(Setting& setting, Survey& survey)
      : setting_(setting),
        survey_(survey),
        meshes_(mesh_materials(setting.field.world())),
        causes_(causes_of(setting.scene, meshes_)),
        // A step for the slopes where heights are in no doubt: they cost and tell nothing, but nothing
        // divides by 0.
        step_m_(std::min(std::max(setting.scene.doubts.position, kMeterPlacement_m),
                         shortest_edge(setting.scene) / 10)) {}

  void find() {
    trace();
    put_bands();
    put_leaves();
    put_chains();
    std::vector<TracedSpot> readings, hottest;
    for (std::size_t i = 0; i < spots_.size(); ++i) readings.push_back({&survey_.responses[i], &spots_[i]});
    for (std::size_t i = 0; i < hottest_.size(); ++i)
      hottest.push_back({&hottest_[i]->response, &hottest_spots_[i]});
    survey_.doubt.failures = failure_cases(setting_, survey_, readings, hottest);
    survey_.doubt.meter = plan_readings(setting_, causes_, spots_.size(), wanted_figures(), meter_places());
  }

 private:
  void trace();
  void put_bands();
  void put_leaves();
  void put_chains();
  std::vector<WantedFigure> wanted_figures() const;
  std::vector<MeterPlace> meter_places() const;
  std::vector<ScreenPlace> screen_places() const;
  Band band(const SensorSpot& spot, Quantity quantity, double height_sd_m) const {
    const std::vector<SpectralD> weights = setting_.weights(quantity);
    return band_of(spot.value(weights), causes_, log_gradient(causes_, height_sd_m, spot, weights));
  }

  Setting& setting_;
  Survey& survey_;
  std::vector<int> meshes_;
  std::vector<Cause> causes_;
  double step_m_;
  std::vector<Receiver> receivers_;
  std::vector<SensorSpot> spots_;  // beside the readings
  std::vector<HottestPlace*> hottest_;
  std::vector<SensorSpot> hottest_spots_;
  std::vector<ScreenPlace> screen_;
};

void DoubtFinder::trace() {
  for (std::size_t i = 0; i < survey_.readings.size(); ++i)
    receivers_.push_back(receiver_of(setting_, survey_.readings[i], setting_.stream(kDoubtReadingStage, i)));
  if (survey_.hottest)
    for (HottestPlace* place : {&survey_.hottest->uvi, &survey_.hottest->irradiance,
                                &survey_.hottest->uvi_at_full, &survey_.hottest->irradiance_at_full})
      hottest_.push_back(place);
  screen_ = screen_places();
  spots_.resize(receivers_.size());
  hottest_spots_.resize(hottest_.size());
  const std::size_t count = spots_.size() + hottest_spots_.size() + screen_.size();
  std::vector<RayCount> rays(count);
  tbb::parallel_for(std::size_t{0}, count, [&](std::size_t k) {
    if (k < spots_.size()) {
      // A crown takes its own leaves along.
      const bool crown = survey_.readings[k].kind == ReadingKind::plant;
      spots_[k] = make_spot(setting_, receivers_[k], survey_.responses[k],
                            crown ? Shadows::go_along : Shadows::stay_put, step_m_, rays[k]);
    } else if (k < spots_.size() + hottest_.size()) {
      const std::size_t i = k - spots_.size();
      hottest_spots_[i] =
          make_spot(setting_,
                    fixed_receiver(hottest_[i]->at.cast<float>(), hottest_[i]->direction.cast<float>(),
                                   setting_.stream(kDoubtHottestStage, i)),
                    hottest_[i]->response, Shadows::stay_put, step_m_, rays[k]);
    } else {
      const std::size_t i = k - spots_.size() - hottest_.size();
      screen_[i].spot = make_outside_spot(
          setting_,
          fixed_receiver(screen_[i].at.cast<float>(), Vec3f::UnitZ(), setting_.stream(kDoubtScreenStage, i)),
          step_m_, rays[k]);
    }
  });
  for (const RayCount& one : rays) setting_.spent += one;
}

void DoubtFinder::put_bands() {
  const double position = setting_.scene.doubts.position;
  survey_.doubt.readings.resize(spots_.size());
  for (std::size_t i = 0; i < spots_.size(); ++i) {
    Reading& reading = survey_.readings[i];
    auto& bands = survey_.doubt.readings[i].bands;
    for (const auto& [quantity, figure] : reading.values)
      bands[quantity] = band(spots_[i], quantity, position);
    for (WantResult& want : reading.wants)
      want.firm = want.verdict == Verdict::met && within(bands.at(want.want.quantity), want.want.limits);
  }
  if (!survey_.hottest) return;
  // The closest place is wherever the animal can get to, so it has no height of its own to be wrong about.
  const auto put = [&](HottestPlace& place, const SensorSpot& spot, std::optional<Band>& found) {
    found = band(spot, place.quantity, 0);
    if (place.limit)
      place.firm = place.verdict == Verdict::met && within(*found, {std::nullopt, place.limit});
  };
  put(survey_.hottest->uvi, hottest_spots_[0], survey_.doubt.hottest_uvi);
  put(survey_.hottest->irradiance, hottest_spots_[1], survey_.doubt.hottest_irradiance);
}

void DoubtFinder::put_leaves() {
  if (survey_.leaf_count == 0) return;
  std::vector<std::map<Quantity, LeafSpread>> spreads =
      leaf_spreads(setting_, receivers_, spots_, setting_.spent);
  for (std::size_t i = 0; i < spreads.size(); ++i) survey_.doubt.readings[i].leaves = std::move(spreads[i]);
  survey_.doubt.leaf_drawings = kLeafDrawings;
}

void DoubtFinder::put_chains() {
  for (std::size_t i = 0; i < spots_.size(); ++i) {
    const Reading& reading = survey_.readings[i];
    if (reading.kind == ReadingKind::perch || !reading.wants.empty())
      survey_.doubt.readings[i].chains = main_chains(setting_, spots_[i], reading.at);
  }
}

// Every figure with a limit; where nothing is asked, what perches get.
std::vector<WantedFigure> DoubtFinder::wanted_figures() const {
  std::vector<WantedFigure> wanted;
  for (std::size_t i = 0; i < spots_.size(); ++i)
    for (const WantResult& want : survey_.readings[i].wants)
      wanted.push_back({&spots_[i], i, want.want.quantity});
  for (std::size_t i = 0; i < std::min<std::size_t>(hottest_.size(), 2); ++i)
    if (hottest_[i]->limit) wanted.push_back({&hottest_spots_[i], std::nullopt, hottest_[i]->quantity});
  if (wanted.empty())
    for (std::size_t i = 0; i < spots_.size(); ++i)
      if (survey_.readings[i].kind == ReadingKind::perch)
        for (const Quantity quantity : {Quantity::uvi, Quantity::lux})
          wanted.push_back({&spots_[i], i, quantity});
  return wanted;
}

// On top of the screen right under a lamp, where a meter fits between: the lamp without the screen.
std::vector<ScreenPlace> DoubtFinder::screen_places() const {
  constexpr double kMeterFits = 0.06, kSensorHeight = 0.01;
  std::vector<ScreenPlace> places;
  for (std::size_t i = 0; i < setting_.scene.lamps.size(); ++i) {
    const Lamp& lamp = setting_.scene.lamps[i];
    const auto gap = gap_above_enclosure(setting_.scene, lamp);
    if (!gap || *gap < kMeterFits) continue;
    const Vec3 at(lamp.at.x(), lamp.at.y(), lowest_point_z(lamp) - *gap + kSensorHeight);
    float below = 0;
    const World& world = setting_.field.world();
    const int panel =
        world.next_panel(at.cast<float>(), -Vec3f::UnitZ(), 0, static_cast<float>(2 * kSensorHeight), below);
    if (panel >= 0 && world.panels()[static_cast<std::size_t>(panel)].kind == Panel::Kind::mesh)
      places.push_back({i, at, {}});
  }
  return places;
}

std::vector<MeterPlace> DoubtFinder::meter_places() const {
  std::vector<MeterPlace> places;
  for (std::size_t i = 0; i < spots_.size(); ++i) {
    const Reading& reading = survey_.readings[i];
    const bool perch = reading.kind == ReadingKind::perch;
    // A crown's mean is no place where a meter could be held.
    if (reading.kind == ReadingKind::plant || (!perch && reading.wants.empty())) continue;
    MeterPlace place{reading.name, perch ? "where the animal's back is" : "", reading.at, reading.direction,
                     &spots_[i]};
    place.rank = perch ? 0 : 1;
    place.reading = i;
    place.leaves = survey_.doubt.readings[i].leaves;
    places.push_back(std::move(place));
  }
  for (std::size_t i = 0; i < std::min<std::size_t>(hottest_.size(), 2); ++i) {
    const bool uvi = i == 0;
    MeterPlace place{uvi ? "closest place, ultraviolet" : "closest place, heat and light",
                     "the strongest that the animal can reach", hottest_[i]->at, hottest_[i]->direction,
                     &hottest_spots_[i]};
    place.rank = 2;
    place.uvi = uvi;
    place.light = !uvi;
    places.push_back(std::move(place));
  }
  for (const ScreenPlace& screen : screen_) {
    MeterPlace place{fmt::format("on the screen under {}", setting_.scene.lamps[screen.lamp].name),
                     "outside, the meter lying on the screen", screen.at, Vec3::UnitZ(), &screen.spot};
    place.rank = 3;
    place.lamp = screen.lamp;
    places.push_back(std::move(place));
  }
  return places;
}

}  // namespace

void find_doubt(Setting& setting, Survey& survey) {
  DoubtFinder(setting, survey).find();
}

}  // namespace boughlight
