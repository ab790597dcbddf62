#include "written_scene.h"

#include <fmt/format.h>
#include <unistd.h>

#include "commands.h"
#include "report/staging.h"
#include "report/write.h"
#include "scene/load.h"

namespace boughlight::cli {

namespace fs = std::filesystem;

namespace {

fs::path page_of(fs::path scene) {
  return scene.replace_extension(".html");
}

}  // namespace

fs::path place_for_scene(const fs::path& scene, const std::string& given, const std::string& ending,
                         bool overwrite, const std::vector<fs::path>& read) {
  fs::path file = given;
  if (given.empty()) {
    file = scene;
    const std::string extension = scene.extension() == ".yml" ? ".yml" : ".yaml";
    file.replace_filename(scene.stem().string() + ending + extension);
  }
  std::error_code ignored;
  if (file == page_of(file))
    throw CallError(fmt::format(
        "'{}' is what its page would be called: name a file that ends in .yaml with -o", file.string()));
  for (const fs::path& written : {file, page_of(file)}) {
    if (fs::equivalent(written, scene, ignored))
      throw CallError(fmt::format("'{}' is the scene itself, which stays as it is: name another file with -o",
                                  written.string()));
    for (const fs::path& other : read)
      if (fs::equivalent(written, other, ignored))
        throw CallError(fmt::format(
            "'{}' would be written over, and the scene is read with it: name another file with -o",
            written.string()));
    if (!overwrite && fs::exists(fs::symlink_status(written, ignored)))
      throw CallError(
          fmt::format("'{}' exists already and is left as it is; name another with -o, or give --overwrite",
                      written.string()));
  }
  const fs::path folder = file.parent_path().empty() ? fs::path(".") : file.parent_path();
  if (!fs::is_directory(folder, ignored) || access(folder.c_str(), W_OK | X_OK) != 0)
    throw OutputError(
        fmt::format("'{}' cannot be written: is its folder there, and may you write in it?", file.string()));
  // Files that a scene names are found from where it lies.
  if (!fs::equivalent(folder, scene.parent_path().empty() ? fs::path(".") : scene.parent_path(), ignored))
    throw CallError(
        fmt::format("'{}' lies in another folder than the scene, from which the files that it names would "
                    "not be found",
                    file.string()));
  return file;
}

fs::path write_scene(const fs::path& file, const std::string& text, const PlanPage& page) {
  try {
    load_scene(file, text);
  } catch (const InputError& error) {
    throw OutputError(
        fmt::format("'{}' is not written, since it would not load again: {}", file.string(), error.what()));
  }
  const fs::path html = page_of(file);
  write_files({{file, text}, {html, plan_page_html(page)}});
  return html;
}

}  // namespace boughlight::cli
