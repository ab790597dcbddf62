// boughlight new FILE

#include <fmt/format.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <memory>
#include <string>

#include "commands.h"
#include "report/inventory.h"
#include "report/write.h"
#include "starter.h"
#include "terminal.h"

namespace boughlight::cli {
namespace {

namespace fs = std::filesystem;

// Written beside and renamed, so that a half-written scene never bears the name.
void write_whole(const fs::path& file, const std::string& text) {
  fs::path beside = file;
  beside += fmt::format(".{}.part", getpid());
  std::ofstream stream(beside, std::ios::binary);
  stream << text;
  stream.close();
  std::error_code failed;
  if (stream) fs::rename(beside, file, failed);
  if (!stream || failed) {
    std::error_code ignored;
    fs::remove(beside, ignored);
    throw OutputError(fmt::format("'{}' could not be written; is its folder there, and may you write in it?",
                                  file.string()));
  }
}

int run(const std::string& file, const CommonOptions& options) {
  std::error_code ignored;
  if (fs::exists(fs::symlink_status(file, ignored))) {
    throw CallError(fmt::format("'{}' exists already and is left as it is; choose another name", file));
  }
  write_whole(file, kStarterScene);
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
  app.footer(
      "Examples:\n"
      "  boughlight new my-cage.yaml\n"
      "  boughlight survey my-cage.yaml\n"
      "\n"
      "The scene is a small planted cage with three lamps, invented for the demo. It\n"
      "can be surveyed as it stands; change it line by line into your own.");
  return [file](const CommonOptions& options) { return run(*file, options); };
}

}  // namespace boughlight::cli
