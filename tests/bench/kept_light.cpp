// What the cache of traced light saves: the demo surveyed cold, again, and after changes that move no light.

#include <filesystem>

#include "bench.h"
#include "report/write.h"
#include "transport/light_files.h"

namespace boughlight::bench {
namespace {

namespace fs = std::filesystem;

struct TimedWriting {
  double survey = 0, writing = 0;  // s
  Survey::Effort effort;
};

TimedWriting timed(const Scene& scene, const fs::path& work) {
  TimedWriting timed;
  SurveyControl control;
  control.threads = 2;
  control.cache = light_files(work / "light");
  Survey survey;
  timed.survey = seconds_of([&] { survey = run_survey(scene, control); });
  timed.writing = seconds_of([&] {
    write_survey(survey, work / "results");
    control.cache.reset();  // waits until all is kept
  });
  timed.effort = survey.effort;
  return timed;
}

std::uintmax_t bytes_in(const fs::path& folder) {
  std::uintmax_t sum = 0;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.is_regular_file()) sum += entry.file_size();
  return sum;
}

}  // namespace

void print_kept_light() {
  heading("The demo with its light kept, two threads");
  const fs::path work = fs::temp_directory_path() / "boughlight-bench-kept";
  fs::remove_all(work);
  const auto print = [&](const char* what, const Scene& scene) {
    const TimedWriting took = timed(scene, work);
    std::printf("  %6.2f s + %.2f s writing  %-28s %7.3f of %.2f million rays traced\n", took.survey,
                took.writing, what, (took.effort.rays - took.effort.recalled) / 1e6, took.effort.rays / 1e6);
  };
  const auto edited = [](const std::function<void(Scene&)>& edit) {
    Scene scene = demo();
    edit(scene);
    return scene;
  };
  print("cold", demo());
  std::printf("  %.1f MB kept\n", static_cast<double>(bytes_in(work / "light")) / 1e6);
  print("again", demo());
  print("other wants", edited([](Scene& s) { s.perches[0].wants[0].limits = {1, 2}; }));
  print("other hours", edited([](Scene& s) { s.lamps[0].lit = {{{10, 15}}}; }));
  print("the tube older", edited([](Scene& s) { s.lamps[0].burned_h = 3000; }));
  print("the tube dimmed", edited([](Scene& s) { s.lamps[0].dim = 0.7; }));
  print("the flood dimmed", edited([](Scene& s) { s.lamps[1].dim = 0.6; }));
  print("the flood out", edited([](Scene& s) { s.lamps[1].dim = 0; }));
  fs::remove_all(work);
}

}  // namespace boughlight::bench
