// Files that are no readable YAML, and mappings whose keys are wrong.

#include "scene_files.h"

namespace boughlight {
namespace {

using Texts = std::vector<std::string>;

const std::string kKeys =
    "allowed: boughlight, title, length_unit, enclosure, materials, branches, boards, models, plants, "
    "perches, "
    "points, animal, zones, lamps, room, doubt, measured, air, workplaces, survey or outlook";

TEST(WrongText, ANameMayHaveAHundredLettersOfAnyAlphabet) {
  const auto mistakes = [](const std::string& letter, int count) {
    std::string name;
    for (int i = 0; i < count; ++i) name += letter;
    const Texts texts = TempFolder().mistakes(kCabinet + "points: [{name: " + name + ", at: [1, 1, 1]}]\n");
    return texts.empty() ? std::string() : texts[0].substr(texts[0].rfind("' is too long"));
  };
  for (const char* letter : {"a", "\u00e4", "\u6a39", "\U0001f98e"}) {
    EXPECT_EQ(mistakes(letter, 100), "") << letter;
    EXPECT_EQ(mistakes(letter, 101), "' is too long: at most 100 letters are allowed") << letter;
  }
}

TEST(WrongText, IsToldWithItsLine) {
  const TempFolder folder;
  const std::vector<WrongCase> cases = {
      {"", {"scene.yaml: is empty"}},
      {"\n\n# nothing\n", {"scene.yaml: is empty"}},
      {"# a remark\rboughlight: 1\r",
       {"scene.yaml:1:11: its lines end in a carriage return alone, as on old Macs: save it with the line "
        "ends of "
        "today"}},
      {"just words\n",
       {"scene.yaml:1:1: is 'just words'; a scene is a mapping that starts with 'boughlight: 1'"}},
      {"[1, 2]\n", {"scene.yaml:1:1: is a list; a scene is a mapping that starts with 'boughlight: 1'"}},
      {"boughlight: 1\ntitle: [a\n", {"scene.yaml:3:1: is not valid YAML: end of sequence flow not found"}},
      {"boughlight: 1\ntitle: a: b\n", {"scene.yaml:2:9: is not valid YAML: illegal map value"}},
      {"boughlight: 1\n\ttitle: a\n",
       {"scene.yaml:2:1: a tab stands before the first word of the line: indent with blanks only"}},
      {std::string("boughlight: 1\ntitle: a\0b\n", 25),
       {"scene.yaml:2:9: holds a control character: is this a text file?"}},
      {"boughlight: 1\ntitle: \xFF\xFE\n",
       {"scene.yaml:2:8: is not UTF-8 text: save the file as plain UTF-8 text"}},
      {"boughlight: 1\ntitle: \xC0\x80\n",
       {"scene.yaml:2:8: is not UTF-8 text: save the file as plain UTF-8 text"}},
      {"boughlight: 1\ntitle: \xED\xA0\x80\n",
       {"scene.yaml:2:8: is not UTF-8 text: save the file as plain UTF-8 text"}},
      {"boughlight: 1\ntitle: \"a\nlamps: []\n",
       {"scene.yaml:2:8: the quote that opens here is never closed"}},
      {"boughlight: 1\ntitle: 'it''s\n", {"scene.yaml:2:8: the quote that opens here is never closed"}},
      // Columns count characters, not bytes.
      {"boughlight: 1\ntitle: [K\u00e4fig, &a b]\n",
       {"scene.yaml:2:16: anchors ('&a') are not read: write values out where they are used"}},
      {"boughlight: 1\n---\nboughlight: 1\n",
       {"scene.yaml:2:1: a second document starts here ('---'): a file holds just one"}},
      {"boughlight: &one 1\n",
       {"scene.yaml:1:13: anchors ('&one') are not read: write values out where they are used"}},
      {"boughlight: 1\ntitle: *one\n",
       {"scene.yaml:2:8: is not valid YAML: the referenced anchor is not defined"}},
      {"boughlight: !!int 1\n", {"scene.yaml:1:13: tags ('!!name') are not read: leave them out"}},
      {"boughlight: 1\n? [a, b]\n: c\n", {"scene.yaml:2:3: a key must be a plain word"}},
      {"boughlight: 1\n~: c\n", {"scene.yaml:2:1: a key must be a plain word"}},
      {"a: " + std::string(45, '[') + std::string(45, ']'),
       {"scene.yaml:1:43: values are nested more than 40 deep"}},
      {"a: [" + std::string(300000, ',') + "]",
       {"scene.yaml:1:200002: the file holds more than 200000 values, the most that is read"}},
      {std::string((4 << 20) + 1, '#'), {"scene.yaml: is larger than 4 MiB, the most that is read"}},
  };
  for (const WrongCase& wrong : cases) {
    EXPECT_EQ(folder.mistakes(wrong.yaml), wrong.mistakes) << wrong.yaml.substr(0, 80);
  }
}

TEST(WrongText, ClosedQuotesOfEveryKindAreNotWrong) {
  const TempFolder folder;
  for (const char* title : {R"('it''s')", R"("a \" b")", R"('''')", R"("\\")", ">-\n  it's\n", "|-\n  \"half",
                            "\"two\n  lines\""}) {
    EXPECT_EQ(folder.mistakes(kCabinet + "title: " + title + "\n"), Texts()) << title;
  }
}

TEST(WrongText, DeepNestingIsRefusedBeforeItCostsAnything) {
  // The parser reads unclosed brackets as keys of mappings, each one level more.
  EXPECT_EQ(TempFolder().mistakes("a: " + std::string(20000, '[')),
            Texts{"scene.yaml:1:24: values are nested more than 40 deep"});
  std::string text;
  for (int i = 0; i < 2000; ++i) text += std::string(static_cast<std::size_t>(i), ' ') + "a:\n";
  EXPECT_EQ(TempFolder().mistakes(text), Texts{"scene.yaml:41:41: values are nested more than 40 deep"});
}

TEST(WrongVersion, IsTheOnlyMistakeTold) {
  const TempFolder folder;
  EXPECT_EQ(folder.mistakes("boughlight: 2\nnonsense: 3\n"),
            Texts{"scene.yaml:1:13: boughlight: is '2'; 1 is the only version of the format that is read"});
  EXPECT_EQ(folder.mistakes("fixture: 1\ntitle: a lamp\n"),
            Texts{"scene.yaml:1:1: is the file of a lamp, not of a scene: 'boughlight: 1' is missing"});
  EXPECT_EQ(folder.lamp_mistakes("boughlight: 1\n"),
            Texts{"lamp.yaml:1:1: is the file of a scene, not of a lamp: 'fixture: 1' is missing"});
  EXPECT_EQ(folder.mistakes("boughlight: 1.0\n"),
            Texts{"scene.yaml:1:13: boughlight: is '1.0'; 1 is the only version of the format that is read"});
}

TEST(WrongKeys, AreToldWithWhatIsAllowed) {
  expect_mistakes(
      TempFolder(),
      {{"perchs: []\n", {"scene.yaml:3:1: perchs: is an unknown key (did you mean 'perches'?); " + kKeys}},
       {"title: a\nlength_unit: cm\ntitle: b\n", {"scene.yaml:5:1: title: is given twice: first in line 3"}},
       {"title:\nlamps:\n",
        {"scene.yaml:3:1: title: is empty: give a value or leave the key out (what it is, for people)",
         "scene.yaml:4:1: lamps: is empty: give a value or leave the key out (the lamps)"}},
       {"title: ''\n", {"scene.yaml:3:8: title: is empty; a title is needed here"}},
       {"title: \"a\\nb\"\n",
        {"scene.yaml:3:8: title: holds a line break or another control character: write it on one line"}},
       {"title: [a]\n", {"scene.yaml:3:8: title: is a list; a title is needed here"}},
       {"length_unit: CM\n",
        {"scene.yaml:3:14: length_unit: is 'CM' (did you mean 'cm'?); m, cm, mm, in or ft is allowed"}},
       {"models: {name: a}\n", {"scene.yaml:3:9: models: is a mapping; a list of models is needed here"}},
       {"lamps: {name: a}\n", {"scene.yaml:3:8: lamps: is a mapping; a list of lamps is needed here"}},
       {"survey: 5\n",
        {"scene.yaml:3:9: survey: is '5'; a mapping with spacing, tolerance or seed is needed here"}}});
}

TEST(WrongKeys, MissingSectionsAreTold) {
  EXPECT_EQ(TempFolder().mistakes("title: a\n"),
            (Texts{"scene.yaml:1:1: 'boughlight' is missing: the version of the format: 1",
                   "scene.yaml:1:1: 'enclosure' is missing: the boxes, from the floor up"}));
}

TEST(WrongKeys, EveryMistakeOfAFileIsToldInItsOrder) {
  const auto mistakes = TempFolder().mistakes(kCabinet +
                                              "survey: {spacing: 0, seed: -1}\n"
                                              "points: [{name: a, at: [1, 2]}, {at: [1, 2, 3]}]\n"
                                              "colour: red\n");
  EXPECT_EQ(mistakes,
            (Texts{"scene.yaml:3:19: survey.spacing: '0' is not allowed: it must be from 2 mm to 1 m",
                   "scene.yaml:3:28: survey.seed: is '-1'; a whole number from 0 to 18446744073709551615 is "
                   "needed here",
                   "scene.yaml:4:24: points[0].at: is a list of 2; a place [x, y, z] is needed here",
                   "scene.yaml:4:33: points[1]: 'name' is missing: what it is called",
                   "scene.yaml:5:1: colour: is an unknown key; " + kKeys}));
}

TEST(WrongKeys, HundredsOfMistakesAreCounted) {
  std::string text = kCabinet;
  for (int i = 0; i < 700; ++i) text += "x" + std::to_string(i) + ": 1\n";
  const auto mistakes = TempFolder().mistakes(text);
  ASSERT_EQ(mistakes.size(), 501u);
  EXPECT_EQ(mistakes.back(), "200 more mistakes are not listed");
}

TEST(WrongNumbers, AreTold) {
  expect_mistakes(
      TempFolder(),
      {{"survey: {tolerance: .nan}\n", {"scene.yaml:3:21: survey.tolerance: '.nan' is not a finite number"}},
       {"survey: {tolerance: .inf}\n", {"scene.yaml:3:21: survey.tolerance: '.inf' is not a finite number"}},
       {"survey: {tolerance: 02}\n",
        {"scene.yaml:3:21: survey.tolerance: '02' starts with a zero, which some programs read as octal: "
         "leave "
         "the zero out"}},
       {"survey: {seed: 010}\n",
        {"scene.yaml:3:16: survey.seed: '010' starts with a zero, which some programs read as octal: leave "
         "the "
         "zero out"}},
       {"survey: {seed: 0x10}\n",
        {"scene.yaml:3:16: survey.seed: is '0x10'; a whole number from 0 to 18446744073709551615 is needed "
         "here"}},
       {"survey: {seed: 1.5}\n",
        {"scene.yaml:3:16: survey.seed: is '1.5'; a whole number from 0 to 18446744073709551615 is needed "
         "here"}},
       {"survey: {tolerance: yes}\n", {"scene.yaml:3:21: survey.tolerance: 'yes' is not a number"}},
       {"survey: {tolerance: 2}\n",
        {"scene.yaml:3:21: survey.tolerance: '2' is not allowed: it must be from 0.0005 to 0.5 (1 is 100 "
         "%)"}},
       {"survey: {spacing: 3 parsecs}\n",
        {"scene.yaml:3:19: survey.spacing: '3 parsecs' has an unknown unit; lengths take m, cm, mm, um, in, "
         "inch or ft"}},
       {"survey: {spacing: [5]}\n",
        {"scene.yaml:3:19: survey.spacing: is a list; a length such as 12 cm is needed here"}},
       {"survey: {spacing: 5000 km}\n",
        {"scene.yaml:3:19: survey.spacing: '5000 km' has an unknown unit; lengths take m, cm, mm, um, in, "
         "inch "
         "or ft"}},
       {"survey: {spacing: 2 mm}\n",
        {"scene.yaml:3:9: survey: a spacing of 0.2 cm makes 68 100 000 cells; at most 20 000 000 are "
         "allowed"}}});
}

}  // namespace
}  // namespace boughlight
