// boughlight new FILE [--ask]

#include <fmt/format.h>

#include <filesystem>
#include <iostream>
#include <memory>
#include <string>

#include "ask.h"
#include "commands.h"
#include "report/inventory.h"
#include "report/write.h"
#include "scene/load.h"
#include "starter.h"
#include "survey.h"
#include "terminal.h"

namespace boughlight::cli {
namespace {

namespace fs = std::filesystem;

void require_free(const fs::path& file) {
  std::error_code ignored;
  // A folder that is not there is more likely a slip than a wish.
  const fs::path folder = file.parent_path().empty() ? fs::path(".") : file.parent_path();
  if (!fs::is_directory(folder, ignored))
    throw OutputError(fmt::format("'{}' could not be written; is its folder there, and may you write in it?",
                                  file.string()));
  if (fs::exists(fs::symlink_status(file, ignored)))
    throw CallError(
        fmt::format("'{}' exists already and is left as it is; choose another name", file.string()));
}

// Asks, writes, has the scene read again, and surveys it.
int run_questions(const fs::path& file, const CommonOptions& options) {
  require_free(file);
  const std::vector<AnsweredFile> files = scene_from_answers(file.filename().string(), std::cin, std::cerr);
  for (const AnsweredFile& one : files) require_free(file.parent_path() / one.name);
  std::vector<ResultFile> results;
  for (const AnsweredFile& one : files) results.push_back({file.parent_path() / one.name, one.text});
  write_files(results);
  if (!options.quiet && !options.json)
    put(fmt::format("{} is written. Surveying it now.\n\n", file.string()));
  return survey_scene(file, {}, options);
}

int run(const std::string& file, const CommonOptions& options) {
  require_free(file);
  write_files({{file, kStarterScene}});
  if (options.json) {
    put(written_json(file) + "\n");
  } else if (!options.quiet) {
    put(
        fmt::format("{} is written. Open it in a text editor: every field says what it means.\n"
                    "Then: boughlight survey {}\n",
                    file, file));
  }
  return kAllMet;
}

}  // namespace

Run declare_new(CLI::App& app) {
  auto file = std::make_shared<std::string>();
  app.add_option("FILE", *file, "Name of the scene to write; it must not exist yet")->required();
  auto ask = std::make_shared<bool>(false);
  app.add_flag("--ask", *ask, "Ask some plain questions, write the scene and survey it");
  app.footer(
      "Examples:\n"
      "  boughlight new my-cage.yaml --ask\n"
      "  boughlight new my-cage.yaml\n"
      "  boughlight survey my-cage.yaml\n"
      "\n"
      "The scene is a small planted cage with three lamps, invented for the demo. It\n"
      "can be surveyed as it stands; change it line by line into your own.");
  return [file, ask](const CommonOptions& options) {
    return *ask ? run_questions(*file, options) : run(*file, options);
  };
}

}  // namespace boughlight::cli
