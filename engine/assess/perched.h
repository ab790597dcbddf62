// Light on the animal's back all along branches and boards: traced once, for the zones' shares, for shade and
// for the ways between places.
#pragma once

#include "assess/field_cells.h"
#include "assess/perchable.h"

namespace boughlight {

class PerchedLight {
 public:
  // The places only; no light yet. Keeps the grid's light, for what it says of dimmers and ages.
  PerchedLight(const Setting& setting, const GridLight& light);

  const std::vector<PerchablePlace>& places() const { return places_; }
  // Every quantity that the zones ask for, with uvi, irradiance and infrared.
  const std::vector<Quantity>& quantities() const { return about_.quantities; }

  // Traces all places, unless that has been done.
  void look_once(Setting& setting);
  bool looked() const { return looked_; }
  // Traces the places marked in `which` again, with fresh numbers and `times` the light paths of the first
  // look; `pass` counts from 1.
  void look_again(Setting& setting, const std::vector<char>& which, int pass, std::uint32_t times);

  // A place's reading, the greatest of the 26 orientations, from the latest look at it.
  Figure figure(std::size_t place, Quantity quantity) const;
  // Chance that the true values there keep all limits, as of normal errors (0..1).
  double chance(std::size_t place, const std::vector<Want>& wants) const;

 private:
  // Every channel in the 26 orientations, for new lamps at full power.
  struct Look {
    std::vector<Orientations> channels;  // [batch * channels + channel]
    RayCount rays;

    template <class Bytes, SameAs<Look> Self>
    friend void carry(Bytes& bytes, Self& look) {
      carry(bytes, look.channels);
      carry(bytes, look.rays);
    }
  };
  Look trace(const Setting& setting, std::size_t place, int pass, std::uint32_t times) const;
  void look(const Setting& setting, std::size_t place, int pass, std::uint32_t times, RayCount& rays);

  std::vector<PerchablePlace> places_;
  ZoneChannels about_;
  const GridLight& light_;
  CellScales scales_;
  bool looked_ = false;
  std::vector<std::vector<std::vector<double>>> values_;  // [place][quantity][batch]
};

// Chance that a true value is at most `limit`, as of a normal error about the figure.
double chance_at_most(const Figure& figure, double limit);

}  // namespace boughlight
