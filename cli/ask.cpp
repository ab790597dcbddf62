#include "ask.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <istream>
#include <optional>
#include <ostream>
#include <sstream>

#include "commands.h"
#include "spectrum/library_path.h"
#include "units/problem.h"
#include "units/units.h"

namespace boughlight::cli {
namespace {

constexpr double kLeast = 0.01, kMost = 20;  // of an enclosure's edge, m

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(" \t\r");
  return first == std::string::npos ? "" : text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

class Questions {
 public:
  Questions(std::istream& answers, std::ostream& ask) : answers_(answers), ask_(ask) {}

  std::string unit = "cm";

  std::string word(const std::string& question, const std::vector<std::string>& words,
                   const std::string& usual) {
    return asked<std::string>(question + " (" + one_of(words) + ")", usual,
                              [&](const std::string& answer, std::string& why) -> std::optional<std::string> {
                                if (std::find(words.begin(), words.end(), answer) != words.end())
                                  return answer;
                                why = fmt::format("'{}' is none of them{}", answer,
                                                  did_you_mean(answer, words));
                                return std::nullopt;
                              });
  }

  std::string clock(const std::string& question, const std::string& usual) {
    return asked<std::string>(question, usual, [](const std::string& answer, std::string& why) {
      return parse_clock_spans(answer, why) ? std::optional(answer) : std::nullopt;
    });
  }

  // As many numbers as are asked for, apart by blanks or commas; lengths in metres.
  std::vector<double> numbers(const std::string& question, const std::string& usual, std::size_t count,
                              Dimension dimension, double least, double most, const std::string& bare) {
    return asked<std::vector<double>>(
        question, usual,
        [&](const std::string& answer, std::string& why) -> std::optional<std::vector<double>> {
          std::string spaced = answer;
          std::replace(spaced.begin(), spaced.end(), ',', ' ');
          std::istringstream words(spaced);
          std::vector<double> found;
          for (std::string one; words >> one;) {
            const auto value = parse_value(one, dimension, bare, why);
            if (!value) return std::nullopt;
            if (value->value < least || value->value > most) {
              why = fmt::format("'{}' is too {}", one, value->value < least ? "small" : "large");
              return std::nullopt;
            }
            found.push_back(value->value);
          }
          if (found.size() == count) return found;
          why = fmt::format("{} {} needed", count, count == 1 ? "number is" : "numbers are");
          return std::nullopt;
        });
  }
  std::vector<double> lengths(const std::string& question, const std::vector<double>& usual_m,
                              double least = kLeast, double most = kMost) {
    std::string usual;
    for (const double length : usual_m) usual += (usual.empty() ? "" : " ") + text(length);
    return numbers(fmt::format("{}, in {}", question, unit), usual, usual_m.size(), Dimension::length, least,
                   most, unit);
  }

  // A length in the unit that was chosen, without it; round enough to type.
  std::string text(double metres) const {
    std::string number = fmt::format("{:.2f}", metres / size_of_unit(unit, Dimension::length));
    while (number.back() == '0') number.pop_back();
    if (number.back() == '.') number.pop_back();
    return number;
  }
  std::string place(double x, double y, double z) const {
    return fmt::format("[{}, {}, {}]", text(x), text(y), text(z));
  }

 private:
  template <class Value, class Understand>
  Value asked(const std::string& question, const std::string& usual, Understand understand) {
    for (;;) {
      ask_ << question << " [" << usual << "]: " << std::flush;
      std::string line;
      if (!std::getline(answers_, line))
        throw CallError(fmt::format("the answers ended at '{}'; nothing was written", question));
      const std::string answer = trimmed(line).empty() ? usual : trimmed(line);
      std::string why;
      if (auto value = understand(answer, why)) return *value;
      ask_ << "  " << why << ". Again, please.\n";
    }
  }

