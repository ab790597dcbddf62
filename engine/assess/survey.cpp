#include "assess/survey.h"

#include <oneapi/tbb/global_control.h>
#include <tbb/parallel_for.h>

#include <chrono>

#include "assess/animal.h"
#include "assess/cautions.h"
#include "assess/day.h"
#include "assess/doubt.h"
#include "assess/hottest.h"
#include "assess/judge.h"
#include "assess/memory.h"
#include "assess/readings.h"
#include "assess/shares.h"
#include "assess/zones.h"
#include "transport/field_key.h"

namespace boughlight {
namespace {

void lay_out_grid(const Setting& setting, const GridLight& light, Survey& survey) {
  const CellGrid& grid = *light.grid;
  const CellWeigher weigher(setting);
  survey.cells.resize(grid.size());
  tbb::parallel_for(std::size_t{0}, grid.size(), [&](std::size_t i) {
    Cell& cell = survey.cells[i];
    cell.box = static_cast<int>(grid.block_of(i));
    cell.index = grid.index_of(i);
    cell.centre = (grid.low_corner(i) + 0.5f * grid.extent(i)).cast<double>();
    cell.free_share = grid.free_share(i);
    cell.up = weigher.figures(*light.light, i);
  });
  for (const CellGrid::Block& block : grid.blocks()) {
    survey.grid.push_back({block.count, block.corner.cast<double>(), block.cell.cast<double>(), block.first});
    const std::size_t in_level = static_cast<std::size_t>(block.count[0] * block.count[1]);
    for (int z = 0; z < block.count[2]; ++z) {
      Level level;
      double volume = 0, dli = 0;
      for (std::size_t i = 0; i < in_level; ++i) {
        const Cell& cell = survey.cells[block.first + static_cast<std::size_t>(z) * in_level + i];
        level.z = cell.centre.z();
        volume += cell.free_share;
        level.uvi_mean += cell.free_share * cell.up[static_cast<std::size_t>(Quantity::uvi)].value;
        level.ppfd_mean += cell.free_share * cell.up[static_cast<std::size_t>(Quantity::ppfd)].value;
        dli += cell.free_share * cell.up[static_cast<std::size_t>(Quantity::dli)].value;
      }
      if (volume > 0) level.uvi_mean /= volume, level.ppfd_mean /= volume;
      if (survey.has_day) level.dli_mean = volume > 0 ? dli / volume : 0;
      survey.levels.push_back(level);
    }
  }
}

WholeVerdict whole_verdict(const Survey& survey) {
  WholeVerdict verdict = WholeVerdict::met;
  for (const Reading& reading : survey.readings)
    for (const WantResult& want : reading.wants) verdict = worse(verdict, want.verdict);
  for (const ZoneWantResult& want : survey.zone_wants) verdict = worse(verdict, want.verdict);
  // A limit for wherever the animal gets, where it gets nowhere, has not been judged.
  if (never_unjudged(survey)) verdict = worse(verdict, Verdict::unsure);
  if (survey.hottest)
    for (const HottestPlace* place : {&survey.hottest->uvi, &survey.hottest->irradiance})
      if (place->verdict) verdict = worse(verdict, *place->verdict);
  return verdict;
}

}  // namespace

Survey run_survey(const Scene& scene, const SurveyControl& control) {
  const auto begin = std::chrono::steady_clock::now();
  std::optional<tbb::global_control> threads;
  if (control.threads > 0)
    threads.emplace(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(control.threads));
  const auto progress = [&](const std::string& stage, double share) {
    if (control.progress) control.progress(stage, share);
  };

  require_memory(scene, WithGrid::yes);
  progress("building the enclosure", 0);
  LightField field(scene, importance_of(scene));
  if (control.cache) {
    const LightKey key = field_key(scene, field.importance());
    field.remember(FieldMemory(control.cache->open(key), key));
  }
  Setting setting = setting_of(scene, field);
  Survey survey;
  survey.scene = scene;
  survey.has_day = setting.has_day;
  survey.leaf_count = field.world().leaf_count();
  progress("reading perches, plants and points", 0.02);
  take_readings(setting, survey, control.first_look);
  progress("lighting the grid", 0.15);
  const GridLight light = light_cells(setting);
  lay_out_grid(setting, light, survey);
  survey.shares = source_shares(setting, light, survey);
  progress("looking for shade and basking places", 0.58);
  PerchedLight perched(setting, light);
  judge_zones(setting, light, perched, survey);
  progress("looking for the closest reachable place", 0.64);
  survey.hottest = find_hottest(setting, light);
  progress("looking at the animal's body and its ways", 0.8);
  study_animal(setting, perched, survey);
  progress("weighing what may be off", 0.84);
  find_doubt(setting, survey);
  progress("following the day", 0.88);
  survey.day = find_day(setting, survey);
  survey.cautions = cautions_of(survey);
  survey.verdict = whole_verdict(survey);
  progress("done", 1);
  survey.effort.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  survey.effort.by_kind = setting.spent;
  survey.effort.rays = static_cast<double>(setting.spent.shadow + setting.spent.closest);
  survey.effort.recalled = static_cast<double>(field.memory().recalled_rays());
  return survey;
}

}  // namespace boughlight
