// boughlight window SCENE LAMP [--perch NAME] [-o DIR]

#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <string>

#include "assess/memory.h"
#include "commands.h"
#include "named_parts.h"
#include "plan/window.h"
#include "plan_results.h"
#include "report/place_report.h"
#include "report/window_report.h"
#include "results_folder.h"
#include "scene/load.h"
#include "terminal.h"

namespace boughlight::cli {
namespace {

constexpr std::size_t kMostChoices = 100;  // gaps, or depths

struct WindowArguments {
  std::string scene, lamp, perch, folder;
  std::vector<std::string> gaps, depths;
};

std::vector<double> lengths(const Scene& scene, const std::string& option,
                            const std::vector<std::string>& typed, double least, double most) {
  std::vector<double> values;
  for (const std::string& text : typed) values.push_back(typed_length(scene, option, text, least, most));
  std::sort(values.begin(), values.end());
  if (std::adjacent_find(values.begin(), values.end()) != values.end())
    throw CallError(option + ": one length is named twice");
  if (values.size() == 1) throw CallError(option + ": two lengths or more are needed for a chart");
  if (values.size() > kMostChoices)
    throw CallError(fmt::format("{}: at most {} lengths", option, kMostChoices));
  return values;
}

WindowChoice window_choice_of(const WindowArguments& arguments, const Scene& scene, std::size_t lamp) {
  if (scene.perches.empty())
    throw CallError("the scene has no perch, and a window is one between a lamp and a perch");
  WindowChoice choice;
  if (!arguments.perch.empty()) choice.perch = perch_named(scene, arguments.perch);
  choice.gaps = lengths(scene, "--gaps", arguments.gaps, 0, kMostGap);
  const Top top = top_of(scene);
  const std::size_t perch = choice.perch ? *choice.perch : *perch_for(scene, lamp);
  const auto [down, up] = room_to_move(scene, seat_of(scene, perch), top);
  const double depth = depth_of(scene, perch, top);
  choice.depths = lengths(scene, "--depths", arguments.depths, depth - up, depth - down);
  return choice;
}

int run_window(const WindowArguments& arguments, const CommonOptions& options) {
  Scene scene = load_scene(arguments.scene);
  options.apply_to(scene.survey);
  require_open_top(scene);
  require_memory(scene, WithGrid::no);
  const std::size_t lamp = lamp_named(scene, arguments.lamp);
  const WindowChoice choice = window_choice_of(arguments, scene, lamp);
  const std::filesystem::path folder = results_folder(arguments.folder, arguments.scene);

  Progress progress(!options.quiet);
  const Window window = find_window(scene, lamp, choice, {options.threads, progress.teller()});
  progress.show("drawing", 1);
  const std::string stem = lamp_file_name("window", scene.lamps, lamp);
  finish_plan({"window",
               scene.title,
               scene.file,
               window_summary(window),
               window_json(window),
               {{stem, draw_window(window).png()}}},
              stem, folder, progress, options);
  if (progress.shown())
    remark("{} set-ups, {:.1f} million rays in {:.1f} s\n", window.field.size(), window.effort.rays / 1e6,
           window.effort.seconds);
  return verdict_of(window) == WholeVerdict::met ? kAllMet : kNotAllMet;
}

}  // namespace

Run declare_window(CLI::App& app) {
  auto arguments = std::make_shared<WindowArguments>();
  app.add_option("SCENE", arguments->scene, "The scene file (YAML)")->required();
  app.add_option("LAMP", arguments->lamp, "The name of one of its lamps")->required();
  app.add_option("--perch", arguments->perch, "The perch that it is for (of the highest UVI wanted)")
      ->type_name("PERCH");
  app.add_option("-o,--output", arguments->folder, "Folder for the results (the scene's name without .yaml)")
      ->type_name("DIR");
  app.add_option("--gaps", arguments->gaps, "Gaps above the top, with commas between (2.5 to 40 cm)")
      ->type_name("L")
      ->delimiter(',');
  app.add_option("--depths", arguments->depths, "Depths of the back below the top (20 cm either way)")
      ->type_name("L")
      ->delimiter(',');
  app.footer(
      "Examples:\n"
      "  boughlight window my-cage.yaml 'uv tube'\n"
      "  boughlight window my-cage.yaml 'uv tube' --perch bough --gaps 10,15,20\n"
      "\n"
      "Says how strong a lamp of this kind may be, as a reading of the bare lamp, and\n"
      "how high above the top and how deep the perch below it, for every want to hold:\n"
      "the target at the back and the limit at the mesh among them. Bare lengths are\n"
      "in the scene's unit; gaps are, unless told, every 2.5 cm or 1 in, depths every\n"
      "5 cm or 2 in about the present one.\n"
      "Writes window-LAMP.png, .html and .json. The exit code is 0 when there is a\n"
      "window, 1 when there is none, or when a want is not met that none of it changes.");
  return [arguments](const CommonOptions& options) { return run_window(*arguments, options); };
}

}  // namespace boughlight::cli
