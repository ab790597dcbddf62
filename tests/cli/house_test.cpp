// The order of the house, and that README and guides say what is so.
#include <gtest/gtest.h>

#include <map>
#include <regex>
#include <sstream>

#include "program.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

const fs::path kRoot = BOUGHLIGHT_SOURCE_DIR;

// From the bottom up.
const std::vector<std::string> kRooms = {"units",     "spectrum", "scene", "geometry",
                                         "transport", "assess",   "plan",  "report"};

struct Include {
  fs::path file;     // from the root of the project
  std::string room;  // of the file; "cli" above all others
  std::string name;  // what is included
};

std::vector<Include> all_includes() {
  static const std::regex kInclude(R"re(^\s*#\s*include\s*["<]([^">]+)[">])re");
  std::vector<Include> includes;
  for (const char* top : {"engine", "cli"}) {
    for (const auto& entry : fs::recursive_directory_iterator(kRoot / top)) {
      const std::string extension = entry.path().extension().string();
      if (extension != ".h" && extension != ".cpp" && extension != ".in") continue;
      const fs::path file = fs::relative(entry.path(), kRoot);
      const std::string room = top == std::string("cli") ? "cli" : std::next(file.begin())->string();
      std::istringstream lines(read_file(entry.path()));
      std::smatch match;
      for (std::string line; std::getline(lines, line);) {
        if (std::regex_search(line, match, kInclude)) includes.push_back({file, room, match[1]});
      }
    }
  }
  return includes;
}

TEST(House, RoomsIncludeDownwardsOnly) {
  const auto height = [](const std::string& room) {
    return std::find(kRooms.begin(), kRooms.end(), room) - kRooms.begin();
  };
  std::size_t checked = 0;
  for (const Include& include : all_includes()) {
    const std::string target = include.name.substr(0, include.name.find('/'));
    if (std::find(kRooms.begin(), kRooms.end(), target) == kRooms.end()) continue;
    ++checked;
    EXPECT_LE(height(target), height(include.room)) << include.file << " includes " << include.name;
  }
  EXPECT_GT(checked, 50u);
}

// Two types of one name in one namespace are one type to the linker: whichever room's copy of
// std::vector<Type> it keeps then serves both.
TEST(House, HeadersNameEachTypeOnce) {
  static const std::regex kType(R"re(^(?:struct|class|union) (\w+)(?: final)?(?: :.*)? \{)re");
  std::map<std::string, fs::path> owners;
  for (const char* top : {"engine", "cli"})
    for (const auto& entry : fs::recursive_directory_iterator(kRoot / top)) {
      if (entry.path().extension() != ".h") continue;
      std::istringstream lines(read_file(entry.path()));
      std::smatch match;
      for (std::string line; std::getline(lines, line);)
        if (std::regex_search(line, match, kType)) {
          const auto [at, is_new] = owners.try_emplace(match[1], entry.path());
          EXPECT_TRUE(is_new) << match[1] << " is in " << at->second << " and in " << entry.path();
        }
    }
  EXPECT_GT(owners.size(), 100u);
}

// Two stages of one number draw the same random numbers: their errors then go together.
TEST(House, StagesHaveNumbersOfTheirOwn) {
  static const std::regex kStage(R"re(^  (k\w+Stage) = (\d+),)re");
  std::map<std::string, std::string> owners;
  for (const char* list : {"assess/stages.h", "plan/stages.h"}) {
    std::istringstream lines(read_file(kRoot / "engine" / list));
    std::smatch match;
    for (std::string line; std::getline(lines, line);)
      if (std::regex_search(line, match, kStage)) {
        const auto [at, is_new] = owners.try_emplace(match[2], match[1]);
        EXPECT_TRUE(is_new) << match[1] << " has the number of " << at->second;
      }
  }
  EXPECT_GT(owners.size(), 30u);
}

TEST(House, EachLibraryIsNamedInItsOwnRoomsOnly) {
  const std::vector<std::pair<std::string, std::vector<std::string>>> rules = {
      {"yaml-cpp/", {"scene"}},
      {"tiny_obj_loader", {"scene"}},
      {"embree", {"geometry", "transport"}},
      {"nlopt", {"plan"}},
      {"stb", {"report"}},
      {"libdeflate", {"report"}},
      {"nlohmann/", {"report"}},
      {"CLI/", {"cli"}},
      {"pugixml", {"spectrum", "report"}},
      {"xxhash", {"transport"}}};
  std::map<std::string, int> seen;
  for (const Include& include : all_includes()) {
    for (const auto& [prefix, rooms] : rules) {
      if (include.name.rfind(prefix, 0) != 0) continue;
      ++seen[prefix];
      EXPECT_NE(std::find(rooms.begin(), rooms.end(), include.room), rooms.end())
          << include.file << " includes " << include.name;
    }
  }
  EXPECT_EQ(seen.size(), rules.size()) << "a rule about a library that nothing includes says nothing";
}

// The first YAML block of a guide, whatever stands behind the word.
std::string yaml_block(const std::string& guide) {
  const std::string text = read_file(kRoot / "cli" / "guides" / guide);
  std::size_t at = text.find("```yaml");
  if (at == std::string::npos) return "";
  at = text.find('\n', at) + 1;
  return text.substr(at, text.find("```", at) - at);
}

TEST(Guides, TheirSceneIsSound) {
  const TemporaryFolder folder;
  write_file(folder / "guide.yaml", yaml_block("scene.md"));
  const Outcome check = boughlight_run({"check", folder / "guide.yaml"});
  EXPECT_EQ(check.code, 0) << check.err;
  EXPECT_TRUE(contains(check.out, "Reading-room cabinet")) << check.out;
}

TEST(Guides, TheirLampIsSound) {
  const TemporaryFolder folder;
  write_file(folder / "guide-lamp.yaml", yaml_block("lamp-file.md"));
  const Outcome sheet = boughlight_run({"fixture", folder / "guide-lamp.yaml"});
  EXPECT_EQ(sheet.code, 0) << sheet.err;
  EXPECT_TRUE(contains(sheet.out, "UV tube")) << sheet.out;
}

TEST(Readme, NamesEveryCommand) {
  const std::string readme = read_file(kRoot / "README.md");
  const std::string help = boughlight_run({"--help"}).out;
  const std::size_t list = help.find("Commands:");
  ASSERT_NE(list, std::string::npos);
  std::istringstream lines(help.substr(help.find('\n', list) + 1));
  std::size_t count = 0;
  for (std::string line; std::getline(lines, line) && line.rfind("  ", 0) == 0;) {
    if (line[2] == ' ') continue;  // a purpose that runs on
    const std::string name = line.substr(2, line.find(' ', 2) - 2);
    EXPECT_TRUE(contains(readme, "`boughlight " + name)) << name;
    ++count;
  }
  EXPECT_GE(count, 5u);
}

}  // namespace
}  // namespace boughlight
