// boughlight fit SCENE READINGS.csv [-o FILE]

#include <algorithm>
#include <filesystem>
#include <memory>
#include <string>

#include "assess/memory.h"
#include "commands.h"
#include "plan/fit.h"
#include "report/fit_report.h"
#include "report/write.h"
#include "scene/extras.h"
#include "terminal.h"
#include "units/units.h"
#include "written_scene.h"

namespace boughlight::cli {
namespace {

struct FitArguments {
  std::string scene, readings, output, meter = "10 %";
  bool heights = false, overwrite = false;
};

double meter_doubt(const std::string& text) {
  constexpr double kLeast = 0.005, kMost = 1;
  std::string why;
  const auto doubt = parse_value(text, Dimension::ratio, "", why);
  if (!doubt) throw CallError("--meter: " + why);
  if (doubt->value < kLeast || doubt->value > kMost)
    throw CallError("--meter: '" + text + "' is not between 0.5 % and 100 %");
  return doubt->value;
}

int run_fit(const FitArguments& arguments, const CommonOptions& options) {
  FitControl control;
  control.meter = meter_doubt(arguments.meter);
  control.heights = arguments.heights;
  control.threads = options.threads;
  PlannedScene planned = load_planned_scene(arguments.scene);
  Scene& scene = planned.scene;
  options.apply_to(scene.survey);
  require_memory(scene, WithGrid::no);
  const MeterReadings readings = read_meter_readings(arguments.readings, scene);
  std::vector<std::filesystem::path> read = scene.read_from;
  read.emplace_back(arguments.readings);
  const std::filesystem::path output =
      place_for_scene(arguments.scene, arguments.output, "-fitted", arguments.overwrite, read);

  Progress progress(!options.quiet);
  if (progress.shown())
    control.progress = [&](const std::string& stage, double share) { progress.show(stage, share); };
  const Fit fit = fit_readings(scene, readings, control);
  progress.wipe();
  const std::string text = fit_summary(scene, fit), json = fit_json(scene, fit, output.string());
  const std::filesystem::path page =
      write_scene(output, fitted_scene_text(planned, fit), {"fit", scene.title, scene.file, text, json, {}});

  if (options.json) {
    put(json);
  } else if (!options.quiet) {
    put(text);
    put("\n" + item("Calibrated scene", output.string() + " (the scene that you gave stays as it is)"));
    put(item("Page", page.string() + " (open it in a browser)"));
  }
  const bool agree = std::all_of(fit.readings.begin(), fit.readings.end(),
                                 [](const FitReading& r) { return !r.outlier && !r.at_odds; });
  return agree ? kAllMet : kNotAllMet;
}

}  // namespace

Run declare_fit(CLI::App& app) {
  auto arguments = std::make_shared<FitArguments>();
  app.add_option("SCENE", arguments->scene, "The scene file (YAML)")->required();
  app.add_option("READINGS", arguments->readings, "What the meter said (CSV): a filled meter-sheet.csv")
      ->required()
      ->type_name("READINGS.csv");
  app.add_option("-o,--output", arguments->output, "The calibrated scene (the scene's name with -fitted)")
      ->type_name("FILE");
  app.add_flag("--overwrite", arguments->overwrite, "Replace the file of that name where there is one");
  app.add_flag("--heights", arguments->heights, "Find the heights of lamps and places too");
  app.add_option("--meter", arguments->meter, "How far off a reading may be, one std. deviation (10 %)")
      ->type_name("P");
  app.footer(
      "Examples:\n"
      "  boughlight fit my-cage.yaml my-cage/meter-sheet.csv\n"
      "  boughlight fit my-cage.yaml readings.csv --heights -o measured.yaml\n"
      "  boughlight fit my-cage.yaml readings.csv --meter 5% --json | jq .lamps\n"
      "\n"
      "READINGS.csv has a header and one row a reading: place (or x, y, z), quantity,\n"
      "reading, and where you like orientation, unit, lamps, through_screen and warm;\n"
      "or one row a place, with a column for each quantity.\n"
      "The new scene holds what was found in a section 'measured'; comments and all\n"
      "else stay. The exit code is 0 when all readings fit together, 1 when any was\n"
      "left out as an outlier or is at odds with what else is known.");
  return [arguments](const CommonOptions& options) { return run_fit(*arguments, options); };
}

}  // namespace boughlight::cli
