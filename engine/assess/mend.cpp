#include "assess/mend.h"

#include <algorithm>
#include <cmath>

#include "assess/facts.h"
#include "assess/stages.h"
#include "transport/brightest.h"
#include "transport/field_key.h"
#include "units/units.h"

namespace boughlight {
namespace {

// The same numbers for every height, so that heights compare.
constexpr GatherEffort kPlace{512, 2048}, kPerch{64, 64};
constexpr double kPrecision = 2e-3;  // m of raising

struct TooMuch {
  Quantity quantity;
  double limit;
  std::size_t lamp;
  Vec3 at;
};

std::vector<TooMuch> places_above(const Survey& survey) {
  std::vector<TooMuch> places;
  const std::vector<Lamp>& lamps = survey.scene.lamps;
  const auto add = [&](Quantity quantity, const auto& figure, const Vec3& at) {
    if (!figure.verdict || *figure.verdict != Verdict::above) return;
    const auto lamp = std::find_if(lamps.begin(), lamps.end(),
                                   [&](const Lamp& other) { return other.name == figure.lamp; });
    if (lamp == lamps.end()) return;  // the room's light
    places.push_back({quantity, *figure.limit, static_cast<std::size_t>(lamp - lamps.begin()), at});
  };
  if (survey.hottest) {
    add(Quantity::uvi, survey.hottest->uvi, survey.hottest->uvi.at);
    add(Quantity::irradiance, survey.hottest->irradiance, survey.hottest->irradiance.at);
  }
  for (const ClosestPlace& place : survey.animal.closest) {
    add(Quantity::uvi, place.uvi, place.at);
    add(Quantity::irradiance, place.irradiance, place.at);
  }
  return places;
}

// The scene with one lamp higher.
class Raised {
 public:
  Raised(const Setting& setting, std::size_t lamp, double raise) : setting_(setting) {
    Scene scene = setting.scene;
    scene.lamps[lamp].at.z() += raise;
    field_ = std::make_unique<LightField>(scene, setting.field.importance());
    share_memory(setting.field, scene, *field_);
  }

  // With the lamp's own output multiplied.
  double value(const TooMuch& place, std::uint64_t id, float output, RayCount& rays) const {
    const std::vector<Channel> channels = channels_of(place.quantity, setting_.fresh_outputs);
    const DirectedLight light =
        recall_light(*field_, channels, place.at.cast<float>(), setting_.stream(kMendPlaceStage, id), kPlace);
    rays += light.rays;
    Eigen::ArrayXf scale =
        output_ratios(place.quantity, setting_.outputs, setting_.fresh_outputs).cast<float>();
    scale[static_cast<Eigen::Index>(place.lamp)] *= output;
    return brightest_orientation(light, scale).value;
  }

  double uvi(const Reading& reading, RayCount& rays) const {
    const Vec3f normal = reading.direction.cast<float>().normalized();
    const Receiver receiver = fixed_receiver(reading_place(setting_.scene, *field_, reading.at, normal),
                                             normal, setting_.stream(kMendPerchStage, 0));
    const Response response = gather(*field_, {receiver}, {kPerch}).front();
    rays += response.rays;
    return weigh_facing(response, setting_.weights(Quantity::uvi)).value;
  }

