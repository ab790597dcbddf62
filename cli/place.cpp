// boughlight place SCENE LAMP [-o DIR]

#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <string>

#include "assess/memory.h"
#include "commands.h"
#include "named_parts.h"
#include "plan/place_map.h"
#include "plan_results.h"
#include "report/place_report.h"
#include "results_folder.h"
#include "scene/load.h"
#include "terminal.h"

namespace boughlight::cli {
namespace {

constexpr double kLeastStep = 0.002, kMostStep = 1;  // m

struct PlaceArguments {
  std::string scene, lamp, folder, step;
  std::vector<std::string> gaps;
};

PlaceChoice place_choice_of(const PlaceArguments& arguments, const Scene& scene) {
  PlaceChoice choice;
  if (!arguments.step.empty())
    choice.step = typed_length(scene, "--step", arguments.step, kLeastStep, kMostStep);
  for (const std::string& gap : arguments.gaps)
    choice.gaps.push_back(typed_length(scene, "--gaps", gap, 0, kMostGap));
  std::sort(choice.gaps.begin(), choice.gaps.end());
  if (std::adjacent_find(choice.gaps.begin(), choice.gaps.end()) != choice.gaps.end())
    throw CallError("--gaps: one gap is named twice");
  const std::size_t places = lattice_over(top_of(scene), choice.step,
                                          choice.gaps.empty() ? usual_gaps(scene, std::nullopt) : choice.gaps)
                                 .size();
  if (places > kMostPlaces)
    throw CallError(fmt::format("--step: that makes {} places, and {} are the most; take a wider step",
                                places, kMostPlaces));
  return choice;
}

int run_place(const PlaceArguments& arguments, const CommonOptions& options) {
  Scene scene = load_scene(arguments.scene);
  options.apply_to(scene.survey);
  require_open_top(scene);
  require_memory(scene, WithGrid::no);
  const std::size_t lamp = lamp_named(scene, arguments.lamp);
  const PlaceChoice choice = place_choice_of(arguments, scene);
  const std::filesystem::path folder = results_folder(arguments.folder, arguments.scene);

  Progress progress(!options.quiet);
  const PlaceMap map = map_places(scene, lamp, choice, {options.threads, progress.teller()});
  progress.show("drawing", 1);
  const std::string stem = lamp_file_name("place", scene.lamps, lamp);
  finish_plan({"place",
               scene.title,
               scene.file,
               place_summary(map),
               place_json(map),
               {{stem, draw_place(map).png()}}},
              stem, folder, progress, options);
  if (progress.shown())
    remark("{} places, {:.1f} million rays in {:.1f} s\n", map.lattice.size(), map.effort.rays / 1e6,
           map.effort.seconds);
  return verdict_of(map) == WholeVerdict::met ? kAllMet : kNotAllMet;
}

}  // namespace

Run declare_place(CLI::App& app) {
  auto arguments = std::make_shared<PlaceArguments>();
  app.add_option("SCENE", arguments->scene, "The scene file (YAML)")->required();
  app.add_option("LAMP", arguments->lamp, "The name of one of its lamps")->required();
  app.add_option("-o,--output", arguments->folder, "Folder for the results (the scene's name without .yaml)")
      ->type_name("DIR");
  app.add_option("--step", arguments->step, "The most that places lie apart (about 1000 places a gap)")
      ->type_name("L");
  app.add_option("--gaps", arguments->gaps, "Gaps above the top, with commas between (5 to 30 cm)")
      ->type_name("L")
      ->delimiter(',');
  app.footer(
      "Examples:\n"
      "  boughlight place my-cage.yaml 'uv tube'              where may it hang?\n"
      "  boughlight place my-cage.yaml 'uv tube' --gaps 15,20 these gaps alone\n"
      "  boughlight place my-cage.yaml 'uv tube' --step 1     a finer map\n"
      "\n"
      "Hangs the lamp in thousands of places over the top, everything else as it is,\n"
      "and says where every want holds, how far it may be off from the best place, and\n"
      "which limits bound the region. Bare lengths are in the scene's unit; gaps are,\n"
      "unless told, every 5 cm or 2 in, and the present one.\n"
      "Writes place-LAMP.png, .html and .json. The exit code is 0 when every want\n"
      "can be met, 1 when not, or when one is not met that this lamp does not change.");
  return [arguments](const CommonOptions& options) { return run_place(*arguments, options); };
}

}  // namespace boughlight::cli
