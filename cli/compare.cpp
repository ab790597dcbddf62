// boughlight compare SCENE SCENE [-o DIR]

#include <fmt/format.h>

#include <filesystem>
#include <memory>
#include <string>

#include "assess/survey.h"
#include "commands.h"
#include "report/compare_report.h"
#include "report/plan_page.h"
#include "report/staging.h"
#include "report/stale.h"
#include "results_folder.h"
#include "scene/load.h"
#include "terminal.h"

namespace boughlight::cli {
namespace {

namespace fs = std::filesystem;

struct CompareArguments {
  std::string first, second;
  std::string folder;
};

// Both scenes' mistakes are told in one go.
std::pair<Scene, Scene> load_both(const CompareArguments& arguments) {
  std::optional<Scene> first;
  std::vector<Problem> problems;
  try {
    first = load_scene(arguments.first);
  } catch (const InputError& error) {
    problems = error.problems();
  }
  try {
    Scene second = load_scene(arguments.second);
    if (first) return {std::move(*first), std::move(second)};
  } catch (const InputError& error) {
    // The same file twice has the same mistakes.
    if (arguments.first != arguments.second)
      problems.insert(problems.end(), error.problems().begin(), error.problems().end());
  }
  throw InputError(problems);
}

void write_results(const Compared& compared, const fs::path& folder) {
  const std::string json = compare_json(compared), text = compare_text(compared);
  const std::vector<MapFile> maps = difference_maps(compared);
  const Scene& scene = compared.second.scene;
  PlanPage page{"compare", scene.title, scene.file, text, json, {}};
  for (const MapFile& map : maps) page.pictures.push_back({fs::path(map.name).stem().string(), map.bytes});
  std::vector<ResultFile> results{{folder / "compare.json", json},
                                  {folder / "compare.txt", text},
                                  {folder / "compare.html", plan_page_html(page)}};
  for (const MapFile& map : maps) results.push_back({folder / "maps" / map.name, map.bytes});
  Staging staging;
  for (const Survey* survey : {&compared.first, &compared.second}) staging.spare(survey->scene.read_from);
  for (const ResultFile& result : results) staging.write(result);
  for (const fs::path& file : stale_files(folder / "maps", names_of_files(maps), is_difference_map_name))
    staging.remove(file);
  staging.put_in_place();
}

int run_compare(const CompareArguments& arguments, const CommonOptions& options) {
  auto [first_scene, second_scene] = load_both(arguments);
  options.apply_to(first_scene.survey);
  options.apply_to(second_scene.survey);
  const bool writes = !arguments.folder.empty();
  const fs::path folder = writes ? results_folder(arguments.folder, arguments.second) : fs::path();

  constexpr double kTraced = 0.85;  // of the time; the rest goes into maps and files
  Progress progress(!options.quiet);
  SurveyControl control;
  control.threads = options.threads;
  control.cache = options.cache();
  const auto survey = [&](const Scene& scene, const std::string& which, double from) {
    if (const auto teller = progress.teller(kTraced))
      control.progress = [teller, which, from](const std::string& stage, double share) {
        teller(which + ": " + stage, from + share / 2);
      };
    return run_survey(scene, control);
  };
  const Survey first = survey(first_scene, "first", 0), second = survey(second_scene, "second", 0.5);
  const Comparison comparison = compare_surveys(first, second);
  const Compared compared{first, second, comparison};
  if (writes) {
    progress.show("drawing and writing", kTraced);
    write_results(compared, folder);
  }
  progress.wipe();

  if (options.json) {
    put(compare_json(compared) + "\n");
  } else if (!options.quiet) {
    put(compare_text(compared));
    if (writes) {
      put("\n" + item("Page", (folder / "compare.html").string() + " (open it in a browser)"));
      put(item("Maps", (folder / "maps").string() + "/ (what changed, the second less the first)"));
      put(item("Figures", (folder / "compare.json").string() + "; this text in compare.txt beside it"));
    }
  }
  return second.verdict == WholeVerdict::met ? kAllMet : kNotAllMet;
}

}  // namespace

Run declare_compare(CLI::App& app) {
  auto arguments = std::make_shared<CompareArguments>();
  app.add_option("FIRST", arguments->first, "The scene file (YAML) to start from")
      ->required()
      ->type_name("SCENE");
  app.add_option("SECOND", arguments->second, "The scene file to hold against it")
      ->required()
      ->type_name("SCENE");
  app.add_option("-o,--output", arguments->folder, "Folder for compare.html, .json, .txt and maps/*.png")
      ->type_name("DIR");
  app.footer(
      "Examples:\n"
      "  boughlight compare my-cage.yaml raised.yaml            on the terminal\n"
      "  boughlight compare my-cage.yaml raised.yaml -o raised  and its maps\n"
      "  boughlight compare a.yaml b.yaml --json | jq '.changes[]'\n"
      "\n"
      "Surveys both and tells what got better and what worse, by how many standard\n"
      "errors, changes of verdict first. Things are matched by name. The exit code is 0\n"
      "when the second scene meets every want, 1 when it does not, whatever the first\n"
      "does; 2 when a scene or the call is wrong.");
  return [arguments](const CommonOptions& options) { return run_compare(*arguments, options); };
}

}  // namespace boughlight::cli
