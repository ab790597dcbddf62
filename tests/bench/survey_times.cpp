// The demo's whole survey: where its time goes, and what a tolerance costs.

#include <oneapi/tbb/global_control.h>

#include <filesystem>
#include <map>

#include "bench.h"
#include "report/write.h"

namespace boughlight::bench {
namespace {

using Clock = std::chrono::steady_clock;

double since(Clock::time_point begin) {
  return std::chrono::duration<double>(Clock::now() - begin).count();
}

struct TimedStages {
  std::vector<std::pair<std::string, double>> stages;  // s
  double first_look = 0, total = 0;                    // s from the start
  Survey survey;
};

TimedStages timed_survey(const Scene& scene, int threads) {
  TimedStages timed;
  const auto begin = Clock::now();
  auto stage_begin = begin;
  std::string stage;
  SurveyControl control;
  control.threads = threads;
  control.first_look = [&](const std::vector<FirstLook>&) { timed.first_look = since(begin); };
  control.progress = [&](const std::string& next, double) {
    if (!stage.empty()) timed.stages.emplace_back(stage, since(stage_begin));
    stage = next;
    stage_begin = Clock::now();
  };
  timed.survey = run_survey(scene, control);
  timed.total = since(begin);
  return timed;
}

}  // namespace

void print_survey_times() {
  Scene scene = demo();
  heading("The demo's survey at its own tolerance, two threads");
  const auto folder = std::filesystem::temp_directory_path() / "boughlight-bench";
  const TimedStages two = timed_survey(scene, 2);
  const double writing = seconds_of([&] { write_survey(two.survey, folder); });
  std::filesystem::remove_all(folder);
  const double peak = peak_mib();  // before another survey lies beside this one
  const TimedStages one = timed_survey(scene, 1);
  for (std::size_t i = 0; i < two.stages.size(); ++i)
    std::printf("  %6.2f s  %s (%.2f s on one)\n", two.stages[i].second, two.stages[i].first.c_str(),
                one.stages[i].second);
  std::printf("  %6.2f s  drawing and writing\n", writing);
  std::printf("  %6.2f s  in all; %.2f s to the first look; peak memory %.0f MiB\n", two.total + writing,
              two.first_look, peak);
  const RayCount& rays = two.survey.effort.by_kind;
  std::printf("  %.2f million shadow rays, %.2f million for the nearest surface\n",
              static_cast<double>(rays.shadow) / 1e6, static_cast<double>(rays.closest) / 1e6);
  std::printf("  two threads of one: %.2f x (without writing)\n", one.total / two.total);
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, 2);
  const double bare = caster_rates(scene, World(scene)).seconds(rays), whole = two.total + writing;
  std::printf("  the ray caster alone, the same rays: %.2f s, so %.0f %% of the time goes to all else\n",
              bare, 100 * (1 - bare / whole));

  heading("Rays and time until every figure that is judged is known (grid, pictures and files left out)");
  for (const double tolerance : {0.02, 0.01}) {
    scene.survey.tolerance = tolerance;
    const TimedStages timed = timed_survey(scene, 2);
    std::map<std::string, double> stages(timed.stages.begin(), timed.stages.end());
    std::size_t open = 0, judged = 0;
    for (const Reading& reading : timed.survey.readings)
      for (const WantResult& want : reading.wants)
        ++judged, open += want.figure.converged.value_or(true) ? 0 : 1;
    std::printf(
        "  to %2.0f %%: readings %.2f s, closest reachable place %.2f s; whole survey %.1f million rays; "
        "%zu of %zu figures not there\n",
        100 * tolerance, stages["reading perches, plants and points"],
        stages["looking for the closest reachable place"], timed.survey.effort.rays / 1e6, open, judged);
  }
}

}  // namespace boughlight::bench
