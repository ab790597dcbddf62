// The light over the whole grid, known to 5 % RMS, with the data that zones are judged on.
#pragma once

#include <memory>

#include "assess/setting.h"
#include "transport/cells.h"

namespace boughlight {

// The quantities that zones and the hottest place look at, as channels for the solver, and how each source's
// light is made of them. A lamp that dims evenly needs one channel a quantity; a filament has one more as
// declared.
struct ZoneChannels {
  static constexpr std::size_t kUvi = 0, kIrradiance = 1;  // positions of the two that are always there
  std::vector<Quantity> quantities;
  std::vector<Channel> channels;
  std::size_t sources = 0;

  struct Use {
    std::size_t channel = 0;
    float scale = 1;
  };
  std::vector<Use> declared, full;  // [at(quantity, source)]

  std::size_t at(std::size_t quantity, std::size_t source) const { return quantity * sources + source; }
  const Use& use(std::size_t quantity, std::size_t source, Power power) const {
    return (power == Power::full ? full : declared)[at(quantity, source)];
  }
  // Position of a quantity; their number where it is not one of them.
  std::size_t index_of(Quantity quantity) const;
};
// `more`: quantities beside those that the zones ask for.
ZoneChannels zone_channels(const Setting& setting, const std::vector<Quantity>& more = {});

struct GridLight {
  std::unique_ptr<CellGrid> grid;
  ZoneChannels zones;
  std::unique_ptr<CellLight> light;
};

// Pilots set the samples; the result has its own.
GridLight light_cells(Setting& setting);

// One cell's figures facing up, from its replicates.
std::array<Figure, kQuantities> cell_figures(const Setting& setting, const GridLight& light,
                                             std::size_t cell);

}  // namespace boughlight
