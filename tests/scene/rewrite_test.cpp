// Values changed in a scene's text, all else kept byte by byte.
#include "scene/rewrite.h"

#include "stand_ins.h"

namespace boughlight {
namespace {

std::string read_whole(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

// The text of a file with some values changed.
template <class Edit>
std::string rewritten(const std::string& text, const Edit& edit) {
  const TempFolder folder;
  const auto file = folder.write("scene.yaml", text);
  SceneText scene(file);
  edit(scene);
  const std::string changed = scene.text();
  EXPECT_EQ(read_whole(file), text) << "the file itself stays";
  return changed;
}

const std::string kCommented =
    "# My cage\n"
    "boughlight: 1   # the format\n"
    "\n"
    "lamps:\n"
    "  # the tube, bought in May\n"
    "  - name: tube     # T5\n"
    "    fixture: 'tube-a'   # old\n"
    "    over: {x: 20, y: 8 in, gap: 1.5}  # on the wire\n"
    "    dim: 85%\n"
    "  - {name: \"flood\", fixture: f, at: [10, 20, 30.5 cm], dim: 0.5}\n";

TEST(Rewrite, ChangesValuesAndKeepsEverythingElse) {
  const std::string changed = rewritten(kCommented, [](SceneText& text) {
    text.set("lamps[0].over.gap", "4.25");
    text.set("lamps[1].at[2]", "31 cm");
    text.set("lamps[0].fixture", "tube-b");
    text.set("lamps[0].dim", "70%");
    text.set("lamps[1].dim", "0.4");
  });
  std::string expected = kCommented;
  const auto swap = [&](const std::string& from, const std::string& to) {
    expected.replace(expected.find(from), from.size(), to);
  };
  swap("gap: 1.5", "gap: 4.25");
  swap("30.5 cm", "31 cm");
  swap("'tube-a'", "tube-b");
  swap("85%", "70%");
  swap("0.5}", "0.4}");
  EXPECT_EQ(changed, expected);
}

TEST(Rewrite, AddsEntriesBehindOthersInTheirOwnStyle) {
  const std::string changed = rewritten(kCommented, [](SceneText& text) {
    text.add("lamps[0]", "fixture", "aim", "[0.1, 0, -1]");
    text.set_or_add("lamps[1]", "fixture", "burned", "5 h");
    text.set_or_add("lamps[1]", "fixture", "dim", "1");
  });
  EXPECT_NE(changed.find("    fixture: 'tube-a'   # old\n    aim: [0.1, 0, -1]\n    over:"),
            std::string::npos)
      << changed;
  EXPECT_NE(changed.find("fixture: f, burned: 5 h, at: [10, 20, 30.5 cm], dim: 1}"), std::string::npos)
      << changed;
}

TEST(Rewrite, KeepsLineEndsAndByteOrderMarks) {
  const std::string dos =
      "\xEF\xBB\xBF"
      "boughlight: 1\r\nlamps:\r\n  - name: a\r\n    fixture: f # x\r\n    dim: 50 %\r\n";
  const std::string changed = rewritten(dos, [](SceneText& text) {
    text.set("lamps[0].dim", "60 %");
    text.add("lamps[0]", "fixture", "burned", "1 h");
    text.put_section("measured", {"measured:", "  lamps: {a: {factor: 2}}"}, "");
  });
  EXPECT_EQ(changed,
            "\xEF\xBB\xBF"
            "boughlight: 1\r\nlamps:\r\n  - name: a\r\n    fixture: f # x\r\n    burned: 1 h\r\n"
            "    dim: 60 %\r\nmeasured:\r\n  lamps: {a: {factor: 2}}\r\n");
}

TEST(Rewrite, FindsValuesBehindLettersOfSeveralBytes) {
  const std::string changed =
      rewritten("boughlight: 1\nlamps: [{name: Röhre 灯 über Ast, fixture: \"größer\", dim: 80 %}] # Ä\n",
                [](SceneText& text) {
                  text.set("lamps[0].dim", "75 %");
                  text.add("lamps[0]", "fixture", "burned", "2 h");
                });
  EXPECT_EQ(
      changed,
      "boughlight: 1\nlamps: [{name: Röhre 灯 über Ast, fixture: \"größer\", burned: 2 h, dim: 75 %}] # Ä\n");
}

TEST(Rewrite, PutsASectionAtTheEndAndReplacesItLater) {
  const std::vector<std::string> first = {"measured:", "  # found", "  lamps:", "    a: {factor: 1.1}"};
  const std::string once = rewritten("boughlight: 1\nsurvey: {seed: 2}  # last", [&](SceneText& text) {
    text.put_section("measured", first, "{lamps: {a: {factor: 1.1}}}");
  });
  EXPECT_EQ(
      once,
      "boughlight: 1\nsurvey: {seed: 2}  # last\nmeasured:\n  # found\n  lamps:\n    a: {factor: 1.1}\n");
  const std::string moved = once + "# a word on the air\nair: {day: 20 C}\n";
  const std::string twice = rewritten(moved, [](SceneText& text) {
    text.put_section("measured", {"measured:", "  lamps:", "    a: {factor: 1.2}"}, "");
  });
  EXPECT_EQ(twice,
            "boughlight: 1\nsurvey: {seed: 2}  # last\n# a word on the air\nair: {day: 20 C}\n"
            "measured:\n  lamps:\n    a: {factor: 1.2}\n");
}

TEST(Rewrite, PutsASectionIntoAFileThatIsOneFlowMapping) {
  const auto put = [](SceneText& text) { text.put_section("measured", {"measured: {a: 1}"}, "{a: 1}"); };
  EXPECT_EQ(rewritten("{boughlight: 1, title: x}\n", put), "{boughlight: 1, measured: {a: 1}, title: x}\n");
  EXPECT_EQ(rewritten("{boughlight: 1, measured: {b: {c: \"}\"}}, title: x}\n", put),
            "{boughlight: 1, measured: {a: 1}, title: x}\n");
}

TEST(Rewrite, RefusesWhatItCannotChangeByItself) {
  const TempFolder folder;
  SceneText folded(folder.write("folded.yaml", "boughlight: 1\ntitle: >\n  two\n  lines\n"));
  EXPECT_THROW(folded.set("title", "x"), InputError);
  SceneText broken(folder.write("broken.yaml", "boughlight: 1\ntitle: two\n  lines\n"));
  EXPECT_THROW(broken.set("title", "x"), InputError);
  EXPECT_THROW(SceneText(folder.write("anchor.yaml", "boughlight: 1\ntitle: &a x\n")), InputError);
  EXPECT_THROW(SceneText(folder.write("alias.yaml", "boughlight: 1\na: &a 1\ntitle: *a\n")), InputError);
}

TEST(Rewrite, SpellsNumbersAsTheFileDoes) {
  EXPECT_EQ(length_like("18 in", 0.5, "cm"), "19.685 in");
  EXPECT_EQ(length_like("18in", 0.4572, "cm"), "18in");
  EXPECT_EQ(length_like("45", 0.4625, "cm"), "46.25");
  EXPECT_EQ(length_like("", 0.4625, "cm"), "46.25");
  EXPECT_EQ(length_like("120", 1.2, "cm"), "120");
  EXPECT_EQ(ratio_like("85 %", 0.7), "70 %");
  EXPECT_EQ(ratio_like("85%", 0.705), "70.5%");
  EXPECT_EQ(ratio_like("0.85", 0.7), "0.7");
  EXPECT_EQ(ratio_like("", 0.7), "70 %");
}

TEST(Rewrite, QuotesTextThatYamlWouldTakeForMore) {
  EXPECT_EQ(yaml_text("uv tube"), "uv tube");
  EXPECT_EQ(yaml_text("a: b"), "\"a: b\"");
  EXPECT_EQ(yaml_text("say \"x\""), "\"say \\\"x\\\"\"");
  EXPECT_EQ(yaml_text("- x"), "\"- x\"");
  EXPECT_EQ(yaml_text("Röhre"), "Röhre");
  EXPECT_EQ(yaml_text("null"), "\"null\"");
  EXPECT_EQ(yaml_text(""), "\"\"");
}

}  // namespace
}  // namespace boughlight
