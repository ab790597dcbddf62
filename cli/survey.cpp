// boughlight survey SCENE... [-o DIR] [--part K/N]

#include <fmt/format.h>

#include <charconv>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "assess/survey.h"
#include "commands.h"
#include "first_look.h"
#include "report/write.h"
#include "results_folder.h"
#include "scene/load.h"
#include "survey.h"
#include "survey_many.h"
#include "terminal.h"

namespace boughlight::cli {
namespace {

namespace fs = std::filesystem;

// Of several scenes where nothing else is asked for; in the current folder.
constexpr const char* kFolderOfMany = "surveys";

struct SurveyArguments {
  std::vector<std::string> scenes;
  std::string folder;
  std::string part;
};

// "3/20"
std::optional<Part> part_of(const std::string& text) {
  if (text.empty()) return std::nullopt;
  Part part;
  const char* const end = text.data() + text.size();
  const auto number = std::from_chars(text.data(), end, part.number);
  if (number.ec == std::errc() && number.ptr != end && *number.ptr == '/') {
    const auto of = std::from_chars(number.ptr + 1, end, part.of);
    if (of.ec == std::errc() && of.ptr == end && part.number >= 1 && part.number <= part.of) return part;
  }
  throw CallError(fmt::format("--part: '{}' is not K/N with K from 1 to N, such as 3/20", text));
}

std::string effort_text(const Survey& survey) {
  const Survey::Effort& effort = survey.effort;
  const std::string known =
      effort.recalled > 0 ? fmt::format(" ({:.1f} million of them kept from before)", effort.recalled / 1e6)
                          : "";
  return fmt::format("{} cells, {} readings, {} leaves, {:.1f} million rays{} in {:.1f} s\n",
                     survey.cells.size(), survey.readings.size(), survey.leaf_count, effort.rays / 1e6, known,
                     effort.seconds);
}

}  // namespace

Survey survey_into(Scene scene, const fs::path& folder, const CommonOptions& options,
                   const std::function<void(const std::string& stage, double share)>& tell,
                   const FirstLookTeller& first_look) {
  options.apply_to(scene.survey);
  SurveyControl control;
  control.threads = options.threads;
  control.cache = options.cache();
  constexpr double kTraced = 0.8;  // of the time; the rest goes into maps and files
  if (tell) control.progress = [&](const std::string& stage, double share) { tell(stage, kTraced * share); };
  control.first_look = first_look;
  Survey survey = run_survey(scene, control);
  if (tell) tell("drawing and writing", kTraced);
  write_survey(survey, folder);
  return survey;
}

int survey_scene(const fs::path& file, const fs::path& given_folder, const CommonOptions& options) {
  const Scene scene = load_scene(file);
  const fs::path folder = results_folder(given_folder.string(), file.string());
  Progress progress(!options.quiet);
  const Survey survey =
      survey_into(scene, folder, options, progress.teller(),
                  [&](const std::vector<FirstLook>& looks) { progress.say(first_look_text(looks)); });
  progress.wipe();
  if (progress.shown()) remark("{}", effort_text(survey));

  if (options.json) {
    put(readings_json(survey) + "\n");
  } else if (!options.quiet) {
    put(terminal_summary(survey));
    put("\n" + item("Report", (folder / "report.html").string() + " (open it in a browser)"));
    put(item("Maps", (folder / "maps").string() + "/"));
    put(item("Figures", (folder / "readings.json").string() +
                            ", readings.csv, grid.csv, spectra.csv and vtk/ beside it"));
    put(item("Meter sheet", (folder / "meter-sheet.txt").string() + " to print, meter-sheet.csv to fill in"));
  }
  return survey.verdict == WholeVerdict::met ? kAllMet : kNotAllMet;
}

Run declare_survey(CLI::App& app) {
  auto arguments = std::make_shared<SurveyArguments>();
  app.add_option("SCENE", arguments->scenes, "The scene file (YAML); or several")->required();
  app.add_option("-o,--output", arguments->folder, "Folder for the results (the scene's name; or surveys)")
      ->type_name("DIR");
  app.add_option("--part", arguments->part, "The K-th of N shares of the scenes, for one of N jobs")
      ->type_name("K/N");
  app.footer(
      "Examples:\n"
      "  boughlight survey my-cage.yaml                  results in my-cage/\n"
      "  boughlight survey my-cage.yaml -o try-2         results in try-2/\n"
      "  boughlight survey my-cage.yaml --tolerance 5%   rougher and quicker\n"
      "  boughlight survey my-cage.yaml --spacing '2 in' cells of 2 inches\n"
      "  boughlight survey my-cage.yaml --json | jq .verdict\n"
      "  boughlight survey cages/*.yaml -o surveys       many, and an index\n"
      "  boughlight survey cages/*.yaml -o surveys --part 3/20   one of 20 jobs\n"
      "\n"
      "Writes report.html, readings.json, readings.csv, day.csv, grid.csv,\n"
      "spectra.csv, meter-sheet.txt and .csv, maps/*.png, and vtk/* for ParaView. The\n"
      "exit code is 0 when every want, need, zone want and 'never' is met, 1 when any\n"
      "is not. Of several scenes it is the worst; what is wrong with one stops none of\n"
      "the others. Jobs with --part leave the index to 'boughlight index'.\n"
      "\n"
      "Traced light is kept for the next survey of the same enclosure and lamps, which\n"
      "may differ in dimmers, hours, ages, wants and names. No figure depends on it.");
  return [arguments](const CommonOptions& options) {
    const std::optional<Part> part = part_of(arguments->part);
    if (arguments->scenes.size() == 1 && !part)
      return survey_scene(arguments->scenes.front(), arguments->folder, options);
    const std::string folder = arguments->folder.empty() ? kFolderOfMany : arguments->folder;
    return survey_many({arguments->scenes, folder, part}, options);
  };
}

}  // namespace boughlight::cli
