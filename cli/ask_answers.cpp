#include "ask_answers.h"

#include <fmt/format.h>

#include <algorithm>

#include "scene/rewrite.h"

namespace boughlight::cli {
namespace {

// The perch, as a share of the width, and where along the branch that is.
constexpr double kPerch = 0.37, kBranchFrom = 0.1, kBranchTo = 0.9;

std::string place(const Questions& questions, double x, double y, double z) {
  return fmt::format("[{}, {}, {}]", questions.text(x), questions.text(y), questions.text(z));
}

std::string enclosure_text(const Questions& questions, const Answers& answers) {
  const bool dome = answers.dome > 0;
  std::string out = fmt::format(
      "enclosure:\n  - box: cage\n    size: {0}\n"
      "    faces: {{floor: soil, back: {1}, left: {1}, right: {1}, front: {2}{3}}}\n",
      place(questions, answers.width, answers.depth, answers.height), answers.walls, answers.front,
      dome ? "" : ", top: " + answers.mesh);
  if (dome)
    out += fmt::format(
        "  - box: dome\n    size: {0}\n    faces: {{back: {1}, left: {1}, right: {1}, front: {1}, top: "
        "{1}}}\n",
        place(questions, answers.width, answers.depth, answers.dome), answers.mesh);
  if (!answers.own_mesh.empty())
    out += fmt::format("\nmaterials:\n  {}: {}\n", answers.mesh, answers.own_mesh);
  return out;
}

std::string branch_and_animal_text(const Questions& questions, const Answers& answers) {
  const double y = answers.depth / 2;
  std::string out = fmt::format(
      "branches:\n  - {{name: bough, path: [{}, {}], diameter: {}, material: bark}}\n",
      place(questions, kBranchFrom * answers.width, y, answers.left),
      place(questions, kBranchTo * answers.width, y, answers.right), questions.text(answers.thick));
  const double along = (kPerch - kBranchFrom) / (kBranchTo - kBranchFrom);
  const double upper = answers.left + along * (answers.right - answers.left) + answers.thick / 2;
  const std::string uvi =
      fmt::format("[{}, {}]", print_number(answers.least_uvi), print_number(answers.most_uvi));
  out += fmt::format("\nperches:\n  - {{name: bough, at: {}, wants: {{uvi: {}}}}}\n",
                     place(questions, kPerch * answers.width, y, upper), uvi);
  const double reach = questions.usual(3, 1);
  return out + fmt::format(
                   "\nanimal:\n  back: {}\n  reach: {}\n  basking: {{uvi: {}}}\n  refuge: {{uvi: {{max: "
                   "{}}}}}\n  never: {{uvi: {}}}\n",
                   questions.text(answers.back),
                   questions.text(answers.back > 0 ? std::min(reach, answers.back) : reach), uvi,
                   print_number(std::max(0.1, answers.least_uvi / 4)), print_number(answers.never_uvi));
}

// No lamp above another, which would keep its light: the plants' bar in front, the ultraviolet lamp in the
// middle, the flood at the back. Only a panel is too wide for that.
std::string lamps_text(const Questions& questions, const Answers& answers) {
  if (answers.lamps.empty()) return "lamps: []\n";
  // From middle line to middle line: a reflector and a flood are some 10 cm across.
  const double apart = questions.usual(11, 4.5);
  const double middle = answers.depth / 2, aside = std::min(apart, 0.35 * answers.depth);
  const bool ultraviolet = std::any_of(answers.lamps.begin(), answers.lamps.end(),
                                       [](const AnsweredLamp& lamp) { return is_ultraviolet(lamp.kind); });
  std::string out = "lamps:\n";
  for (const AnsweredLamp& lamp : answers.lamps) {
    double x = answers.width / 2, y = middle;
    if (lamp.kind == "bar") y = middle - aside;
    if (lamp.kind == "compact" || lamp.kind == "mercury") x = kPerch * answers.width;
    if (lamp.kind == "flood") x = 0.3 * answers.width, y = ultraviolet ? middle + aside : middle;
    const bool lies = lamp.kind == "tube" || lamp.kind == "bar" || lamp.kind == "panel";
    out +=
        fmt::format("  # {}\n  - {{name: {}, fixture: {}, over: {{x: {}, y: {}, gap: {}}}{}, lit: \"{}\"}}\n",
                    lamp.remark, lamp.name, yaml_text(lamp.fixture), questions.text(x), questions.text(y),
                    questions.text(lamp.gap), lies ? ", along: x" : "", answers.hours);
  }
  return out;
}

}  // namespace

bool is_ultraviolet(const std::string& kind) {
  return kind == "tube" || kind == "compact" || kind == "mercury";
}

std::string scene_text(const Questions& questions, const Answers& answers) {
  return fmt::format(
      "# A first scene, made from answers: change it line by line ('boughlight reference scene' has every "
      "field).\n"
      "boughlight: 1\ntitle: My enclosure\nlength_unit: {}\n\n{}\n{}\n{}"
      "\nroom: {{lux: 150, spectrum: D65, lit: \"07:00-20:00\"}}\nsurvey: {{spacing: 5 cm, tolerance: 2 %, "
      "seed: 1}}\n",
      questions.unit, enclosure_text(questions, answers), branch_and_animal_text(questions, answers),
      lamps_text(questions, answers));
}

}  // namespace boughlight::cli
