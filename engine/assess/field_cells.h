// The light over the whole grid, known to 5 % RMS, with the data that zones are judged on.
#pragma once

#include <memory>

#include "assess/setting.h"
#include "transport/cells.h"

namespace boughlight {

// The quantities that zones and the hottest place look at, as channels for the solver: of new lamps at full
// power, so that they are the same whatever dimmers and ages are. See CellScales for those.
struct ZoneChannels {
  static constexpr std::size_t kUvi = 0, kIrradiance = 1;  // positions of the two that are always there
  std::vector<Quantity> quantities;
  std::vector<Channel> channels;  // [at(quantity, source)]
  std::size_t sources = 0;

  std::size_t at(std::size_t quantity, std::size_t source) const { return quantity * sources + source; }
  // Position of a quantity; their number where it is not one of them.
  std::size_t index_of(Quantity quantity) const;
};
// `more`: quantities beside those that the zones ask for.
ZoneChannels zone_channels(const Setting& setting, const std::vector<Quantity>& more = {});

// How many times as much of a quantity each source gives in a cell as if it were new and at full power. Where
// a lamp dims and ages evenly that is the same everywhere. Where its light changes colour, as a filament's
// does, it goes by what arrives in the cell on a sensor facing up: right for that, and very nearly for
// others.
class CellScales {
 public:
  CellScales() = default;
  // `mean`: the cells' light facing up, [source * cells + cell].
  CellScales(const Setting& setting, const std::vector<Quantity>& quantities,
             const std::vector<Spectral>& mean, std::size_t cells);
  // `quantity`: its position.
  float at(std::size_t quantity, std::size_t source, Power power, std::size_t cell) const {
    return (power == Power::full ? full_ : declared_)[(quantity * sources_ + source) * cells_ + cell];
  }

 private:
  std::size_t sources_ = 0, cells_ = 0;
  std::vector<float> declared_, full_;
};

struct GridLight {
  std::unique_ptr<CellGrid> grid;
  ZoneChannels zones;
  std::shared_ptr<const CellLight> light;
  LightKey key;                // of what the light was traced for, besides the field
  std::vector<Spectral> mean;  // of all replicates, facing up: [source * cells + cell]
  CellScales scales;           // of the zones' quantities

  const Spectral& mean_of(std::size_t source, std::size_t cell) const {
    return mean[source * light->cells() + cell];
  }
};

// Pilots set the samples; the result has its own.
GridLight light_cells(Setting& setting);

// Cells' figures facing up, from their replicates, with every source as declared.
class CellWeigher {
 public:
  explicit CellWeigher(const Setting& setting);
  // Day quantities are 0 where there is no day.
  std::array<Figure, kQuantities> figures(const CellLight& light, std::size_t cell) const;

 private:
  using Weights = Eigen::Matrix<double, kQuantities, kBins>;
  std::vector<Weights> weights_;  // by source, day quantities for the whole day
};

}  // namespace boughlight