  std::istream& answers_;
  std::ostream& ask_;
};

// The file of a lamp of the library with what the box says in place of its own reading.
std::string lamp_by_its_box(const std::string& library_name, double uvi, double distance_m) {
  std::ifstream in(library_path() / "lamps" / (library_name + ".yaml"));
  std::string text, line;
  while (std::getline(in, line)) {
    if (line.starts_with("title:")) line += ", as its box says";
    const std::size_t at = line.find("output: {uvi:");
    if (at != std::string::npos)
      line = fmt::format("{}output: {{uvi: {}, at: {} cm}}   # what the box says", line.substr(0, at),
                         print_number(uvi, 6), print_number(distance_m * 100, 6));
    text += line + '\n';
  }
  return text;
}

struct Answers {
  double width = 0, depth = 0, height = 0, dome = 0;
  std::string mesh = "mesh-fine", own_mesh, walls, front;
  double left = 0, right = 0, thick = 0, back = 0;
  std::string uv_lamp, uv_file, flood, plant_lamp, hours;
  double uv_gap = 0, flood_gap = 0;
  std::vector<double> uvi;
  double never = 0;
};

void ask_mesh(Questions& questions, Answers& answers) {
  const std::string known =
      questions.word("What do you know of the mesh", {"hole-and-wire", "readings", "nothing"}, "nothing");
  if (known == "nothing") return;
  answers.mesh = "top-mesh";
  if (known == "hole-and-wire") {
    const auto sizes =
        questions.numbers("Clear hole and wire, in mm", "1.2 0.28", 2, Dimension::length, 1e-5, 0.1, "mm");
    answers.own_mesh =
        fmt::format("{{surface: mesh, wire: {} mm, pitch: {} mm, reflectance: 0.3}}",
                    print_number(sizes[1] * 1e3, 5), print_number((sizes[0] + sizes[1]) * 1e3, 5));
    return;
  }
  for (;;) {
    const auto readings = questions.numbers("The same meter reading without and with the mesh", "10 6.5", 2,
                                            Dimension::number, 1e-9, 1e9, "");
    if (readings[1] > readings[0]) continue;  // asked again: a mesh adds no light
    answers.own_mesh =
        fmt::format("{{surface: mesh, transmittance: {}}}", print_number(readings[1] / readings[0], 4));
    return;
  }
}

void ask_lamps(Questions& questions, const std::string& stem, Answers& answers,
               std::vector<AnsweredFile>& files) {
  static const std::pair<std::string, const char*> kLamps[] = {
      {"tube", "tube-uv-55"}, {"compact", "compact-uv-23"}, {"mercury", "mercury-flood-100"}};
  const std::string kind =
      questions.word("The ultraviolet lamp", {"tube", "compact", "mercury", "none"}, "tube");
  for (const auto& [name, library] : kLamps) {
    if (name != kind) continue;
    answers.uv_lamp = library;
    const auto box = questions.numbers("UV index that its box or your meter gives (0: unknown)", "0", 1,
                                       Dimension::number, 0, 100, "");
    if (box[0] > 0) {
      const double at = questions.lengths("At which distance", {0.3}, 0.05, 2)[0];
      answers.uv_lamp = stem + "-uv.yaml";
      files.push_back({answers.uv_lamp, lamp_by_its_box(library, box[0], at)});
    }
    answers.uv_gap = questions.lengths("From its lowest part down to the top", {0.1}, 0, 2)[0];
  }
  const std::string watts = questions.word("The basking flood, watts", {"50", "75", "none"}, "50");
  if (watts != "none") {
    answers.flood = "halogen-flood-" + watts;
    answers.flood_gap = questions.lengths("From its lowest part down to the top", {0.2}, 0, 2)[0];
  }
  const std::string plant = questions.word("The plants' light", {"bar", "panel", "none"}, "bar");
  if (plant != "none") answers.plant_lamp = plant == "bar" ? "led-bar-24" : "led-panel-60";
  answers.hours = questions.clock("Hours that they are lit", "08:00-18:00");
}

std::string scene_text(const Questions& questions, const Answers& answers) {
  const auto text = [&](double metres) { return questions.text(metres); };
  const bool dome = answers.dome > 0;
  std::string out = fmt::format(
      "# A first scene, made from answers: change it line by line ('boughlight reference scene' has every "
      "field).\n"
      "boughlight: 1\ntitle: My enclosure\nlength_unit: {}\n\nenclosure:\n  - box: cage\n    size: {}\n",
      questions.unit, questions.place(answers.width, answers.depth, answers.height));
  out += fmt::format("    faces: {{floor: soil, back: {0}, left: {0}, right: {0}, front: {1}{2}}}\n",
                     answers.walls, answers.front, dome ? "" : ", top: " + answers.mesh);
  if (dome)
    out += fmt::format(
        "  - box: dome\n    size: {0}\n    faces: {{back: {1}, left: {1}, right: {1}, front: {1}, top: "
        "{1}}}\n",
        questions.place(answers.width, answers.depth, answers.dome), answers.mesh);
  if (!answers.own_mesh.empty())
    out += fmt::format("\nmaterials:\n  {}: {}\n", answers.mesh, answers.own_mesh);
  const double y = answers.depth / 2, middle = (answers.left + answers.right) / 2;
  out += fmt::format("\nbranches:\n  - {{name: bough, path: [{}, {}], diameter: {}, material: bark}}\n",
                     questions.place(0.1 * answers.width, y, answers.left),
                     questions.place(0.9 * answers.width, y, answers.right), text(answers.thick));
  const std::string uvi = fmt::format("[{}, {}]", print_number(answers.uvi[0]), print_number(answers.uvi[1]));
  out += fmt::format("\nperches:\n  - {{name: bough, at: {}, wants: {{uvi: {}}}}}\n",
                     questions.place(answers.width / 2, y, middle + answers.thick / 2), uvi);
  out += fmt::format(
      "\nanimal:\n  back: {}\n  reach: {}\n  basking: {{uvi: {}}}\n  refuge: {{uvi: {{max: {}}}}}\n  never: "
      "{{uvi: {}}}\n",
      text(answers.back), text(std::min(0.03, answers.back > 0 ? answers.back : 0.03)), uvi,
      print_number(answers.uvi[0] / 4), print_number(answers.never));
  out += "\nlamps:\n";
  const auto lamp = [&](const char* name, const std::string& fixture, double x, double gap,
                        const char* more) {
    if (fixture.empty()) return;
    out += fmt::format("  - {{name: {}, fixture: {}, over: {{x: {}, y: {}, gap: {}}}{}, lit: \"{}\"}}\n",
                       name, fixture, text(x), text(y), text(gap), more, answers.hours);
  };
  lamp("uv lamp", answers.uv_lamp, answers.width / 2, answers.uv_gap, ", along: x");
  lamp("basking flood", answers.flood, 0.35 * answers.width, answers.flood_gap, "");
  lamp("plant light", answers.plant_lamp, answers.width / 2, 0.05, ", along: x");
  if (out.ends_with("lamps:\n")) out.replace(out.size() - 1, 1, " []\n");
  return out +
         "\nroom: {lux: 150, spectrum: D65, lit: \"07:00-20:00\"}\nsurvey: {spacing: 5 cm, tolerance: 2 %, "
         "seed: 1}\n";
}

}  // namespace

std::vector<AnsweredFile> scene_from_answers(const std::string& name, std::istream& in, std::ostream& ask) {
  ask << "A few questions make a first scene. Enter takes what stands in brackets; any length\n"
         "may carry its unit, as 18in or 45cm.\n\n";
  Questions questions(in, ask);
  const std::string stem = name.substr(0, name.rfind('.'));
  Answers answers;
  std::vector<AnsweredFile> files(1);
  questions.unit = questions.word("Centimetres or inches", {"cm", "in"}, "cm");
  const auto size = questions.lengths("Width, depth and height inside", {0.6, 0.45, 1.0});
  answers.width = size[0], answers.depth = size[1], answers.height = size[2];
  if (questions.word("Is the screen top flat, or a dome of mesh", {"flat", "dome"}, "flat") == "dome")
    answers.dome = questions.lengths("Height of the dome", {0.2})[0];
  ask_mesh(questions, answers);
  const std::string walls = questions.word("Sides and back", {"wood", "cork", "glass", "mesh"}, "wood");
  answers.walls = walls == "wood"    ? "birch-ply"
                  : walls == "glass" ? "glass-4mm"
                  : walls == "mesh"  ? answers.mesh
                                     : walls;
  const std::string front = questions.word("The front", {"glass", "mesh", "wood"}, "glass");
  answers.front = front == "wood" ? "birch-ply" : front == "glass" ? "glass-4mm" : answers.mesh;
  const auto branch = questions.lengths("Height of the basking branch at its left and its right end",
                                        {0.68 * answers.height, 0.74 * answers.height}, 0.01, answers.height);
  answers.left = branch[0], answers.right = branch[1];
  answers.thick = questions.lengths("Its thickness", {0.025}, 0.001, 0.5)[0];
  answers.back = questions.lengths("Height of the animal's back above it", {0.04}, 0, 0.5)[0];
  ask_lamps(questions, stem, answers, files);
  do {
    answers.uvi =
        questions.numbers("UV index wanted at its back there, least and most (ask a vet and good sources)",
                          "1 4", 2, Dimension::number, 0, 50, "");
  } while (answers.uvi[0] > answers.uvi[1]);
  answers.never = questions.numbers("UV index that nothing in its reach may exceed", "7", 1,
                                    Dimension::number, 0, 100, "")[0];
  files.front() = {name, scene_text(questions, answers)};
  return files;
}

}  // namespace boughlight::cli
