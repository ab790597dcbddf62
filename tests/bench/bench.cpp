// How fast surveys are, and what the ray caster itself could do. Run by hand, on a machine that does nothing
// else:
//   build/tests/bench_boughlight                every part
//   build/tests/bench_boughlight rates paths    only those: rates, survey, growth, paths, kept
// Repeats differ by 5 to 12 %; only ratios from one run say anything.

#include "bench.h"

#include <sys/resource.h>

#include <algorithm>
#include <map>
#include <thread>

namespace boughlight::bench {

double median_seconds(int repeats, const std::function<void()>& work) {
  std::vector<double> seconds;
  for (int i = 0; i < repeats; ++i) seconds.push_back(seconds_of(work));
  std::sort(seconds.begin(), seconds.end());
  return seconds[seconds.size() / 2];
}

double peak_mib() {
  rusage used{};
  getrusage(RUSAGE_SELF, &used);
  return static_cast<double>(used.ru_maxrss) / 1024;
}

}  // namespace boughlight::bench

int main(int count, char** words) {
  using namespace boughlight::bench;
  const std::vector<std::pair<std::string, void (*)()>> parts = {{"rates", print_ray_rates},
                                                                 {"survey", print_survey_times},
                                                                 {"growth", print_growth},
                                                                 {"paths", print_plain_paths},
                                                                 {"kept", print_kept_light}};
  const std::vector<std::string> asked(words + 1, words + count);
  for (const std::string& word : asked)
    if (std::none_of(parts.begin(), parts.end(), [&](const auto& part) { return part.first == word; })) {
      std::fprintf(stderr,
                   "bench_boughlight: '%s' is no part; there are rates, survey, growth, paths and kept\n",
                   word.c_str());
      return 2;
    }
  std::printf("%u hardware threads\n", std::thread::hardware_concurrency());
  for (const auto& [name, print] : parts)
    if (asked.empty() || std::find(asked.begin(), asked.end(), name) != asked.end()) print();
  return 0;
}
