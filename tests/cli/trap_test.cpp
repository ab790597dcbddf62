// Files that are meant to hurt: each ends in a clear error within two seconds and a gibibyte.
#include <gtest/gtest.h>
#include <sys/stat.h>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostBytes = std::size_t{1} << 30;
#if defined(__has_feature)
#if __has_feature(address_sanitizer)
#define BOUGHLIGHT_WATCHED
#endif
#endif
#ifdef BOUGHLIGHT_WATCHED
// AddressSanitizer sets terabytes of addresses aside, and takes several times as long.
constexpr std::size_t kMostAddresses = 0;
constexpr double kMostProcessorSeconds = 20;
#else
constexpr std::size_t kMostAddresses = kMostBytes;
constexpr double kMostProcessorSeconds = 2;  // others may use the processor as well
#endif

Outcome run_bounded(const std::vector<std::string>& arguments, const fs::path& folder) {
  RunOptions options;
  options.folder = folder;
  options.most_memory = kMostAddresses;
  const Outcome outcome = boughlight_run(arguments, options);
  EXPECT_LT(outcome.cpu_seconds, kMostProcessorSeconds) << arguments.back();
  EXPECT_LT(outcome.peak_bytes, kMostBytes) << arguments.back();
  return outcome;
}

// The program says just this of the file, and that nothing was computed.
void expect_refused(const std::vector<std::string>& arguments, const fs::path& folder,
                    const std::string& told) {
  const Outcome outcome = run_bounded(arguments, folder);
  EXPECT_EQ(outcome.code, 2) << told;
  EXPECT_EQ(outcome.out, "") << told;
  EXPECT_EQ(outcome.err, told + "\nboughlight: 1 mistake in the input; nothing was computed\n");
}

struct Trap {
  std::string name, text, told;
};

std::string repeated(const std::string& text, std::size_t times) {
  std::string all;
  for (std::size_t i = 0; i < times; ++i) all += text;
  return all;
}

std::string utf16(const std::string& text) {
  std::string wide = "\xFF\xFE";
  for (const char c : text) wide += std::string{c, '\0'};
  return wide;
}

// Each level names the one before nine times: nine to the ninth values from a few hundred bytes.
std::string alias_bomb() {
  std::string text = "boughlight: 1\na0: &a0 [x, x, x, x, x, x, x, x, x]\n";
  for (int i = 1; i < 10; ++i) {
    const std::string one = "*a" + std::to_string(i - 1);
    text +=
        "a" + std::to_string(i) + ": &a" + std::to_string(i) + " [" + one + repeated(", " + one, 8) + "]\n";
  }
  return text;
}

TEST(Trap, OfYamlAreToldAtTheirPlace) {
  const TemporaryFolder folder;
  const std::string sound = read_file(write_crate(folder.path()));
  const std::vector<Trap> traps = {
      {"twice", sound + "title: another\n", "twice.yaml:15:1: title: is given twice: first in line 2"},
      {"octal", sound + "room: {lux: 0150}\n",
       "octal.yaml:15:13: room.lux: '0150' starts with a zero, which some programs read as octal: leave the "
       "zero out"},
      {"yes", sound + "room: {lux: yes}\n", "yes.yaml:15:13: room.lux: 'yes' is not a number"},
      {"no", sound + "doubt: {lamp: no}\n", "no.yaml:15:15: doubt.lamp: 'no' is not a number"},
      {"on", sound + "outlook: {months: on}\n", "on.yaml:15:19: outlook.months: 'on' is not a number"},
      {"tab", sound + "room:\n\tlux: 150\n",
       "tab.yaml:16:1: a tab stands before the first word of the line: indent with blanks only"},
      {"anchor", sound + "room: &r {lux: 150}\n",
       "anchor.yaml:15:7: anchors ('&r') are not read: write values out where they are used"},
      {"bomb", alias_bomb(),
       "bomb.yaml:2:5: anchors ('&a0') are not read: write values out where they are used"},
      {"merge", sound + "room:\n  lux: 150\n  <<: {lux: 150}\n",
       "merge.yaml:17:3: room.<<: is an unknown key; allowed: lux, spectrum or lit"},
      {"lists", "a: " + std::string(20000, '['), "lists.yaml:1:24: values are nested more than 40 deep"},
      {"closed", "a: " + std::string(20000, '[') + std::string(20000, ']'),
       "closed.yaml:1:43: values are nested more than 40 deep"},
      {"maps", "a: " + repeated("{a: ", 20000), "maps.yaml:1:160: values are nested more than 40 deep"},
      {"dashes", repeated("- ", 20000), "dashes.yaml:1:81: values are nested more than 40 deep"},
      {"binary",
       std::string("\x7f"
                   "ELF\x02\x01\x01\0\0\0\0",
                   11),
       "binary.yaml:1:1: holds a control character: is this a text file?"},
      {"utf16", utf16(sound), "utf16.yaml:1:1: is not UTF-8 text: save the file as plain UTF-8 text"},
      {"empty", "", "empty.yaml: is empty"},
      {"blank", " \n# nothing\n\n", "blank.yaml: is empty"},
      {"quote", "boughlight: 1\ntitle: \"" + repeated("a", 3 << 20) + "\n",
       "quote.yaml:2:8: the quote that opens here is never closed"},
      {"values", "a: [" + std::string(4'000'000, ',') + "]",
       "values.yaml:1:200002: the file holds more than 200000 values, the most that is read"},
  };
  for (const Trap& trap : traps) {
    write_file(folder.path() / (trap.name + ".yaml"), trap.text);
    expect_refused({"check", trap.name + ".yaml"}, folder.path(), trap.told);
  }
}

