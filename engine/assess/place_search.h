// What a place reads in the orientation where it reads most, and the way from there to where that is more.
// Private to the search for the hottest place.
#pragma once

#include "assess/climb.h"
#include "assess/field_cells.h"
#include "transport/brightest.h"

namespace boughlight {

// One thing to look for: the greatest reading of a quantity with the dimmers in a given state.
struct PlaceSearch {
  std::size_t quantity;  // position in ZoneChannels
  Power power;
  std::vector<Channel> channels;  // the quantity's, one a source
  const GridLight& light;

  PlaceSearch(std::size_t quantity_position, Power lamps, const GridLight& of)
      : quantity(quantity_position), power(lamps), light(of) {
    for (std::size_t source = 0; source < of.zones.sources; ++source)
      channels.push_back(of.zones.channels[of.zones.at(quantity, source)]);
  }
  // What each of those channels counts in a cell.
  Eigen::ArrayXf scale(std::size_t cell) const {
    Eigen::ArrayXf scale(static_cast<Eigen::Index>(channels.size()));
    for (std::size_t source = 0; source < channels.size(); ++source)
      scale[static_cast<Eigen::Index>(source)] = light.scales.at(quantity, source, power, cell);
    return scale;
  }
  // Everything that it goes by besides the field and the grid's light.
  void identify_in(CanonicalBytes& bytes) const {
    bytes.add(quantity);
    identify(bytes, channels);
    for (std::size_t cell = 0; cell < light.grid->size(); ++cell) bytes.add(scale(cell));
  }
};

struct SearchedPlace {
  Vec3 at = Vec3::Zero();
  Brightest brightest;
};

class PlaceSearcher {
 public:
  PlaceSearcher(const Setting& setting, const GridLight& light) : setting_(setting), light_(light) {}

  // Reading at its brightest orientation. Direct light at the place; what is reflected as the mean over the
  // cell, or with `paths` > 0 from light paths of its own. The same random numbers everywhere, so that places
  // compare.
  Brightest at(const Vec3& place, const PlaceSearch& search, const GatherEffort& effort, RayCount& rays,
               std::uint64_t id) const {
    const DirectedLight found =
        collect_light(setting_.field, search.channels, place.cast<float>(), id, effort);
    rays += found.rays;
    return weigh(found, 0, place, search, effort.paths == 0);
  }

  // The same of light already collected, the search's channels from `first` on; `mean_reflected`: it holds no
  // light paths, so the cell's mean stands in.
  Brightest weigh(const DirectedLight& found, std::size_t first, const Vec3& place, const PlaceSearch& search,
                  bool mean_reflected) const {
    const std::size_t cell = light_.grid->nearest_cell(place.cast<float>());
    const Eigen::ArrayXf own = search.scale(cell);
    Eigen::ArrayXf scale = Eigen::ArrayXf::Zero(found.values.rows());
    scale.segment(static_cast<Eigen::Index>(first), own.size()) = own;
    Brightest brightest = brightest_orientation(found, scale);
    if (mean_reflected) {
      Orientations reflected = Orientations::Zero();
      for (std::size_t source = 0; source < search.channels.size(); ++source)
        reflected += own[static_cast<Eigen::Index>(source)] *
                     light_.light->oriented(light_.zones.at(search.quantity, source), cell);
      Eigen::Index nearest = 0;
      const auto& all = orientations();
      float closeness = -1;
      for (int k = 0; k < kOrientations; ++k) {
        const float dot = all[static_cast<std::size_t>(k)].dot(brightest.direction);
        if (dot > closeness) closeness = dot, nearest = k;
      }
      if (brightest.value > 0) {
        brightest.value += reflected[nearest];
      } else {
        brightest.value = reflected.maxCoeff(&nearest);
        brightest.direction = all[static_cast<std::size_t>(nearest)];
      }
    }
    return brightest;
  }

  static constexpr GatherEffort kLook{16, 0};

  // Direct light alone, at the orientation where it is greatest.
  float direct_at(const Vec3& place, const PlaceSearch& search, RayCount& rays, std::uint64_t id) const {
    const DirectedLight found =
        collect_light(setting_.field, search.channels, place.cast<float>(), id, {256, 0});
    rays += found.rays;
    return weigh(found, 0, place, search, false).value;
  }

  // Climbs from a place in ever smaller steps along the axes and diagonals while the reading rises.
  SearchedPlace climb(const SearchedPlace& start, const PlaceSearch& search, const Reachable& reachable,
                      double step, double least, const GatherEffort& effort, RayCount& rays,
                      std::uint64_t id) const {
    const auto look = [&](const Vec3& place) {
      return SearchedPlace{place, at(place, search, effort, rays, id)};
    };
    return climbed(look(start.at), reachable, step, least, look,
                   [](const SearchedPlace& place) { return place.brightest.value; });
  }

 private:
  const Setting& setting_;
  const GridLight& light_;
};

}  // namespace boughlight
