// Pipes, devices and folders where a file is wanted: every reader says so and waits for nothing.
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <functional>

#include "scene/csv_file.h"
#include "scene/load.h"
#include "scene/obj_file.h"
#include "scene_files.h"
#include "spectrum/lm63.h"
#include "spectrum/table.h"
#include "spectrum/tm27.h"

namespace boughlight {
namespace {

struct NamedReader {
  const char* name;
  std::function<void(const std::string&)> read;
};

const std::vector<NamedReader> kReaders = {
    {"scene", [](const std::string& file) { load_scene(file); }},
    {"lamp", [](const std::string& file) { load_fixture(file, "/"); }},
    {"model", [](const std::string& file) { read_obj(file); }},
    {"readings", [](const std::string& file) { read_csv_file(file); }},
    {"table", [](const std::string& file) { read_table_file(file); }},
    {"spectrum", [](const std::string& file) { read_plain_table_file(file, Between::linear, Beyond::zero); }},
    {"TM-27", [](const std::string& file) { read_tm27_file(file, SpectrumUse::emission, Beyond::zero); }},
    {"LM-63", [](const std::string& file) { read_lm63(file); }},
};

std::string told(const NamedReader& reader, const std::string& file) {
  try {
    reader.read(file);
  } catch (const InputError& error) {
    return error.what();
  }
  return "no mistake found";
}

TEST(SpecialFile, IsToldByEveryReader) {
  const TempFolder folder;
  const auto named = [&](const char* name) { return (folder.path() / name).string(); };
  const std::string pipe = named("pipe.yaml"), zeros = named("zeros.yaml"), inside = named("folder.yaml"),
                    none = named("none.yaml");
  ASSERT_EQ(mkfifo(pipe.c_str(), 0600), 0);
  std::filesystem::create_directory(inside);
  std::filesystem::create_symlink("/dev/zero", zeros);
  for (const NamedReader& reader : kReaders) {
    EXPECT_EQ(told(reader, pipe), pipe + ": is not a regular file") << reader.name;
    EXPECT_EQ(told(reader, zeros), zeros + ": is not a regular file") << reader.name;
    EXPECT_EQ(told(reader, inside), inside + ": is a folder, not a file") << reader.name;
    if (reader.name != std::string("lamp")) {
      EXPECT_EQ(told(reader, none), none + ": there is no such file") << reader.name;
    }
  }
}

}  // namespace
}  // namespace boughlight
