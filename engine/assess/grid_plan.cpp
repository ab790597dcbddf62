#include "assess/grid_plan.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "assess/judge.h"

namespace boughlight {

// A source's light in a cell, of one quantity, and the square of its standard error, for new lamps at full
// power.
struct PilotFigure {
  float direct = 0, direct_variance = 0, indirect = 0, indirect_variance = 0;
};

// What the pilots found.
struct GridPilot {
  std::vector<std::uint32_t> places;
  std::uint32_t paths = 0;
  std::vector<PilotFigure> figures;  // [(quantity * sources + source) * cells + cell]
  double correction = 1;  // errors as found over those by `figures`, which take sources for independent
  RayCount rays;
};
template <class Bytes, SameAs<GridPilot> Pilot>
static void carry(Bytes& bytes, Pilot& pilot) {
  carry(bytes, pilot.places);
  carry(bytes, pilot.paths);
  carry(bytes, pilot.figures);
  carry(bytes, pilot.correction);
  carry(bytes, pilot.rays);
}

namespace {

enum : std::uint64_t { kPilotStage = 201 };

constexpr std::uint32_t kPilotPlaces = 1, kPilotPaths = 512;
constexpr std::uint32_t kLeastPlaces = 1, kLeastPaths = 1024, kMostPlaces = 1u << 12, kMostPaths = 1u << 22;
constexpr double kFaint = 0.1;    // of the mean
constexpr double kClearly = 1.3;  // times the error asked for is too much

constexpr std::array kMapped = {Quantity::uvi, Quantity::ppfd, Quantity::irradiance};
using Weights = std::array<std::vector<Spectral>, kMapped.size()>;  // [quantity][source]

Weights weights_of(const std::vector<QuantityBins>& outputs) {
  Weights weights;
  for (std::size_t q = 0; q < kMapped.size(); ++q)
    for (const QuantityBins& output : outputs)
      weights[q].push_back(output.row(static_cast<int>(kMapped[q])).transpose().cast<float>());
  return weights;
}

// Standard errors of the cells relative to their values, where the errors come from `part` and the values
// from `part` + `rest`. A cell below a tenth of the mean is taken as that bright and told by `faint`: how
// well it is known matters less.
struct CellErrors {
  struct OfQuantity {
    std::vector<double> relative;
    std::vector<char> faint;
  };
  std::array<OfQuantity, kMapped.size()> of;

  // The largest of the quantities'.
  double relative(std::size_t cell) const {
    double most = 0;
    for (const OfQuantity& quantity : of) most = std::max(most, quantity.relative[cell]);
    return most;
  }
  // Over the cells that are not faint, of the quantity that is known least.
  double rms() const {
    return std::sqrt(worst_mean([](double error, double) { return error * error; }));
  }
  // What the mean square would be, times that share, were each cell given a share of the samples like its
  // relative().
  double if_shared_out() const {
    return worst_mean([](double error, double share) { return error * error / share; });
  }

