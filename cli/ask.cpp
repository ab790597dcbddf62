#include "ask.h"

#include <fmt/format.h>

#include <algorithm>

#include "ask_answers.h"
#include "ask_lamps.h"
#include "ask_questions.h"
#include "units/units.h"

namespace boughlight::cli {
namespace {

constexpr double kLeastEdge = 0.1, kMostEdge = 5;  // of an enclosure, m

std::string without_extension(const std::string& name) {
  return name.substr(0, name.rfind('.'));
}

void ask_size(Questions& questions, Answers& answers) {
  const Sought edge = questions.length(kLeastEdge, kMostEdge);
  questions.say("Measured inside. If a dome of mesh stands on top, a fourth number is its height.");
  const auto size = questions.numbers(fmt::format("Width, depth and height, {}", questions.in_unit()),
                                      questions.inches() ? "24 18 40" : "60 45 100",
                                      {edge, edge, edge, questions.length(0.01, kMostEdge)}, 3);
  answers.width = size[0], answers.depth = size[1], answers.height = size[2];
  if (size.size() > 3) answers.dome = size[3];
}

void ask_mesh(Questions& questions, Answers& answers) {
  const std::string known =
      questions.word("What you know of the mesh", {"hole-and-wire", "readings", "nothing"}, "nothing");
  if (known == "nothing") return;
  answers.mesh = "top-mesh";
  if (known == "hole-and-wire") {
    const Sought part{Dimension::length, questions.inches() ? "in" : "mm", 1e-5, 0.1};
    const auto sizes =
        questions.numbers(fmt::format("Clear width of a hole and thickness of the wire, {}",
                                      questions.inches() ? "in inches, such as 1/16 0.011" : "in mm"),
                          questions.inches() ? "0.047 0.011" : "1.2 0.28", {part, part}, 2);
    answers.own_mesh =
        fmt::format("{{surface: mesh, wire: {} mm, pitch: {} mm, reflectance: 0.3}}",
                    print_number(sizes[1] * 1e3, 5), print_number((sizes[0] + sizes[1]) * 1e3, 5));
    return;
  }
  questions.say("To measure: lamp warm, the meter lying still below it; read it, hold a piece of the mesh");
  questions.say("flat over it, a hand's breadth away, and read it again.");
  const Sought reading{Dimension::number, "", 1e-9, 1e9};
  const auto readings = questions.numbers("The reading without the mesh, and with it", "10 6.5",
                                          {reading, reading}, 2, [](const std::vector<double>& found) {
                                            return found[1] <= found[0]
                                                       ? ""
                                                       : fmt::format(
                                                             "{} with the mesh is more than {} without it, "
                                                             "and a mesh adds no light: without it first",
                                                             print_number(found[1]), print_number(found[0]));
                                          });
  answers.own_mesh =
      fmt::format("{{surface: mesh, transmittance: {}}}", print_number(readings[1] / readings[0], 4));
}

void ask_faces(Questions& questions, Answers& answers) {
  const auto faces = questions.words(
      "Sides and back, and the front: wood, cork, glass or mesh", {"wood", "cork", "glass", "mesh"},
      "wood glass",
      [](const auto& found) { return found.size() == 2 ? "" : "two words are needed, such as: wood glass"; });
  const auto material = [&](const std::string& face) {
    return face == "wood"    ? "birch-ply"
           : face == "glass" ? "glass-4mm"
           : face == "mesh"  ? answers.mesh
                             : face;
  };
  answers.walls = material(faces[0]), answers.front = material(faces[1]);
}

// The animal first: what room it needs says how high the branch may be.
void ask_branch(Questions& questions, Answers& answers) {
  constexpr double kSpare = 0.01, kLeastBack = 0.002;  // m
  const double usual_back = questions.usual(4, 1.5);
  answers.back =
      questions.numbers("Height of the animal's back above what it sits on, " + questions.in_unit(),
                        questions.text(std::min(usual_back, questions.rounded_down(answers.top() / 2))),
                        {questions.length(kLeastBack, answers.top() / 2)}, 1)[0];
  const double thick = questions.usual(2.5, 1);
  const double highest = answers.top() - answers.back - thick / 2 - kSpare;
  const auto usual = [&](double share) {
    return questions.text(questions.rounded_down(std::min(share * answers.height, highest)));
  };
  const Sought height = questions.length(0.005, kMostEdge * 2);
  const auto branch = questions.numbers(
      fmt::format("Basking branch, {}: height of its left end, of its right end, thickness",
                  questions.in_unit()),
      fmt::format("{} {} {}", usual(0.68), usual(0.74), questions.text(thick)),
      {height, height, questions.length(0.001, 0.5)}, 3,
      [&](const std::vector<double>& found) -> std::string {
        const double back = std::max(found[0], found[1]) + found[2] / 2 + answers.back;
        if (back > answers.top() - 1e-3)
          return fmt::format("the animal's back on it would be at {}, and the top is at {}: give lower ends",
                             questions.text(back), questions.length_text(answers.top()));
        if (std::min(found[0], found[1]) < found[2] / 2)
          return "its lower end would be in the floor: give higher ends";
        return "";
      });
  answers.left = branch[0], answers.right = branch[1], answers.thick = branch[2];
}

void ask_limits(Questions& questions, Answers& answers) {
  questions.say("What an animal needs no program can tell: ask a vet and good sources, and start careful.");
  const Sought index{Dimension::number, "", 0, 100};
  const auto uvi = questions.numbers(
      "UV index on the branch, least and most, and the most anywhere in its reach", "1 4 7",
      {index, index, index}, 3, [](const std::vector<double>& found) -> std::string {
        if (found[0] > found[1])
          return fmt::format("the least, {}, is above the most, {}", print_number(found[0]),
                             print_number(found[1]));
        if (found[1] == 0) return "the most wanted must be above 0";
        if (found[2] < found[1])
          return fmt::format("{} anywhere is below the {} that is wanted on the branch: at least as much",
                             print_number(found[2]), print_number(found[1]));
        return "";
      });
  answers.least_uvi = uvi[0], answers.most_uvi = uvi[1], answers.never_uvi = uvi[2];
}

}  // namespace

std::vector<std::string> names_from_answers(const std::string& name) {
  std::vector<std::string> names = lamp_file_names(without_extension(name));
  names.insert(names.begin(), name);
  return names;
}

std::vector<AnsweredFile> scene_from_answers(const std::string& name, std::istream& in, std::ostream& ask) {
  ask << "A few questions make a first scene. Enter takes what stands in brackets; any length\n"
         "may carry its unit, as 18in or 45cm.\n\n";
  Questions questions(in, ask);
  Answers answers;
  std::vector<AnsweredFile> files(1);
  questions.unit = questions.word("Centimetres or inches", {"cm", "in"}, "cm");
  ask_size(questions, answers);
  ask_mesh(questions, answers);
  ask_faces(questions, answers);
  ask_branch(questions, answers);
  ask_lamps(questions, without_extension(name), answers, files);
  ask_limits(questions, answers);
  files.front() = {name, scene_text(questions, answers)};
  return files;
}

}  // namespace boughlight::cli
