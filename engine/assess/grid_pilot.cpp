#include "assess/grid_pilot.h"

#include <tbb/parallel_for.h>

#include <algorithm>

#include "assess/judge.h"
#include "assess/stages.h"

namespace boughlight {

template <class Bytes, SameAs<GridPilot> Pilot>
static void carry(Bytes& bytes, Pilot& pilot) {
  carry(bytes, pilot.figures);
  carry(bytes, pilot.by_connection);
  carry(bytes, pilot.by_path);
  carry(bytes, pilot.through_panes);
  carry(bytes, pilot.rays);
}

namespace {

GridPilot trace_pilot(const Setting& setting, const CellGrid& grid) {
  const LightField& field = setting.field;
  const std::size_t sources = field.source_count(), cells = grid.size(), lamps = field.lamp_count();
  const std::uint64_t seed = setting.stream(kGridPilotStage, 0);
  GridPilot pilot;
  pilot.figures.resize(kMappedQuantities.size() * cells * sources);
  pilot.by_connection.resize(cells * lamps);
  pilot.by_path.resize(cells * lamps);
  pilot.through_panes.resize(cells * lamps);
  // Of a cell, from its replicates' values.
  const auto figure_in = [](const auto& value) {
    std::vector<double> replicates;
    for (int replicate = 0; replicate < kCellReplicates; ++replicate)
      replicates.push_back(static_cast<double>(value(replicate)));
    return figure_of(replicates);
  };
  const auto square = [](const Figure& figure, std::uint32_t samples) {
    return figure.se * figure.se * samples;
  };
  const auto read = [&](const CellLight& light, std::uint32_t samples, float PilotFigure::*value,
                        float PilotFigure::*error) {
    for (std::size_t q = 0; q < kMappedQuantities.size(); ++q) {
      std::vector<Spectral> weights;
      for (const QuantityBins& output : setting.fresh_outputs)
        weights.push_back(output.row(static_cast<int>(kMappedQuantities[q])).transpose().cast<float>());
      tbb::parallel_for(std::size_t{0}, cells, [&](std::size_t cell) {
        for (std::size_t source = 0; source < sources; ++source) {
          const Figure figure = figure_in(
              [&](int replicate) { return (light.up(replicate, source, cell) * weights[source]).sum(); });
          PilotFigure& found = pilot.figures[(q * cells + cell) * sources + source];
          found.*value = static_cast<float>(figure.value);
          found.*error = static_cast<float>(square(figure, samples));
        }
      });
    }
  };
  // One kind of light after the other, since each takes much memory.
  CellLight light(cells, sources, 0);
  std::vector<float> grey(cells * lamps * kCellReplicates);  // [replicate][cell * lamps + lamp]
  const auto tell_grey = [&](int replicate, std::size_t cell, const std::vector<float>& of_lamps) {
    const std::size_t first = (static_cast<std::size_t>(replicate) * cells + cell) * lamps;
    std::copy_n(of_lamps.begin(), lamps, grey.begin() + static_cast<std::ptrdiff_t>(first));
  };
  add_direct(field, setting.scene, grid, std::vector(cells * lamps, kPilotPlaces), {}, tell_grey, seed,
             light);
  read(light, kPilotPlaces, &PilotFigure::direct, &PilotFigure::direct_square);
  tbb::parallel_for(std::size_t{0}, cells * lamps, [&](std::size_t i) {
    const Figure figure = figure_in(
        [&](int replicate) { return grey[static_cast<std::size_t>(replicate) * cells * lamps + i]; });
    pilot.by_connection[i] = square(figure, kPilotPlaces);
    constexpr double kRounding = 1e-4;
    const Figure all =
        figure_in([&](int replicate) { return light.up(replicate, i % lamps, i / lamps).mean(); });
    pilot.through_panes[i] = all.value > (1 + kRounding) * figure.value;
  });
  pilot.rays += light.rays;
  light.clear();
  std::vector<std::vector<float>> straight(static_cast<std::size_t>(kCellReplicates) * lamps);
  const auto tell = [&](int replicate, std::size_t lamp, const std::vector<float>& told) {
    straight[static_cast<std::size_t>(replicate) * lamps + lamp] = told;
  };
  add_indirect(field, grid, {}, std::vector(sources, kPilotPaths), tell, seed, light);
  read(light, kPilotPaths, &PilotFigure::indirect, &PilotFigure::indirect_square);
  for (std::size_t i = 0; i < cells * lamps; ++i) {
    const Figure figure = figure_in([&](int replicate) {
      return straight[static_cast<std::size_t>(replicate) * lamps + i % lamps][i / lamps];
    });
    pilot.by_path[i] = square(figure, kPilotPaths);
  }
  pilot.rays += light.rays;
  return pilot;
}

}  // namespace

GridPilot recall_pilot(const Setting& setting, const CellGrid& grid) {
  CanonicalBytes asked;
  asked.add("grid pilot", setting.scene.survey.spacing, setting.scene.survey.seed);
  for (const Quantity quantity : kMappedQuantities)
    for (const QuantityBins& output : setting.fresh_outputs)
      asked.add(SpectralD(output.row(static_cast<int>(quantity)).transpose()));
  return setting.field.memory().recall(asked, [&] { return trace_pilot(setting, grid); });
}

}  // namespace boughlight
