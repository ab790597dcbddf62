// boughlight survey SCENE [-o DIR]

#include <fmt/format.h>

#include <filesystem>
#include <memory>
#include <string>

#include "assess/survey.h"
#include "commands.h"
#include "report/write.h"
#include "results_folder.h"
#include "scene/load.h"
#include "survey.h"
#include "terminal.h"

namespace boughlight::cli {
namespace {

namespace fs = std::filesystem;

struct Arguments {
  std::string scene;
  std::string folder;
};

std::string effort_text(const Survey& survey) {
  return fmt::format("{} cells, {} readings, {} leaves, {:.1f} million rays in {:.1f} s\n",
                     survey.cells.size(), survey.readings.size(), survey.leaf_count, survey.effort.rays / 1e6,
                     survey.effort.seconds);
}

}  // namespace

int survey_scene(const fs::path& file, const fs::path& given_folder, const CommonOptions& options) {
  Scene scene = load_scene(file);
  options.apply_to(scene.survey);
  const fs::path folder = results_folder(given_folder.string(), file.string());

  Progress progress(!options.quiet);
  SurveyControl control;
  control.threads = options.threads;
  constexpr double kTraced = 0.8;  // of the time; the rest goes into maps and files
  control.progress = progress.teller(kTraced);
  const Survey survey = run_survey(scene, control);
  progress.show("drawing and writing", kTraced);
  write_survey(survey, folder);
  progress.wipe();
  if (progress.shown()) fmt::print(stderr, "{}", effort_text(survey));

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
  auto arguments = std::make_shared<Arguments>();
  app.add_option("SCENE", arguments->scene, "The scene file (YAML)")->required();
  app.add_option("-o,--output", arguments->folder, "Folder for the results (the scene's name without .yaml)")
      ->type_name("DIR");
  app.footer(
      "Examples:\n"
      "  boughlight survey my-cage.yaml                  results in my-cage/\n"
      "  boughlight survey my-cage.yaml -o try-2         results in try-2/\n"
      "  boughlight survey my-cage.yaml --tolerance 5%   rougher and quicker\n"
      "  boughlight survey my-cage.yaml --spacing '2 in' cells of 2 inches\n"
      "  boughlight survey my-cage.yaml --json | jq .verdict\n"
      "\n"
      "Writes report.html, readings.json, readings.csv, day.csv, grid.csv,\n"
      "spectra.csv, meter-sheet.txt and .csv, maps/*.png, and vtk/* for ParaView. The\n"
      "exit code is 0 when every want, need, zone want and 'never' is met, 1 when any\n"
      "is not.");
  return [arguments](const CommonOptions& options) {
    return survey_scene(arguments->scene, arguments->folder, options);
  };
}

}  // namespace boughlight::cli