 private:
  template <class Term>
  double worst_mean(Term&& term) const {
    double worst = 0;
    for (const OfQuantity& quantity : of) {
      double sum = 0, count = 0;
      for (std::size_t cell = 0; cell < quantity.relative.size(); ++cell) {
        if (quantity.faint[cell]) continue;
        if (quantity.relative[cell] > 0) sum += term(quantity.relative[cell], relative(cell));
        ++count;
      }
      if (count > 0) worst = std::max(worst, sum / count);
    }
    return worst;
  }
};
CellErrors cell_errors(const Weights& all_weights, const CellGrid& grid, const CellLight& part,
                       const CellLight& rest) {
  CellErrors errors;
  for (std::size_t q = 0; q < kMapped.size(); ++q) {
    CellErrors::OfQuantity& quantity = errors.of[q];
    quantity = {std::vector<double>(grid.size(), 0.0), std::vector<char>(grid.size(), 1)};
    const std::vector<Spectral>& weights = all_weights[q];
    std::vector<Figure> figures(grid.size());
    tbb::parallel_for(std::size_t{0}, grid.size(), [&](std::size_t cell) {
      std::vector<double> replicates(kReplicates, 0.0);
      double other = 0;
      for (int replicate = 0; replicate < kReplicates; ++replicate)
        for (std::size_t source = 0; source < part.sources(); ++source) {
          replicates[static_cast<std::size_t>(replicate)] +=
              static_cast<double>((part.up(replicate, source, cell) * weights[source]).sum());
          other +=
              static_cast<double>((rest.up(replicate, source, cell) * weights[source]).sum()) / kReplicates;
        }
      figures[cell] = figure_of(replicates);
      figures[cell].value += other;
    });
    double mean = 0;
    for (const Figure& figure : figures) mean += figure.value / static_cast<double>(figures.size());
    if (!(mean > 0)) continue;
    for (std::size_t cell = 0; cell < figures.size(); ++cell) {
      const double size = std::max(figures[cell].value, kFaint * mean);
      quantity.relative[cell] = figures[cell].se / size;
      if (figures[cell].value > kFaint * mean) quantity.faint[cell] = 0;
    }
  }
  return errors;
}

// The power of two nearest to samples x factor: those stratify best, and over many cells too much here makes
// up for too little there.
std::uint32_t scaled(std::uint32_t samples, double factor, std::uint32_t least, std::uint32_t most) {
  const double wanted = std::clamp(samples * factor, static_cast<double>(least), static_cast<double>(most));
  return static_cast<std::uint32_t>(std::exp2(std::round(std::log2(wanted))));
}

// The pilots' light itself, traced when it is first asked for.
class PilotLight {
 public:
  PilotLight(const Setting& setting, const CellGrid& grid)
      : direct(grid.size(), setting.field.source_count(), 0),
        indirect(grid.size(), setting.field.source_count(), 0) {
    const std::uint64_t seed = setting.stream(kPilotStage, 0);
    add_direct(setting.field, setting.scene, grid, std::vector(grid.size(), kPilotPlaces), seed, direct);
    add_indirect(setting.field, grid, {}, std::vector(setting.field.source_count(), kPilotPaths), seed,
                 indirect);
  }
  CellLight direct, indirect;
};

GridPlan plan_for(const Weights& weights, const CellGrid& grid, const PilotLight& pilot, double most_rays) {
  const CellErrors direct_errors = cell_errors(weights, grid, pilot.direct, pilot.indirect);
  const double indirect_error = cell_errors(weights, grid, pilot.indirect, pilot.direct).rms();
  // Places go where they help: in proportion to each cell's error the squares add up to the allowed sum
  // with the fewest rays. Share the allowed error between direct and reflected light so that both together
  // take the fewest rays.
  const double direct_error = direct_errors.if_shared_out();
  const double direct_rays = static_cast<double>(pilot.direct.rays.shadow);
  const double indirect_rays = static_cast<double>(pilot.indirect.rays.closest);
  const double direct_cost = std::sqrt(direct_rays + 1), indirect_cost = std::sqrt(indirect_rays + 1);
  const double both = (direct_error * direct_cost + indirect_error * indirect_cost) / (kAskedRms * kAskedRms);
  GridPlan plan;
  plan.paths = scaled(kPilotPaths, indirect_error * both / indirect_cost, kLeastPaths, kMostPaths);
  while (plan.paths > kLeastPaths && plan.paths * (indirect_rays / kPilotPaths) > most_rays) plan.paths /= 2;
  const double wanted = kPilotPlaces * direct_error * both / direct_cost;
  const double fewer = std::min(1.0, most_rays / std::max(1.0, wanted * direct_rays / kPilotPlaces));
  for (std::size_t cell = 0; cell < grid.size(); ++cell)
    plan.places.push_back(scaled(kPilotPlaces, fewer * direct_errors.relative(cell) * both / direct_cost,
                                 kLeastPlaces, kMostPlaces));
  return plan;
}

PilotFigure figure_in(const PilotLight& pilot, const Spectral& weights, std::size_t source,
                      std::size_t cell) {
  const auto of = [&](const CellLight& light) {
    std::vector<double> replicates;
    for (int replicate = 0; replicate < kReplicates; ++replicate)
      replicates.push_back(static_cast<double>((light.up(replicate, source, cell) * weights).sum()));
    return figure_of(replicates);
  };
  const Figure direct = of(pilot.direct), indirect = of(pilot.indirect);
  return {static_cast<float>(direct.value), static_cast<float>(direct.se * direct.se),
          static_cast<float>(indirect.value), static_cast<float>(indirect.se * indirect.se)};
}

// What the error over the cells will be with the pilot's plan, of the quantity that is known least, where
// each source gives `scale` times as much: [quantity][source].
double expected_rms(const GridPilot& pilot, const std::array<Eigen::ArrayXd, kMapped.size()>& scale) {
  const std::size_t cells = pilot.places.size();
  double worst = 0;
  for (std::size_t q = 0; q < kMapped.size(); ++q) {
    const auto sources = static_cast<std::size_t>(scale[q].size());
    std::vector<double> values(cells, 0.0), variances(cells, 0.0);
    for (std::size_t source = 0; source < sources; ++source) {
      const double times = scale[q][static_cast<Eigen::Index>(source)];
      for (std::size_t cell = 0; cell < cells; ++cell) {
        const PilotFigure& figure = pilot.figures[(q * sources + source) * cells + cell];
        values[cell] += times * (static_cast<double>(figure.direct) + figure.indirect);
        variances[cell] += times * times *
                           (figure.direct_variance * static_cast<double>(kPilotPlaces) / pilot.places[cell] +
                            figure.indirect_variance * static_cast<double>(kPilotPaths) / pilot.paths);
      }
    }
    double mean = 0, sum = 0, count = 0;
    for (const double value : values) mean += value / static_cast<double>(cells);
    for (std::size_t cell = 0; cell < cells; ++cell)
      if (values[cell] > kFaint * mean) sum += variances[cell] / (values[cell] * values[cell]), ++count;
    if (count > 0) worst = std::max(worst, std::sqrt(sum / count));
  }
  return worst;
}

// The same from the pilots' own replicates, which know how errors of different sources hang together.
double found_rms(const Weights& weights, const CellGrid& grid, const PilotLight& light,
                 const GridPlan& plan) {
  const CellErrors direct = cell_errors(weights, grid, light.direct, light.indirect);
  const CellErrors indirect = cell_errors(weights, grid, light.indirect, light.direct);
  double worst = 0;
  for (std::size_t q = 0; q < kMapped.size(); ++q) {
    double sum = 0, count = 0;
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
      if (direct.of[q].relative.empty() || direct.of[q].faint[cell]) continue;
      const double a = direct.of[q].relative[cell], b = indirect.of[q].relative[cell];
      sum += a * a * kPilotPlaces / plan.places[cell] + b * b * kPilotPaths / plan.paths;
      ++count;
    }
    if (count > 0) worst = std::max(worst, std::sqrt(sum / count));
  }
  return worst;
}

GridPilot pilot_of(const Setting& setting, const CellGrid& grid, const PilotLight& light, double most_rays) {
  const std::size_t sources = setting.field.source_count();
  const Weights weights = weights_of(setting.fresh_outputs);
  const GridPlan plan = plan_for(weights, grid, light, most_rays);
  GridPilot pilot{plan.places, plan.paths, {}, 1, light.direct.rays};
  pilot.rays += light.indirect.rays;
  pilot.figures.resize(kMapped.size() * sources * grid.size());
  tbb::parallel_for(std::size_t{0}, pilot.figures.size(), [&](std::size_t i) {
    const std::size_t source = i / grid.size() % sources;
    pilot.figures[i] = figure_in(light, weights[i / grid.size() / sources][source], source, i % grid.size());
  });
  std::array<Eigen::ArrayXd, kMapped.size()> as_it_is;
  as_it_is.fill(Eigen::ArrayXd::Ones(static_cast<Eigen::Index>(sources)));
  const double expected = expected_rms(pilot, as_it_is);
  if (expected > 0) pilot.correction = found_rms(weights, grid, light, plan) / expected;
  return pilot;
}

}  // namespace

