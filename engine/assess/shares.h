// What each source gives by itself, at every reading and cell: any switch, dimmer or hour is a weighted sum
// of these.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "spectrum/quantity.h"

namespace boughlight {

struct Setting;
struct GridLight;
struct Survey;

using InstantFactors = std::array<double, kInstant>;

// What is left of a source's light at a dimmer setting, as factors on its shares. A filament reddens as it is
// dimmed, so its quantities do not go down together, and what leaves or glass have filtered goes down
// otherwise than the rest.
struct DimmerStep {
  double dim = 0;                        // 0..1
  std::vector<InstantFactors> readings;  // exact for each reading
  InstantFactors cells{};                // for the enclosure's mean light
  // RMS of the relative difference that `cells` makes to single cells, over those that the source gives a
  // tenth of its mean or more.
  InstantFactors cells_rms{};
};

struct SourceShares {
  std::size_t sources = 0;   // lamps in order, then the room's light
  std::size_t readings = 0;  // as in Survey::readings
  std::size_t cells = 0;     // as in Survey::cells
  // The dimmer setting that a source's shares are for: as declared, or 1 where that is 0.
  std::vector<double> reference;
  // By source, from a tenth to 1, rising; empty where every quantity follows the dimmer in proportion.
  std::vector<std::vector<DimmerStep>> steps;
  // On the sensor of a reading, each replicate by itself, so that the standard error of any sum is known.
  std::vector<float> reading_values;
  // Facing up, the mean over a cell.
  std::vector<float> cell_values;

  std::size_t reading_at(std::size_t reading, Quantity instant, std::size_t source) const;  // first replicate
  std::size_t cell_at(Quantity instant, std::size_t source) const;                          // first cell
};

// From survey.responses and the grid's light.
SourceShares source_shares(const Setting& setting, const GridLight& light, const Survey& survey);

}  // namespace boughlight
