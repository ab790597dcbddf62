// The map of the top: what every asked figure would be with one lamp hung at each of many places.
#pragma once

#include "assess/survey.h"
#include "plan/figure_field.h"
#include "plan/prospect.h"
#include "plan/top.h"

namespace boughlight {

struct PlaceChoice {
  std::optional<double> step;  // the most that places lie apart, m; nothing: about kLeastPlaces a gap
  std::vector<double> gaps;    // m, above the top's plane; none: usual_gaps()
};

struct PlaceMap {
  Scene scene;
  std::size_t lamp = 0;
  Top top;
  Lattice3 lattice;
  std::optional<Hang> present;  // where it hangs now, if that is over the top
  // Axes: x, y, gap. An ask that counts is one whose figure the lamp changes.
  FigureField field;
  std::vector<char> changed;            // by figure: whether the lamp changes it
  std::vector<std::string> in_the_way;  // by place: the lamp that it would touch there, or ""
  Region region;
  // Known better than the map's, at the recommended place, else where the least has to give way; none where
  // every place is impossible.
  std::optional<Hang> spot;
  std::vector<Figure> at_spot;
  // As the scene stands; where it hangs over the top.
  std::vector<Figure> at_present;

  struct Effort {
    double seconds = 0;
    double rays = 0;
  } effort;
};

// A figure counts as changed by the lamp where it adds as much as this share of the nearest limit (of the
// figure where it has none) and moving it changes as much; shares of the enclosure from kLeastShare on.
inline constexpr double kLeastPart = 0.005, kLeastShare = 0.005;

// Aim, direction, dimmer and hours of the lamp stay; its body, if it has one, is left out of the light while
// it moves. Uses scene.survey's seed and tolerance; the result is fixed by scene and choice, whatever the
// threads.
PlaceMap map_places(const Scene& scene, std::size_t lamp, const PlaceChoice& choice,
                    const SurveyControl& control = {});

}  // namespace boughlight
