// Where a lamp may hang over the enclosure: places over its top, at several gaps.
#pragma once

#include <optional>
#include <vector>

#include "scene/model.h"

namespace boughlight {

// The outline of the highest box's top.
struct Top {
  double x0 = 0, y0 = 0, x1 = 0, y1 = 0;  // m
  double z = 0;
};
Top top_of(const Scene& scene);

// A place over the top: where the emitter's centre is, and how far its lowest point is above the top's plane,
// m.
struct Hang {
  double x = 0, y = 0, gap = 0;
};
// The same lamp, hung there; aim and direction stay.
Lamp hung(const Lamp& lamp, const Top& top, const Hang& hang);
// Where it hangs now; nothing where that is not over the top.
std::optional<Hang> hang_of(const Lamp& lamp, const Top& top);

// A lattice of places: x runs fastest, then y, then the gap.
struct Lattice3 {
  std::vector<double> x, y, gap;  // rising, m

  std::size_t size() const { return x.size() * y.size() * gap.size(); }
  std::size_t in_layer() const { return x.size() * y.size(); }
  std::size_t at(std::size_t i, std::size_t j, std::size_t k) const {
    return (k * y.size() + j) * x.size() + i;
  }
  Hang hang(std::size_t index) const {
    return {x[index % x.size()], y[index / x.size() % y.size()], gap[index / in_layer()]};
  }
};

inline constexpr std::size_t kLeastPlaces = 1000;    // of a gap
inline constexpr std::size_t kMostPlaces = 200'000;  // in all

// From edge to edge of the top. `step`: the most that places lie apart, m; without it the widest that gives
// kLeastPlaces a gap.
Lattice3 lattice_over(const Top& top, std::optional<double> step, std::vector<double> gaps);

// Gaps to look at where nobody says which: 5 to 30 cm in steps of 5 cm (or every 2 in), and the present one.
std::vector<double> usual_gaps(const Scene& scene, std::optional<double> present);

// How far two lamps' emitters are apart, m.
double emitter_gap(const Lamp& a, const Lamp& b);
// Emitters closer than this touch, m.
inline constexpr double kTouching = 0.01;
// Which other lamp is touched where the lamp hangs as `moved`, by emitters or by bodies; "" for none.
std::string lamp_in_the_way(const Scene& scene, std::size_t lamp, const Lamp& moved);
// How near another lamp's emitter comes, m; infinity where there is none.
double clearance(const Scene& scene, std::size_t lamp, const Lamp& moved);

}  // namespace boughlight