TEST(Trap, AByteOrderMarkIsNone) {
  const TemporaryFolder folder;
  const std::string sound = read_file(write_crate(folder.path()));
  write_file(folder.path() / "mark.yaml", "\xEF\xBB\xBF" + sound);
  EXPECT_EQ(run_bounded({"check", "mark.yaml"}, folder.path()).code, 0);
}

TEST(Trap, FilesThatAreTooLargeAreNotReadToTheirEnd) {
  const TemporaryFolder folder;
  // Full of blanks it would take its 100 MB of disk as well.
  write_file(folder.path() / "large.yaml", "boughlight: 1\n");
  fs::resize_file(folder.path() / "large.yaml", 100 << 20);
  write_file(folder.path() / "text.yaml",
             repeated("# as much text as a hundred megabytes hold\n", 2'400'000));
  for (const char* name : {"large.yaml", "text.yaml"})
    for (const char* command : {"check", "survey", "tune", "outlook"})
      expect_refused({command, name}, folder.path(),
                     std::string(name) + ": is larger than 4 MiB, the most that is read");
}

TEST(Trap, WhatIsNoFileIsToldAndNeverWaitedFor) {
  const TemporaryFolder folder;
  fs::create_directory(folder.path() / "folder.yaml");
  ASSERT_EQ(mkfifo((folder / "pipe.yaml").c_str(), 0600), 0);
  fs::create_symlink("loop.yaml", folder.path() / "loop.yaml");
  fs::create_symlink("/dev/zero", folder.path() / "zeros.yaml");
  const std::vector<std::pair<std::string, std::string>> traps = {
      {"none.yaml", "there is no such file"},
      {"folder.yaml", "is a folder, not a file"},
      {"pipe.yaml", "is not a regular file"},
      {"zeros.yaml", "is not a regular file"},
      {"/dev/zero", "is not a regular file"},
      {"loop.yaml", "cannot be read: Too many levels of symbolic links"},
  };
  for (const auto& [name, told] : traps)
    for (const char* command : {"check", "survey", "tune"})
      expect_refused({command, name}, folder.path(), name + ": " + told);
}

TEST(Trap, TheSameHoldsForWhatASceneNames) {
  const TemporaryFolder folder;
  const std::string sound = read_file(write_crate(folder.path()));
  ASSERT_EQ(mkfifo((folder / "pipe.yaml").c_str(), 0600), 0);
  ASSERT_EQ(mkfifo((folder / "pipe.obj").c_str(), 0600), 0);
  ASSERT_EQ(mkfifo((folder / "pipe.csv").c_str(), 0600), 0);
  write_file(folder.path() / "bomb.yaml", alias_bomb());
  const auto with = [&](const std::string& name, const std::string& from, const std::string& to) {
    std::string text = sound;
    text.replace(text.find(from), from.size(), to);
    write_file(folder.path() / name, text);
    return name;
  };
  expect_refused({"check", with("lamp-pipe.yaml", "bulb.yaml", "pipe.yaml")}, folder.path(),
                 "pipe.yaml: is not a regular file");
  expect_refused({"check", with("lamp-bomb.yaml", "bulb.yaml", "bomb.yaml")}, folder.path(),
                 "bomb.yaml:2:5: anchors ('&a0') are not read: write values out where they are used");
  write_file(folder.path() / "model.yaml",
             sound + "models: [{name: stump, file: pipe.obj, at: [20, 20, 0], material: black}]\n");
  expect_refused({"check", "model.yaml"}, folder.path(),
                 "model.yaml:15:30: models[0].file: 'pipe.obj' is a folder or a device, not a regular file");
  expect_refused({"fit", "crate.yaml", "pipe.csv"}, folder.path(), "pipe.csv: is not a regular file");
  expect_refused({"fixture", "./pipe.yaml"}, folder.path(), "pipe.yaml: is not a regular file");
}

}  // namespace
}  // namespace boughlight
