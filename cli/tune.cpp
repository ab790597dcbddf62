// boughlight tune SCENE [-o FILE]

#include <algorithm>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "commands.h"
#include "named_parts.h"
#include "plan/tune.h"
#include "report/tune_report.h"
#include "report/write.h"
#include "terminal.h"
#include "written_scene.h"

namespace boughlight::cli {
namespace {

struct TuneArguments {
  std::string scene, output;
  std::vector<std::string> keep, only;
  bool overwrite = false, further = false;
};

// The words that --only takes, as the help and the shells' completions find them.
std::string only_type() {
  std::string words;
  for (const TuneKind kind : kTuneKinds)
    words += (words.empty() ? "" : ",") + std::string(tune_kind_name(kind));
  return "WHAT:{" + words + "}";
}

std::set<TuneKind> kinds_of(const std::vector<std::string>& only) {
  std::set<TuneKind> kinds;
  std::vector<std::string> names;
  for (const TuneKind kind : kTuneKinds) names.emplace_back(tune_kind_name(kind));
  for (const std::string& word : only) {
    const auto at = std::find(names.begin(), names.end(), word);
    if (at == names.end())
      throw CallError("--only: '" + word + "' is not known" + did_you_mean(word, names) +
                      "; allowed: " + one_of(names));
    kinds.insert(kTuneKinds[static_cast<std::size_t>(at - names.begin())]);
  }
  return kinds.empty() ? std::set<TuneKind>(kTuneKinds.begin(), kTuneKinds.end()) : kinds;
}

int run_tune(const TuneArguments& arguments, const CommonOptions& options) {
  TuneControl control;
  control.kinds = kinds_of(arguments.only);
  control.further = arguments.further;
  control.threads = options.threads;
  PlannedScene planned = load_planned_scene(arguments.scene);
  options.apply_to(planned.scene.survey);
  for (const std::string& name : arguments.keep)
    control.keep.insert(planned.scene.lamps[lamp_named(planned.scene, name, "--keep")].name);
  const std::filesystem::path output = place_for_scene(arguments.scene, arguments.output, "-tuned",
                                                       arguments.overwrite, planned.scene.read_from);

  Progress progress(!options.quiet);
  if (progress.shown())
    control.progress = [&](const std::string& stage, double share) { progress.show(stage, share); };
  const Tune tune = tune_lamps(planned, control);
  progress.wipe();
  const bool changed = !tune.changes.empty();
  const Scene& scene = planned.scene;
  const std::string text = tune_summary(scene, tune);
  const std::string json = tune_json(scene, tune, changed ? output.string() : "");
  std::filesystem::path page;
  if (changed) {
    page = write_scene(output, tuned_scene_text(planned, tune),
                       {"tune", scene.title, scene.file, text, json, {}});
  }

  if (options.json) {
    put(json);
  } else if (!options.quiet) {
    put(text);
    if (changed) {
      put("\n" + item("New scene", output.string() + " (the scene that you gave stays as it is)"));
      put(item("Page", page.string() + " (open it in a browser)"));
    } else if (!arguments.output.empty()) {
      put("\n" + item("New scene", "none: '" + output.string() + "' was not written"));
    }
  }
  return tune.after == WholeVerdict::met ? kAllMet : kNotAllMet;
}

}  // namespace

Run declare_tune(CLI::App& app) {
  auto arguments = std::make_shared<TuneArguments>();
  app.add_option("SCENE", arguments->scene, "The scene file (YAML)")->required();
  app.add_option("-o,--output", arguments->output, "The new scene (the scene's name with -tuned)")
      ->type_name("FILE");
  app.add_flag("--overwrite", arguments->overwrite, "Replace the file of that name where there is one");
  app.add_option("--keep", arguments->keep, "A lamp that stays as it is; may be given again")
      ->type_name("LAMP");
  app.add_option("--only", arguments->only, "What may change; several with commas between (all)")
      ->type_name(only_type())
      ->delimiter(',');
  app.add_flag("--further", arguments->further, "Look for more slack where every want is met already");
  app.footer(
      "Examples:\n"
      "  boughlight tune my-cage.yaml             writes my-cage-tuned.yaml\n"
      "  boughlight tune my-cage.yaml --only dim,gap --keep 'plant panel'\n"
      "  boughlight tune my-cage.yaml --further -o safer.yaml\n"
      "\n"
      "Dimmers are turned only of lamps that declare 'dim'; lamps over the top may hang\n"
      "up to 30 cm higher; fixtures change among those under 'choose'. Comments and all\n"
      "else in the file stay. The exit code is 0 when every want is met then, else 1.");
  return [arguments](const CommonOptions& options) { return run_tune(*arguments, options); };
}

}  // namespace boughlight::cli
