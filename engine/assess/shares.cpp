#include "assess/shares.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "assess/field_cells.h"

namespace boughlight {
namespace {

Eigen::Array<double, kInstant, 1> instant(const QuantityBins& output, const SpectralD& response) {
  return (output.matrix() * response.matrix()).array();
}

bool has_filament(const Lamp& lamp) {
  return std::any_of(lamp.fixture->parts.begin(), lamp.fixture->parts.end(),
                     [](const LampPart& part) { return part.filament_k.has_value(); });
}

// Reference responses are the same at every step: [reading or cell].
using Responses = std::vector<SpectralD>;

InstantFactors factors(const QuantityBins& dimmed, const QuantityBins& reference, const SpectralD& response) {
  InstantFactors factors{};
  const auto left = instant(dimmed, response), full = instant(reference, response);
  for (int q = 0; q < kInstant; ++q)
    factors[static_cast<std::size_t>(q)] = full[q] > 0 ? left[q] / full[q] : 0;
  return factors;
}

InstantFactors rms_differences(const QuantityBins& dimmed, const QuantityBins& reference,
                               const Responses& cells, const SpectralD& mean, const InstantFactors& used) {
  constexpr double kNoticeable = 0.1;
  const auto mean_full = instant(reference, mean);
  InstantFactors sum{}, count{}, rms{};
  for (const SpectralD& response : cells) {
    const auto left = instant(dimmed, response), full = instant(reference, response);
    for (int i = 0; i < kInstant; ++i) {
      if (!(full[i] > kNoticeable * mean_full[i]) || !(left[i] > 0)) continue;
      const auto q = static_cast<std::size_t>(i);
      const double off = used[q] * full[i] / left[i] - 1;
      sum[q] += off * off, count[q] += 1;
    }
  }
  for (std::size_t q = 0; q < rms.size(); ++q) rms[q] = count[q] > 0 ? std::sqrt(sum[q] / count[q]) : 0;
  return rms;
}

std::vector<DimmerStep> dimmer_steps(const Lamp& lamp, double reference_dim, const Responses& readings,
                                     const Responses& cells) {
  SpectralD mean = SpectralD::Zero();
  for (const SpectralD& cell : cells) mean += cell / static_cast<double>(cells.size());
  const QuantityBins reference = lamp_output(lamp, reference_dim);
  constexpr int kSteps = 10;
  std::vector<DimmerStep> steps(kSteps);
  tbb::parallel_for(0, kSteps, [&](int i) {
    DimmerStep& step = steps[static_cast<std::size_t>(i)];
    step.dim = (i + 1.0) / kSteps;
    const QuantityBins dimmed = lamp_output(lamp, step.dim);
    for (const SpectralD& reading : readings) step.readings.push_back(factors(dimmed, reference, reading));
    step.cells = factors(dimmed, reference, mean);
    step.cells_rms = rms_differences(dimmed, reference, cells, mean, step.cells);
  });
  return steps;
}

}  // namespace

std::size_t SourceShares::reading_at(std::size_t reading, Quantity instant, std::size_t source) const {
  return ((reading * kInstant + static_cast<std::size_t>(instant)) * sources + source) * kReplicates;
}

std::size_t SourceShares::cell_at(Quantity instant, std::size_t source) const {
  return (static_cast<std::size_t>(instant) * sources + source) * cells;
}

SourceShares source_shares(const Setting& setting, const GridLight& light, const Survey& survey) {
  const Scene& scene = setting.scene;
  SourceShares shares;
  shares.sources = scene.source_count();
  shares.readings = survey.responses.size();
  shares.cells = survey.cells.size();
  shares.reference.assign(shares.sources, 1);
  shares.steps.resize(shares.sources);
  std::vector<QuantityBins> outputs = setting.outputs;
  for (std::size_t source = 0; source < scene.lamps.size(); ++source) {
    if (scene.lamps[source].dim > 0)
      shares.reference[source] = scene.lamps[source].dim;
    else
      outputs[source] = setting.full_outputs[source];
  }

  shares.reading_values.resize(shares.readings * kInstant * shares.sources * kReplicates);
  for (std::size_t i = 0; i < shares.readings; ++i) {
    const Response& response = survey.responses[i];
    for (std::size_t source = 0; source < shares.sources; ++source)
      for (std::size_t replicate = 0; replicate < kReplicates; ++replicate) {
        const std::size_t at = response.at(static_cast<int>(replicate), source);
        const SpectralD bins = (response.direct[at] + response.indirect[at]).cast<double>();
        const auto values = instant(outputs[source], bins);
        for (int q = 0; q < kInstant; ++q)
          shares.reading_values[shares.reading_at(i, static_cast<Quantity>(q), source) + replicate] =
              static_cast<float>(values[q]);
      }
  }
  shares.cell_values.resize(kInstant * shares.sources * shares.cells);
  for (std::size_t source = 0; source < shares.sources; ++source) {
    Responses cells(shares.cells);
    tbb::parallel_for(std::size_t{0}, shares.cells, [&](std::size_t cell) {
      cells[cell] = light.mean_of(source, cell).cast<double>();
      const auto values = instant(outputs[source], cells[cell]);
      for (int q = 0; q < kInstant; ++q)
        shares.cell_values[shares.cell_at(static_cast<Quantity>(q), source) + cell] =
            static_cast<float>(values[q]);
    });
    if (source >= scene.lamps.size() || !has_filament(scene.lamps[source])) continue;
    Responses readings;
    for (const Response& response : survey.responses) readings.push_back(response.mean(source));
    shares.steps[source] = dimmer_steps(scene.lamps[source], shares.reference[source], readings, cells);
  }
  return shares;
}

}  // namespace boughlight