GridPlan plan_grid(Setting& setting, const CellGrid& grid) {
  // Half of the budget at the most, for direct and reflected light alike; a quarter is always there for the
  // maps. In two steps, so that what was read before hardly ever matters.
  const double used = static_cast<double>(setting.spent.shadow + setting.spent.closest);
  const double most_rays = setting.budget.rays / (used <= setting.budget.rays / 2 ? 4 : 8);

  std::optional<PilotLight> light;
  CanonicalBytes asked;
  asked.add("grid plan", setting.scene.survey.spacing, setting.scene.survey.seed, most_rays);
  const Weights fresh = weights_of(setting.fresh_outputs);
  for (const auto& weights : fresh) asked.add(weights);
  const GridPilot pilot = setting.field.memory().recall(asked, [&] {
    light.emplace(setting, grid);
    return pilot_of(setting, grid, *light, most_rays);
  });
  setting.spent += pilot.rays;

  std::array<Eigen::ArrayXd, kMapped.size()> full, declared;
  for (std::size_t q = 0; q < kMapped.size(); ++q) {
    full[q] = output_ratios(kMapped[q], setting.fresh_outputs, setting.fresh_outputs);
    declared[q] = output_ratios(kMapped[q], setting.outputs, setting.fresh_outputs);
  }
  const double allowed = std::max(kAskedRms, pilot.correction * expected_rms(pilot, full));
  if (pilot.correction * expected_rms(pilot, declared) <= kClearly * allowed)
    return {pilot.places, pilot.paths};
  if (!light) light.emplace(setting, grid);
  return plan_for(weights_of(setting.outputs), grid, *light, most_rays);
}

}  // namespace boughlight
