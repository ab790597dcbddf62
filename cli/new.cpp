// boughlight new FILE [--ask]

#include <fmt/format.h>

#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <memory>
#include <string>
#include <vector>

#include "ask.h"
#include "commands.h"
#include "report/inventory.h"
#include "report/write.h"
#include "scene/load.h"
#include "starter.h"
#include "survey.h"
#include "terminal.h"
#include "units/problem.h"

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

// The text with the line by which editors find its schema, and how to make that.
std::string with_editor_line(const char* kind, const std::string& text) {
  return fmt::format(
             "# yaml-language-server: $schema={0}.schema.json\n"
             "# With that line an editor for YAML shows what fields mean and marks mistakes, once you have "
             "run here\n"
             "#   boughlight schema {0} > {0}.schema.json\n",
             kind) +
         text;
}

// A folder for as long as it lives.
class PassingFolder {
 public:
  PassingFolder() {
    std::error_code ignored;
    const fs::path folder = fs::temp_directory_path(ignored);
    std::string name = (folder / "boughlight-XXXXXX").string();
    if (folder.empty() || !mkdtemp(name.data()))
      throw OutputError(
          "no folder for passing files ($TMPDIR, or /tmp) can be written in, to try the scene there");
    path_ = name;
  }
  ~PassingFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  PassingFolder(const PassingFolder&) = delete;
  PassingFolder& operator=(const PassingFolder&) = delete;

  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

// Throws CallError where the files do not make a scene that can be read. They are tried elsewhere, so that
// none that is broken is left.
void require_sound(const std::vector<AnsweredFile>& files) {
  const PassingFolder folder;
  std::vector<ResultFile> tried;
  for (const AnsweredFile& one : files) tried.push_back({folder.path() / one.name, one.text});
  write_files(tried);
  try {
    load_scene(folder.path() / files.front().name);
  } catch (const InputError& error) {
    std::string why;
    for (const Problem& problem : error.problems()) why += "\n  " + problem.path + ": " + problem.text;
    throw CallError("the answers make no scene that can be read, so nothing was written:" + why);
  }
}

// Asks, writes, has the scene read again, and surveys it.
int run_questions(const fs::path& file, const CommonOptions& options) {
  const std::string name = file.filename().string();
  for (const std::string& one : names_from_answers(name)) require_free(file.parent_path() / one);
  std::vector<AnsweredFile> files = scene_from_answers(name, std::cin, std::cerr);
  for (std::size_t i = 0; i < files.size(); ++i)
    files[i].text = with_editor_line(i == 0 ? "scene" : "fixture", files[i].text);
  require_sound(files);
  std::vector<ResultFile> results;
  for (const AnsweredFile& one : files) results.push_back({file.parent_path() / one.name, one.text});
  write_files(results);
  if (!options.quiet && !options.json) {
    std::string lamps;
    for (std::size_t i = 1; i < files.size(); ++i) lamps += (i > 1 ? ", " : "") + files[i].name;
    put(fmt::format("{} is written{}. Surveying it now.\n\n", file.string(),
                    lamps.empty() ? "" : ", and its lamps: " + lamps));
  }
  return survey_scene(file, {}, options);
}

int run_new(const std::string& file, const CommonOptions& options) {
  require_free(file);
  write_files({{file, with_editor_line("scene", kStarterScene)}});
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
    return *ask ? run_questions(*file, options) : run_new(*file, options);
  };
}

}  // namespace boughlight::cli
