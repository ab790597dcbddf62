#include "assess/zones.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "assess/judge.h"
#include "assess/stages.h"

namespace boughlight {
namespace {

constexpr double kAskedError = 0.01;  // standard error of a fraction
// Direct samples of a place and lamp, and as many again where surfaces stand in the way of a part of it.
constexpr std::uint32_t kLightSamples = 16;

struct Zone {
  std::string name;
  const std::vector<Want>* wants;
};

std::vector<Zone> zones_of(const Scene& scene) {
  std::vector<Zone> zones;
  if (!scene.animal) return zones;
  if (!scene.animal->basking.empty()) zones.push_back({"basking", &scene.animal->basking});
  if (!scene.animal->refuge.empty()) zones.push_back({"refuge", &scene.animal->refuge});
  return zones;
}

// How often each zone holds at the places of one cell.
struct CellCount {
  std::vector<int> holds;  // by zone
  Orientations uvi = Orientations::Zero();
};

// Straight light at some places of every cell, for new lamps at full power.
class PlacesLight {
 public:
  // Places `first` up to, not with, `last` of a pass.
  PlacesLight(const Setting& setting, const GridLight& light, int pass, int first, int last)
      : light_(light), lamps_(setting.field.lamp_count()), count_(static_cast<std::size_t>(last - first)) {
    for (const Channel& channel : light.zones.channels) whole_.push_back(channel.weights.sum());
    CanonicalBytes asked;
    asked.add("zone places", setting.scene.survey.spacing, setting.stream(kZoneStage, 0), pass, first, last);
    identify(asked, light.zones.channels);
    kept_ = setting.field.memory().recall(asked, [&] { return trace(setting, pass, first, last); });
  }

  // What each channel reads at a place in the 26 orientations, reflected light as the cell's mean: by the
  // first samples, and by all there are. How many there are goes by what the first have found, so only those
  // are free of bias; zones are judged by all.
  struct Readings {
    std::vector<Orientations> by_first, by_all;
  };
  void read(std::size_t cell, std::size_t place, Readings& readings) const {
    const ZoneChannels& zones = light_.zones;
    for (std::size_t c = 0; c < zones.channels.size(); ++c)
      readings.by_first[c] = readings.by_all[c] = light_.light->oriented(c, cell);
    for (std::size_t lamp = 0; lamp < lamps_; ++lamp) {
      const std::size_t way = (cell * count_ + place) * lamps_ + lamp;
      const auto tinted = kept_.tinted.find(way);
      const auto again = kept_.again.find(way);
      for (std::size_t q = 0; q < zones.quantities.size(); ++q) {
        const std::size_t c = zones.at(q, lamp);
        Orientations first = whole_[c] * kept_.grey[way];
        if (tinted != kept_.tinted.end()) first += tinted->second[c];
        readings.by_first[c] += first;
        if (again == kept_.again.end()) {
          readings.by_all[c] += first;
          continue;
        }
        Orientations second = whole_[c] * again->second.front();
        if (again->second.size() > 1) second += again->second[1 + c];
        readings.by_all[c] += 0.5f * (first + second);
      }
    }
  }
  const RayCount& rays() const { return kept_.rays; }

 private:
  // A way is a place and a lamp: (cell * places + place) * lamps + lamp.
  using OfFew = std::map<std::size_t, std::vector<Orientations>>;
  struct Kept {
    std::vector<Orientations> grey;  // [way]
    OfFew tinted;                    // [way][channel]
    OfFew again;  // [way]: the second samples' grey light, then what is tinted of each channel
    RayCount rays;

    template <class Bytes, SameAs<Kept> Self>
    friend void carry(Bytes& bytes, Self& kept) {
      carry(bytes, kept.grey);
      carry(bytes, kept.tinted);
      carry(bytes, kept.again);
      carry(bytes, kept.rays);
    }
  };

  Kept trace(const Setting& setting, int pass, int first, int last) const {
    const CellGrid& grid = *light_.grid;
    Kept kept;
    kept.grey.assign(grid.size() * count_ * lamps_, Orientations::Zero());
    std::vector<std::vector<Orientations>> tinted(kept.grey.size()), again(kept.grey.size());
    std::vector<RayCount> rays(grid.size());
    tbb::parallel_for(std::size_t{0}, grid.size(), [&](std::size_t cell) {
      if (grid.free_share(cell) <= 0) return;
      // The places of a cell are stratified over it.
      const std::uint64_t stream = setting.stream(kZoneStage, cell * 64 + static_cast<std::size_t>(pass));
      const CellPlaces places(setting.scene, grid, cell);
      for (int place = first; place < last; ++place) {
        PairSampler sampler(stream, static_cast<std::uint32_t>(place));
        const Vec3f at = places.at(sampler);
        const std::uint64_t id = mix64(stream, static_cast<std::uint64_t>(place));
        for (std::size_t lamp = 0; lamp < lamps_; ++lamp) {
          const std::size_t way = (cell * count_ + static_cast<std::size_t>(place - first)) * lamps_ + lamp;
          const auto add = [&](std::uint32_t from, Orientations& grey, std::vector<Orientations>& colours) {
            return add_direct_orientations(setting.field, light_.zones.channels, lamp, at, id, from,
                                           kLightSamples, grey, colours, rays[cell]);
          };
          if (!add(0, kept.grey[way], tinted[way])) continue;
          Orientations grey = Orientations::Zero();
          add(kLightSamples, grey, again[way]);
          again[way].insert(again[way].begin(), grey);
        }
      }
    });
    for (std::size_t way = 0; way < tinted.size(); ++way) {
      if (!tinted[way].empty()) kept.tinted[way] = std::move(tinted[way]);
      if (!again[way].empty()) kept.again[way] = std::move(again[way]);
    }
    for (const RayCount& count : rays) kept.rays += count;
    return kept;
  }

