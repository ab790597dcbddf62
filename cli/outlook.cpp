// boughlight outlook SCENE [-o DIR]

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <string>

#include "commands.h"
#include "plan/outlook.h"
#include "report/outlook_report.h"
#include "report/plan_page.h"
#include "report/staging.h"
#include "results_folder.h"
#include "terminal.h"
#include "units/units.h"

namespace boughlight::cli {
namespace {

namespace fs = std::filesystem;

struct OutlookArguments {
  std::string scene, folder;
  std::optional<std::string> months, step;
};

constexpr double kMostMonths = 120, kMostSteps = 120;

void read_months(const char* option, const std::optional<std::string>& text, double& months) {
  if (!text) return;
  std::string why;
  const auto value = parse_value(*text, Dimension::number, "", why);
  if (!value) throw CallError(fmt::format("{}: {}", option, why));
  if (!(value->value > 0) || value->value > kMostMonths)
    throw CallError(fmt::format("{}: '{}' is not more than 0 and at most {} months", option, *text,
                                print_number(kMostMonths)));
  months = value->value;
}

void apply(const OutlookArguments& arguments, MonthsAhead& ahead) {
  read_months("--months", arguments.months, ahead.months);
  read_months("--step", arguments.step, ahead.step);
  // Who asks for a fortnight alone wants one step of it.
  if (!arguments.step) ahead.step = std::min(ahead.step, ahead.months);
  if (ahead.step > ahead.months)
    throw CallError(fmt::format("a step of {} months is longer than the {} months to look ahead",
                                print_number(ahead.step), print_number(ahead.months)));
  if (ahead.months / ahead.step > kMostSteps)
    throw CallError(fmt::format("{} months in steps of {} are too many; at most {} steps are allowed",
                                print_number(ahead.months), print_number(ahead.step),
                                print_number(kMostSteps)));
}

int run_outlook(const OutlookArguments& arguments, const CommonOptions& options) {
  SceneAhead loaded = load_scene_ahead(arguments.scene);
  options.apply_to(loaded.scene.survey);
  apply(arguments, loaded.ahead);
  const bool writes = !arguments.folder.empty();
  const fs::path folder = writes ? results_folder(arguments.folder, arguments.scene) : fs::path();

  Progress progress(!options.quiet);
  OutlookControl control;
  control.threads = options.threads;
  constexpr double kTraced = 0.95;  // of the time; the rest goes into the charts and files
  control.progress = progress.teller(kTraced);
  const OutlookResult outlook = look_ahead(loaded.scene, loaded.ahead, control);
  if (writes) {
    progress.show("drawing and writing", kTraced);
    const std::string json = outlook_json(outlook), text = outlook_text(outlook);
    const std::string chart = draw_outlook(outlook).png();
    const Scene& scene = outlook.scene;
    write_files({{folder / "outlook.json", json},
                 {folder / "outlook.csv", outlook_csv(outlook)},
                 {folder / "outlook.txt", text},
                 {folder / kOutlookChartName, chart},
                 {folder / "outlook.html",
                  plan_page_html({"outlook", scene.title, scene.file, text, json, {{"outlook", chart}}})}});
  }
  progress.wipe();

  if (options.json) {
    put(outlook_json(outlook) + "\n");
  } else if (!options.quiet) {
    put(outlook_text(outlook));
    if (writes) {
      put("\n" + item("Page", (folder / "outlook.html").string() + " (open it in a browser)"));
      put(item("Charts", (folder / kOutlookChartName).string()));
      put(item("Figures",
               (folder / "outlook.json").string() + ", outlook.csv beside it; this text in outlook.txt"));
    }
  }
  return outlook.verdict == WholeVerdict::met ? kAllMet : kNotAllMet;
}

}  // namespace

Run declare_outlook(CLI::App& app) {
  auto arguments = std::make_shared<OutlookArguments>();
  app.add_option("SCENE", arguments->scene, "The scene file (YAML)")->required();
  app.add_option("-o,--output", arguments->folder, "Folder for outlook.html, .json, .csv, .txt and .png")
      ->type_name("DIR");
  const auto add = [&](const char* name, std::optional<std::string>& value, const char* meaning) {
    app.add_option_function<std::string>(
           name, [&value](const std::string& text) { value = text; }, meaning)
        ->type_name("N");
  };
  add("--months", arguments->months, "How far to look ahead (the scene's, else 12)");
  add("--step", arguments->step, "Months between two looks (the scene's, else 1)");
  app.footer(
      "Examples:\n"
      "  boughlight outlook my-cage.yaml             a year, on the terminal\n"
      "  boughlight outlook my-cage.yaml -o year     charts and figures there\n"
      "  boughlight outlook my-cage.yaml --months 24 --step 2\n"
      "  boughlight outlook my-cage.yaml --json | jq '.figures[].fails'\n"
      "\n"
      "Crowns grow, the animal grows and meshes foul as the scene's 'outlook' says;\n"
      "lamps age by their hours. The exit code is 0 when every want is met in all the\n"
      "months, 1 when one is not at any time; 2 when the scene or the call is wrong.");
  return [arguments](const CommonOptions& options) { return run_outlook(*arguments, options); };
}

}  // namespace boughlight::cli