 private:
  const Setting& setting_;
  std::unique_ptr<LightField> field_;
};

// How far a lamp can be raised up to 1 cm below a top, a mesh or anything else, m; at most kMostRaise.
double headroom(const LightField& field, const Lamp& lamp) {
  const World& world = field.world();
  const auto body = lamp.body();
  const Eigen::Matrix3d local_from_scene = lamp.scene_from_local().transpose();
  const Vec3 top = lamp.at + lamp.fixture->emitter->extent(local_from_scene * Vec3::UnitZ()) * Vec3::UnitZ();
  double room = kMostRaise;
  Vec3f from = top.cast<float>();
  Hit hit;
  constexpr double kSkin = 1e-3;
  for (int own = 0; own < 4 && world.closest(from, Vec3f::UnitZ(), hit); ++own) {
    const Vec3 met = hit.place.cast<double>();
    const bool of_body =
        body && (body->contains(met - Vec3(0, 0, kSkin)) || body->contains(met + Vec3(0, 0, kSkin)));
    if (!of_body) {
      room = std::min(room, met.z() - top.z());
      break;
    }
    from = (met + Vec3(0, 0, kSkin)).cast<float>();
  }
  float at = 0;
  if (world.next_panel(top.cast<float>(), Vec3f::UnitZ(), 0, static_cast<float>(room), at) >= 0)
    room = std::min<double>(room, at);
  const double tall = body ? std::max(0.0, static_cast<double>(from.z()) - top.z()) : 0;
  constexpr double kOff = 0.01;
  return room < kMostRaise ? std::max(0.0, room - tall - kOff) : room;
}

// The least height, in steps that grow and are then halved; nothing where none up to `most` helps.
std::optional<double> raise_for(Setting& setting, const TooMuch& place, double most, std::uint64_t id) {
  const auto holds = [&](double raise) {
    return Raised(setting, place.lamp, raise).value(place, id, 1, setting.spent) <= place.limit;
  };
  constexpr double kFirst = 0.02, kGrow = 1.6;
  if (most < kFirst) return std::nullopt;
  double low = 0, high = kFirst;
  while (!holds(high)) {
    if (high >= most) return std::nullopt;
    low = high;
    high = std::min(high * kGrow, most);
  }
  while (high - low > kPrecision) {
    const double middle = (low + high) / 2;
    (holds(middle) ? high : low) = middle;
  }
  return high;
}

// The greatest share of its output that holds; nothing where the rest is too much without it.
std::optional<double> output_for(Setting& setting, const TooMuch& place, std::uint64_t id) {
  const Raised as_it_hangs(setting, place.lamp, 0);
  const auto holds = [&](double output) {
    return as_it_hangs.value(place, id, static_cast<float>(output), setting.spent) <= place.limit;
  };
  if (!holds(0)) return std::nullopt;
  double low = 0, high = 1;
  constexpr int kHalvings = 8;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2;
    (holds(middle) ? low : high) = middle;
  }
  return low;
}

// To what can be set and is printed: a gap a hair too small mends nothing.
std::optional<double> rounded_up(std::optional<double> raise, const std::string& unit) {
  const double step = is_of_inches(unit) ? 0.2 * size_of_unit("in", Dimension::length) : 0.005;
  if (raise) *raise = step * std::ceil(*raise / step - 1e-9);
  return raise;
}
std::optional<double> rounded_down(std::optional<double> share) {
  if (share) *share = std::floor(100 * *share) / 100;
  return share;
}

}  // namespace

std::vector<Mend> find_mends(Setting& setting, const Survey& survey) {
  std::vector<Mend> mends;
  std::vector<std::size_t> lamps;  // beside them
  const std::vector<TooMuch> places = places_above(survey);
  for (std::size_t i = 0; i < places.size(); ++i) {
    const TooMuch& place = places[i];
    const double room = headroom(setting.field, setting.scene.lamps[place.lamp]);
    const Mend mend{place.quantity,
                    place.limit,
                    setting.scene.lamps[place.lamp].name,
                    place.at,
                    rounded_up(raise_for(setting, place, room, i), setting.scene.length_unit),
                    rounded_down(output_for(setting, place, i)),
                    std::nullopt,
                    room};
    const auto same = std::find_if(mends.begin(), mends.end(), [&](const Mend& other) {
      return other.quantity == mend.quantity && other.lamp == mend.lamp;
    });
    if (same == mends.end()) {
      mends.push_back(mend);
      lamps.push_back(place.lamp);
      continue;
    }
    // What helps the worse of two places helps both.
    const std::optional<double> output = same->output_share && mend.output_share
                                             ? std::min(*same->output_share, *mend.output_share)
                                             : std::optional<double>();
    if (same->raise && (!mend.raise || *mend.raise > *same->raise)) *same = mend;
    same->output_share = output;
  }
  const auto sun = std::find_if(survey.readings.begin(), survey.readings.end(), [&](const Reading& reading) {
    return reading.kind == ReadingKind::perch && reading.name == survey.animal.sun_perch;
  });
  if (sun == survey.readings.end()) return mends;
  for (std::size_t i = 0; i < mends.size(); ++i)
    if (mends[i].raise)
      mends[i].sun_perch_uvi = Raised(setting, lamps[i], *mends[i].raise).uvi(*sun, setting.spent);
  return mends;
}

}  // namespace boughlight
