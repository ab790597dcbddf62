#include "options.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "transport/light_files.h"
#include "units/problem.h"
#include "units/units.h"

namespace boughlight::cli {
namespace {

// The same ranges as in a scene's `survey`.
constexpr double kLeastTolerance = 0.0005, kMostTolerance = 0.5;
constexpr double kLeastSpacing = 0.002, kMostSpacing = 1;
// More than any machine has; guards against a slip of the finger.
constexpr std::uint64_t kMostThreads = 4096;

std::optional<std::uint64_t> whole_number(const std::string& text) {
  std::uint64_t value = 0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc() || stop != end) return std::nullopt;
  return value;
}

}  // namespace

void add_common_options(CLI::App& app, TypedOptions& typed, LightUse light) {
  const std::string tracing = light == LightUse::none ? kIdleGroup : kTracingGroup;
  const std::string keeping = light == LightUse::kept ? kKeepingGroup : kIdleGroup;
  const auto add = [&](const std::string& group, const char* name, const char* type,
                       std::optional<std::string>& value, const char* meaning) {
    app.add_option_function<std::string>(
           name, [&value](const std::string& text) { value = text; }, meaning)
        ->type_name(type)
        ->group(group);
  };
  add(tracing, "--seed", "N", typed.seed, "A whole number that fixes the random ones (the scene's)");
  add(tracing, "--threads", "N", typed.threads, "Processor threads to use (all); changes no figure");
  add(tracing, "--tolerance", "P", typed.tolerance, "Standard error to reach, '2 %' or 0.02 (the scene's)");
  add(tracing, "--spacing", "L", typed.spacing, "Size of the grid's cells, '2 in'; bare: cm (the scene's)");
  add(keeping, "--cache", "DIR", typed.cache, "Keep traced light there (~/.cache/boughlight)");
  app.add_flag("--no-cache", typed.no_cache, "Trace all light anew and keep none")->group(keeping);
  app.add_flag("--quiet", typed.quiet, "Print nothing but mistakes, and JSON where asked for")
      ->group(kCommonGroup);
  app.add_flag("--json", typed.json, "Results as JSON on standard output, nothing else there")
      ->group(kCommonGroup);
}

CLI::Validator one_of_words(const std::vector<std::string>& words) {
  const auto complain = [words](const std::string& word) {
    if (std::find(words.begin(), words.end(), word) != words.end()) return std::string();
    return fmt::format("there is no '{}'{}; there are {}", word, did_you_mean(word, words), one_of(words));
  };
  return CLI::Validator(complain, "{" + CLI::detail::join(words, ",") + "}");
}

CommonOptions checked(const TypedOptions& typed) {
  CommonOptions options;
  options.quiet = typed.quiet;
  options.json = typed.json;
  std::string wrong;
  const auto complain = [&](const std::string& text) { wrong += (wrong.empty() ? "" : "\n") + text; };

  if (typed.seed) {
    options.seed = whole_number(*typed.seed);
    if (!options.seed) {
      complain(fmt::format("--seed: '{}' is not a whole number from 0 to {}", *typed.seed, UINT64_MAX));
    }
  }
  if (typed.threads) {
    const auto threads = whole_number(*typed.threads);
    if (!threads || *threads < 1 || *threads > kMostThreads) {
      complain(fmt::format(
          "--threads: '{}' is not a whole number from 1 to {}; leave it out to use all processors",
          *typed.threads, kMostThreads));
    } else {
      options.threads = static_cast<int>(*threads);
    }
  }
  if (typed.cache && typed.no_cache) complain("--cache and --no-cache: only one of them can be meant");
  if (typed.cache && typed.cache->empty()) complain("--cache: a folder is needed");
  std::error_code ignored;
  if (typed.cache && std::filesystem::exists(*typed.cache, ignored) &&
      !std::filesystem::is_directory(*typed.cache, ignored))
    complain(fmt::format("--cache: '{}' is not a folder", *typed.cache));
  if (!typed.no_cache)
    options.cache_folder =
        typed.cache ? std::optional<std::filesystem::path>(*typed.cache) : usual_light_folder();
  std::string why;
  if (typed.tolerance) {
    const auto tolerance = parse_value(*typed.tolerance, Dimension::ratio, "", why);
    if (!tolerance) {
      complain("--tolerance: " + why);
    } else if (tolerance->value < kLeastTolerance || tolerance->value > kMostTolerance) {
      complain(fmt::format("--tolerance: '{}' is not between 0.05 % and 50 %", *typed.tolerance));
    } else {
      options.tolerance = tolerance->value;
    }
  }
  if (typed.spacing) {
    const auto spacing = parse_value(*typed.spacing, Dimension::length, "cm", why);
    if (!spacing) {
      complain("--spacing: " + why);
    } else if (spacing->value < kLeastSpacing || spacing->value > kMostSpacing) {
      complain(fmt::format("--spacing: '{}' is not between 2 mm and 1 m", *typed.spacing));
    } else {
      options.spacing = spacing->value;
    }
  }
  if (!wrong.empty()) throw CallError(wrong);
  return options;
}

std::shared_ptr<LightCache> CommonOptions::cache() const {
  return cache_folder ? light_files(*cache_folder) : nullptr;
}

void CommonOptions::apply_to(SurveySettings& settings) const {
  settings.seed = seed.value_or(settings.seed);
  settings.tolerance = tolerance.value_or(settings.tolerance);
  settings.spacing = spacing.value_or(settings.spacing);
}

}  // namespace boughlight::cli
