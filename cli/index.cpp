// boughlight index FOLDER... [--scenes SCENE...] [-o DIR]

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <string>

#include "commands.h"
#include "result_names.h"
#include "results_folder.h"
#include "scene/load.h"
#include "survey_many.h"
#include "terminal.h"
#include "units/problem.h"

namespace boughlight::cli {
namespace {

namespace fs = std::filesystem;

struct IndexArguments {
  std::vector<std::string> folders;
  std::vector<std::string> scenes;
  std::string output;
};

bool holds_results(const fs::path& folder) {
  std::error_code unknown;
  return fs::is_regular_file(folder / "readings.json", unknown);
}

// Folders of results at any depth; none is looked for inside another.
std::vector<fs::path> results_below(const fs::path& top) {
  std::error_code error;
  if (!fs::is_directory(top, error)) throw CallError(fmt::format("'{}' is not a folder", top.string()));
  if (holds_results(top)) return {top};
  std::vector<fs::path> found;
  fs::recursive_directory_iterator entry(top, fs::directory_options::skip_permission_denied, error), end;
  for (; !error && entry != end; entry.increment(error)) {
    std::error_code unknown;
    if (!entry->is_directory(unknown) || !holds_results(entry->path())) continue;
    found.push_back(entry->path());
    entry.disable_recursion_pending();
  }
  if (error) throw CallError(fmt::format("'{}' cannot be read: {}", top.string(), error.message()));
  if (found.empty())
    throw CallError(
        fmt::format("there are no results in '{}': no readings.json in any folder below it", top.string()));
  return found;
}

// How `results` is reached from the index: by a relative path, so that all may be moved together.
std::string shown_from(const fs::path& index, const fs::path& results) {
  return fs::absolute(results)
      .lexically_normal()
      .lexically_relative(fs::absolute(index).lexically_normal())
      .generic_string();
}

IndexRow row_of_scene(const NamedScene& scene, const fs::path& folder, const fs::path& index) {
  try {
    load_scene(scene.file);
  } catch (const InputError& error) {
    return row_without(IndexState::failed, scene.file, error.what());
  }
  const fs::path results = folder / scene.name;
  if (!holds_results(results))
    return row_without(IndexState::missing, scene.file,
                       fmt::format("There are no results in '{}'.", results.string()));
  return row_of_results(results, shown_from(index, results));
}

fs::path without_last_slash(const std::string& folder) {
  const fs::path path = fs::path(folder).lexically_normal();
  return path.has_filename() ? path : path.parent_path();
}

int run_index(const IndexArguments& arguments, const CommonOptions& options) {
  std::vector<fs::path> folders;
  for (const std::string& folder : arguments.folders) {
    folders.push_back(without_last_slash(folder));
    std::error_code unknown;
    if (fs::exists(folders.back(), unknown) && !fs::is_directory(folders.back(), unknown))
      throw CallError(fmt::format("'{}' is not a folder", folders.back().string()));
  }
  const bool alone = folders.size() == 1 && !holds_results(folders[0]);
  if (arguments.output.empty() && !alone)
    throw CallError("say with -o where the index is to go: with one folder that holds others it goes there");
  if (!arguments.scenes.empty() && folders.size() != 1)
    throw CallError("--scenes needs one FOLDER, the one that their results are in");
  const fs::path index =
      results_folder(arguments.output.empty() ? folders[0].string() : arguments.output, "");

  std::vector<IndexRow> rows;
  if (!arguments.scenes.empty()) {
    for (const NamedScene& scene : named_scenes(arguments.scenes))
      rows.push_back(row_of_scene(scene, folders[0], index));
  } else {
    std::vector<fs::path> all;
    for (const fs::path& folder : folders)
      for (const fs::path& results : results_below(folder)) all.push_back(results);
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
    for (const fs::path& results : all) rows.push_back(row_of_results(results, shown_from(index, results)));
  }
  sort_by_name(rows);
  write_index(rows, index);
  // Those not surveyed yet may be many, and are alike.
  std::size_t missing = 0;
  for (const IndexRow& row : rows) {
    missing += row.state == IndexState::missing;
    if (row.state == IndexState::failed) remark("{}\n", row.problem);
  }
  if (missing > 0)
    remark("boughlight: {} of {} scenes have no results in '{}'; '{}' names them\n", missing, rows.size(),
           folders[0].string(), (index / "index.csv").string());
  put_index(rows, index, options);
  return code_of(rows);
}

}  // namespace

Run declare_index(CLI::App& app) {
  auto arguments = std::make_shared<IndexArguments>();
  app.add_option("FOLDER", arguments->folders, "Folders of results, or what holds such folders")
      ->required()
      ->type_name("DIR");
  app.add_option("--scenes", arguments->scenes, "Scenes that should be there: tells which are not")
      ->type_name("SCENE");
  app.add_option("-o,--output", arguments->output, "Folder for index.html, .csv and .json (FOLDER)")
      ->type_name("DIR");
  app.footer(
      "Examples:\n"
      "  boughlight index surveys                         of all results there\n"
      "  boughlight index surveys --scenes cages/*.yaml   and which have none\n"
      "  boughlight index attic/demo cellar/demo -o both  of results far apart\n"
      "\n"
      "Puts results side by side that were made one by one: by make, by GNU parallel,\n"
      "by a cluster's jobs. It is the index that 'boughlight survey A B ... -o FOLDER'\n"
      "writes. The exit code is that of the worst result; 2 where one is missing.");
  return [arguments](const CommonOptions& options) { return run_index(*arguments, options); };
}

}  // namespace boughlight::cli