  const GridLight& light_;
  std::size_t lamps_, count_;
  std::vector<float> whole_;  // [channel]: the sum of its weights
  Kept kept_;
};

void count_places(const GridLight& light, const std::vector<Zone>& zones, const PlacesLight& places,
                  std::size_t cell, std::size_t number, CellCount& count) {
  const ZoneChannels& about = light.zones;
  PlacesLight::Readings readings{std::vector<Orientations>(about.channels.size()),
                                 std::vector<Orientations>(about.channels.size())};
  const auto total = [&](std::size_t quantity, const std::vector<Orientations>& channels) {
    Orientations sum = Orientations::Zero();
    for (std::size_t source = 0; source < about.sources; ++source)
      sum +=
          light.scales.at(quantity, source, Power::as_declared, cell) * channels[about.at(quantity, source)];
    return sum;
  };
  for (std::size_t place = 0; place < number; ++place) {
    places.read(cell, place, readings);
    count.uvi += total(ZoneChannels::kUvi, readings.by_first);
    for (std::size_t zone = 0; zone < zones.size(); ++zone)
      if (std::all_of(zones[zone].wants->begin(), zones[zone].wants->end(), [&](const Want& want) {
            return within(want.limits, total(about.index_of(want.quantity), readings.by_all).maxCoeff());
          }))
        ++count.holds[zone];
  }
}

// All cells at so many places each, some at a time.
std::vector<CellCount> count_cells(Setting& setting, const GridLight& light, const std::vector<Zone>& zones,
                                   int places, int pass) {
  const CellGrid& grid = *light.grid;
  constexpr std::size_t kAtATime = 8192;
  const int step = std::max(1, static_cast<int>(kAtATime / grid.size()));
  std::vector<CellCount> counts(grid.size(),
                                CellCount{std::vector<int>(zones.size(), 0), Orientations::Zero()});
  for (int first = 0; first < places; first += step) {
    const int last = std::min(places, first + step);
    const PlacesLight lit(setting, light, pass, first, last);
    setting.spent += lit.rays();
    tbb::parallel_for(std::size_t{0}, grid.size(), [&](std::size_t cell) {
      if (grid.free_share(cell) > 0)
        count_places(light, zones, lit, cell, static_cast<std::size_t>(last - first), counts[cell]);
    });
  }
  return counts;
}

// A fraction over cells of different free volume, each judged at `places` random places, with the standard
// error of such a stratified sample.
struct FractionSum {
  double weight = 0, holds = 0, variance = 0;
  void add(double volume, int hold, int places) {
    const double share = static_cast<double>(hold) / places;
    weight += volume;
    holds += volume * share;
    variance += volume * volume * share * (1 - share) / (places - 1);
  }
  Figure figure() const {
    if (!(weight > 0)) return {};
    return {holds / weight, std::sqrt(variance) / weight, std::nullopt};
  }
};

void judge_volume(Setting& setting, const GridLight& light, const std::vector<Zone>& zones, Survey& survey) {
  const CellGrid& grid = *light.grid;
  constexpr int kLeastPlaces = 2, kMostPlaces = 4096;
  // A few thousand places in all, however few the cells.
  int places = std::clamp(static_cast<int>(4096 / grid.size()), kLeastPlaces, kMostPlaces);
  std::vector<CellCount> counts;
  constexpr int kPasses = 4;
  for (int pass = 0; pass < kPasses; ++pass) {
    counts = count_cells(setting, light, zones, places, pass);
    double worst = 0;
    for (std::size_t zone = 0; zone < zones.size(); ++zone) {
      FractionSum all;
      std::vector<FractionSum> levels(survey.levels.size());
      std::size_t level = 0;
      for (const GridBox& box : survey.grid) {
        for (int z = 0; z < box.count[2]; ++z, ++level)
          for (int i = 0; i < box.count[0] * box.count[1]; ++i) {
            const std::size_t cell =
                box.first + static_cast<std::size_t>(z * box.count[0] * box.count[1] + i);
            if (grid.free_share(cell) <= 0) continue;
            all.add(grid.free_volume(cell), counts[cell].holds[zone], places);
            levels[level].add(grid.free_volume(cell), counts[cell].holds[zone], places);
          }
      }
      ZoneFraction& fraction = survey.zones[zones[zone].name];
      fraction.volume = all.figure();
      fraction.levels.clear();
      for (const FractionSum& sum : levels) fraction.levels.push_back(sum.figure());
      worst = std::max(worst, fraction.volume.se);
    }
    if (worst <= kAskedError || places >= kMostPlaces) break;
    const double more = (worst / kAskedError) * (worst / kAskedError);
    places = std::min(kMostPlaces, static_cast<int>(std::ceil(places * std::max(1.3 * more, 1.5))));
  }
  for (std::size_t cell = 0; cell < grid.size(); ++cell)
    survey.cells[cell].brightest_uvi = counts[cell].uvi.maxCoeff() / static_cast<float>(places);
}

// Along branches and boards: each place judged from replicates, uncertain ones again with more light paths.
void judge_perchable(Setting& setting, PerchedLight& perched, const std::vector<Zone>& zones,
                     Survey& survey) {
  const std::vector<PerchablePlace>& places = perched.places();
  if (places.empty() || zones.empty()) return;
  constexpr int kPasses = 4;
  double length = 0;
  for (const PerchablePlace& place : places) length += place.length;

  std::vector<char> again;
  std::uint32_t times = 1;
  for (int pass = 0; pass < kPasses; ++pass, times *= 4) {
    if (pass == 0) {
      perched.look_once(setting);
    } else {
      perched.look_again(setting, again, pass, times);
    }
    double worst = 0;
    again.assign(places.size(), 0);
    for (const Zone& zone : zones) {
      double holds = 0, variance = 0;
      for (std::size_t i = 0; i < places.size(); ++i) {
        const double share = places[i].length / length, p = perched.chance(i, *zone.wants);
        holds += share * (p >= 0.5 ? 1 : 0);
        variance += share * share * p * (1 - p);
        constexpr double kDoubtful = 0.01;
        if (p > kDoubtful && p < 1 - kDoubtful) again[i] = 1;
      }
      survey.zones[zone.name].perch = Figure{holds, std::sqrt(variance), std::nullopt};
      worst = std::max(worst, std::sqrt(variance));
    }
    if (worst <= kAskedError) break;
  }
}

// No share is more than all: an upper limit of 1 is no limit.
Verdict judge_share(const Figure& figure, Limits limits) {
  if (limits.max && *limits.max >= 1) limits.max.reset();
  return judge(figure, limits);
}

Verdict judge_fraction(Figure& figure, const Limits& limits) {
  figure.converged = figure.se <= kAskedError;
  return *figure.converged ? judge_share(figure, limits) : Verdict::unsure;
}

// How bad a verdict is for picking the level to show: unmet before unsure before met.
int badness(Verdict verdict) {
  return verdict == Verdict::met ? 0 : verdict == Verdict::unsure ? 1 : 2;
}

}  // namespace

void judge_zones(Setting& setting, const GridLight& light, PerchedLight& perched, Survey& survey) {
  const std::vector<Zone> zones = zones_of(setting.scene);
  judge_volume(setting, light, zones, survey);
  judge_perchable(setting, perched, zones, survey);
  for (std::size_t level = 0; level < survey.levels.size(); ++level) {
    for (const Zone& zone : zones) {
      auto& slot = zone.name == "basking" ? survey.levels[level].basking : survey.levels[level].refuge;
      slot = survey.zones.at(zone.name).levels[level].value;
    }
  }
  for (const ZoneWant& want : setting.scene.zone_wants) {
    ZoneFraction& fraction = survey.zones.at(want.zone);
    ZoneWantResult result{want, {}, std::nullopt, Verdict::met};
    if (want.share == ZoneShare::volume) {
      result.verdict = judge_fraction(fraction.volume, want.limits);
      result.figure = fraction.volume;
    } else if (want.share == ZoneShare::perch) {
      result.figure = fraction.perch.value_or(Figure{});
      result.verdict = judge_fraction(result.figure, want.limits);
      if (fraction.perch) fraction.perch = result.figure;
    } else {
      for (std::size_t level = 0; level < fraction.levels.size(); ++level) {
        // A level is a small part of the volume and known less well; its interval alone decides.
        const Verdict verdict = judge_share(fraction.levels[level], want.limits);
        const auto margin = [&](double value) {
          double least = std::numeric_limits<double>::infinity();
          if (want.limits.min) least = std::min(least, value - *want.limits.min);
          if (want.limits.max) least = std::min(least, *want.limits.max - value);
          return least;
        };
        const bool worse_level = !result.level_z || badness(verdict) > badness(result.verdict) ||
                                 (badness(verdict) == badness(result.verdict) &&
                                  margin(fraction.levels[level].value) < margin(result.figure.value));
        if (!worse_level) continue;
        result.level_z = survey.levels[level].z;
        result.figure = fraction.levels[level];
        result.verdict = verdict;
      }
    }
    survey.zone_wants.push_back(result);
  }
}

}  // namespace boughlight
