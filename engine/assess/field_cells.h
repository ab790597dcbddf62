// The light over the whole grid, known to 5 % RMS, with the data that zones are judged on.
#pragma once

#include <memory>

#include "assess/setting.h"
#include "transport/cells.h"

namespace boughlight {

// The quantities that zones and the hottest place look at, each as channels with every dimmer at full.
struct ZoneChannels {
  static constexpr std::size_t kUvi = 0, kIrradiance = 1;  // positions of the two that are always there
  std::vector<Quantity> quantities;
  std::vector<Channel> channels;     // quantity by quantity, source by source
  std::vector<float> declared;       // by source: the setting of its dimmer, 0..1 (the room's light: 1)
  std::size_t sources = 0;

  std::size_t at(std::size_t quantity, std::size_t source) const { return quantity * sources + source; }
  // Position of a quantity; the quantity must be one of them.
  std::size_t index_of(Quantity quantity) const;
};
ZoneChannels zone_channels(const Setting& setting);

struct GridLight {
  std::unique_ptr<CellGrid> grid;
  ZoneChannels zones;
  std::unique_ptr<CellLight> light;
};

// Pilots set the samples; the result has its own. Throws std::runtime_error with the spacing that would fit when the
// grid asks for more memory than `most_bytes`.
GridLight light_cells(Setting& setting, double most_bytes = 8e9);

// One cell's figures facing up, from its replicates.
std::array<Figure, kQuantities> cell_figures(const Setting& setting, const GridLight& light, std::size_t cell);

}  // namespace boughlight
