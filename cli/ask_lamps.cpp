#include "ask_lamps.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

#include "ask_box.h"

namespace boughlight::cli {
namespace {

constexpr const char *kUv = "-uv.yaml", *kFlood = "-flood.yaml", *kPlants = "-plants.yaml";
constexpr double kDegree = std::numbers::pi / 180;

bool is_plants(const std::string& kind) {
  return kind == "bar" || kind == "panel";
}

// As "30 cm" or "12 in", for a file of a lamp.
std::string file_length(const Questions& questions, double metres) {
  return questions.text(metres) + " " + questions.unit;
}

std::vector<std::string> ask_kinds(Questions& questions) {
  questions.say("All that hang there: tube, compact or mercury for ultraviolet, flood, bar or panel");
  questions.say("for plants; or none.");
  std::vector<std::string> kinds = questions.words(
      "Lamps over the top", {"tube", "compact", "mercury", "flood", "bar", "panel", "none"}, "tube flood bar",
      [](const std::vector<std::string>& found) -> std::string {
        const auto count = [&](auto is) { return std::count_if(found.begin(), found.end(), is); };
        const auto none = count([](const std::string& kind) { return kind == "none"; });
        if (found.empty() || (none > 0 && found.size() > 1)) return "'none' stands alone";
        if (count(is_ultraviolet) > 1 || count([](const std::string& kind) { return kind == "flood"; }) > 1 ||
            count(is_plants) > 1)
          return "one of each sort is enough for a first scene; further ones go into its file";
        return "";
      });
  if (kinds.front() == "none") kinds.clear();
  const auto rank = [](const std::string& kind) {
    return is_ultraviolet(kind) ? 0 : kind == "flood" ? 1 : 2;
  };
  std::sort(kinds.begin(), kinds.end(),
            [&](const std::string& a, const std::string& b) { return rank(a) < rank(b); });
  return kinds;
}

// The tube of the library that is nearest in length.
std::pair<std::string, double> nearest_tube(double length) {
  static const std::pair<std::string, double> kTubes[] = {
      {"tube-uv-55", 0.55}, {"tube-uv-85", 0.85}, {"tube-uv-115", 1.15}};
  return *std::min_element(std::begin(kTubes), std::end(kTubes), [&](const auto& a, const auto& b) {
    return std::abs(a.second - length) < std::abs(b.second - length);
  });
}

AnsweredLamp ask_ultraviolet(Questions& questions, const std::string& kind, const std::string& stem,
                             double width, std::vector<AnsweredFile>& files) {
  const std::string name = kind == "tube" ? "UV tube" : kind == "compact" ? "Compact lamp" : "Mercury lamp";
  const auto box =
      questions.known_numbers(fmt::format("{}: UV index and its distance, {}, such as 4 at {}", name,
                                          questions.in_unit(), questions.inches() ? "12" : "30"),
                              {{Dimension::number, "", 0.01, 100}, questions.length(0.05, 2)}, 2);
  questions.say(box ? "Its spectrum is a guess all the same, and the survey will say so."
                    : "A stand-in is taken, invented: no figure of ultraviolet holds until you know.");
  BoxLamp lamp;
  lamp.library = kind == "compact" ? "compact-uv-23" : "mercury-flood-100";
  std::string title = kind == "compact" ? "Compact UV lamp" : "Mercury-vapour flood with UV";
  std::string known;
  if (kind == "tube") {
    const auto length = questions.known_numbers(
        "UV tube: its length with the caps, " + questions.in_unit(), {questions.length(0.1, 3)}, 1,
        [&](const std::vector<double>& found) {
          return found[0] <= width + 1e-6
                     ? ""
                     : fmt::format(
                           "a tube of {} is longer than the enclosure is wide, {}: give one that fits, or "
                           "take Enter and "
                           "place yours in the file later",
                           questions.length_text(found[0]), questions.length_text(width));
        });
    const double whole = length ? (*length)[0] : std::min(0.55, width);
    lamp.library = nearest_tube(whole).first;
    title = length ? "UV tube, " + file_length(questions, whole) : "UV tube";
    if (length) known = "its length from the box (less 2 cm for the caps)";
    constexpr double kCaps = 0.02;  // m
    lamp.lines["emitter:"] =
        fmt::format("emitter: {{shape: tube, length: {:.4g} cm, diameter: 16 mm}}", (whole - kCaps) * 100);
  }
  if (box) {
    const std::string at = file_length(questions, (*box)[1]), uvi = print_number((*box)[0], 6);
    lamp.lines["    output: {uvi:"] = fmt::format("    output: {{uvi: {}, at: {}}}", uvi, at);
    lamp.title = fmt::format("{}, UV index {} at {} by its box", title, uvi, at);
    lamp.source = fmt::format("UV index from the box at {}; {}the rest as {}, invented for the demo", at,
                              known.empty() ? "" : known + "; ", lamp.library);
  } else {
    lamp.title = title + ", a stand-in: its UV index is not known";
    // It may as well be half or twice as strong.
    lamp.lines["power:"] = "spread: 50 %   # so little is known of it";
    lamp.source =
        fmt::format("a stand-in: its UV index is not known; {}the rest as {}, invented for the demo",
                    known.empty() ? "" : known + "; ", lamp.library);
  }
  files.push_back({stem + kUv, text_of(lamp)});
  return {
      "uv lamp", kind, stem + kUv,
      box ? "UV index as on the box; its spectrum is a guess, so that a good index does not show that it is "
            "safe"
          : "A STAND-IN, invented: the UV index of this lamp is not known. No figure of ultraviolet holds "
            "until it is",
      0};
}

AnsweredLamp ask_flood(Questions& questions, const std::string& stem, std::vector<AnsweredFile>& files) {
  const auto box = questions.known_numbers(
      "Flood: watts and beam angle in degrees, such as 50 38",
      {{Dimension::power, "W", 5, 500}, {Dimension::angle, "deg", 5 * kDegree, 170 * kDegree}}, 1);
  AnsweredLamp answered{"basking flood", "flood", "halogen-flood-50", "", 0};
  if (!box) {
    questions.say("A stand-in is taken, invented: a halogen of 50 W and 40 degrees.");
    answered.remark = "a stand-in of the library, invented: nothing is known of the flood";
    return answered;
  }
  const double watts = (*box)[0];
  const bool beam = box->size() > 1;
  // The nearer of the library's; its lumens and the glass's own warmth go by the watts.
  struct StandIn {
    const char* name;
    double watts, lumens, glass_w;
  };
  const StandIn near =
      watts < 62 ? StandIn{"halogen-flood-50", 50, 650, 5} : StandIn{"halogen-flood-75", 75, 1050, 7};
  const double share = watts / near.watts;
  BoxLamp lamp;
  lamp.library = near.name;
  lamp.title = fmt::format("Halogen flood, {} W", print_number(watts, 4));
  if (beam) {
    const double half_deg = (*box)[1] / kDegree / 2;
    lamp.title += fmt::format(", {} degree beam", print_number(2 * half_deg, 4));
    lamp.lines["distribution:"] =
        fmt::format("distribution: {{form: cosine-power, half_angle: {:.4g} deg}}", half_deg);
  }
  lamp.lines["    output: {luminous_flux:"] =
      fmt::format("    output: {{luminous_flux: {:.4g} lm}}", near.lumens * share);
  lamp.lines["    output: {radiant_flux:"] =
      fmt::format("    output: {{radiant_flux: {:.4g} W}}", near.glass_w * share);
  lamp.lines["power:"] = fmt::format("power: {:.4g} W", watts);
  lamp.source = fmt::format("watts{} from the box; the rest as {} by the watts, invented for the demo",
                            beam ? " and beam angle" : "", lamp.library);
  answered.fixture = stem + kFlood;
  answered.remark = fmt::format("watts{} as on the box, the rest a guess", beam ? " and beam" : "");
  files.push_back({answered.fixture, text_of(lamp)});
  return answered;
}

AnsweredLamp ask_plants(Questions& questions, const std::string& kind, const std::string& stem,
                        const Answers& answers, std::vector<AnsweredFile>& files) {
  const bool bar = kind == "bar";
  const auto light =
      questions.known_light(fmt::format("Plants' {}: lumens or umol/s, such as 2400 lm or 55 umol/s", kind));
  BoxLamp lamp;
  lamp.library = bar ? "led-bar-24" : "led-panel-60";
  const double length = bar ? 0.54 : 0.28, across = bar ? 0.03 : 0.28;
  const bool fits = length <= answers.width && across <= answers.depth;
  if (!fits)
    lamp.lines["emitter:"] =
        fmt::format("emitter: {{shape: rectangle, length: {:.4g} cm, width: {:.4g} cm}}",
                    100 * std::min(length, answers.width), 100 * std::min(across, answers.depth));
  AnsweredLamp answered{"plant light", kind, lamp.library, "", 0};
  if (light) {
    lamp.lines["    output: {photon_flux:"] = fmt::format("    output: {{{}}}", *light);
    lamp.lines["power:"] = "";
    answered.remark = "light as on the box, the rest a guess";
    lamp.source = fmt::format("light from the box; the rest as {}, invented for the demo", lamp.library);
  } else {
    questions.say("A stand-in is taken, invented.");
    answered.remark = "a stand-in of the library, invented: nothing is known of the plants' light";
    lamp.source =
        fmt::format("a stand-in: as {}, no longer than the enclosure; invented for the demo", lamp.library);
  }
  lamp.title = fmt::format("LED plant {}{}", kind, light ? ", light as on its box" : ", a stand-in");
  if (light || !fits) {
    answered.fixture = stem + kPlants;
    files.push_back({answered.fixture, text_of(lamp)});
  }
  return answered;
}

void ask_gaps(Questions& questions, Answers& answers) {
  std::string names, gaps;
  std::vector<Sought> sought;
  const bool panel = answers.lamps.back().kind == "panel";
  for (const AnsweredLamp& lamp : answers.lamps) {
    const double gap = lamp.kind == "flood"   ? questions.usual(20, 8)
                       : lamp.kind == "bar"   ? questions.usual(5, 2)
                       : lamp.kind == "panel" ? questions.usual(30, 12)
                                              : questions.usual(10, 4);
    names += (names.empty() ? "" : ", ") + lamp.kind;
    gaps += (gaps.empty() ? "" : " ") + questions.text(gap);
    sought.push_back(questions.length(0, 2));
  }
  const auto found = questions.numbers(
      fmt::format("Gap from the lowest part of each to the top, {}: {}", questions.in_unit(), names), gaps,
      sought, sought.size(), [&](const std::vector<double>& gap) -> std::string {
        if (panel && std::any_of(gap.begin(), gap.end() - 1, [&](double g) { return g >= gap.back(); }))
          return "a panel is so wide that it stands in the light of what hangs above it: hang it highest";
        return "";
      });
  for (std::size_t i = 0; i < found.size(); ++i) answers.lamps[i].gap = found[i];
}

}  // namespace

std::vector<std::string> lamp_file_names(const std::string& stem) {
  return {stem + kUv, stem + kFlood, stem + kPlants};
}

void ask_lamps(Questions& questions, const std::string& stem, Answers& answers,
               std::vector<AnsweredFile>& files) {
  const std::vector<std::string> kinds = ask_kinds(questions);
  if (!kinds.empty())
    questions.say("Now what is on their boxes. Where you do not know, an invented stand-in is taken.");
  for (const std::string& kind : kinds)
    answers.lamps.push_back(is_ultraviolet(kind)
                                ? ask_ultraviolet(questions, kind, stem, answers.width, files)
                            : kind == "flood" ? ask_flood(questions, stem, files)
                                              : ask_plants(questions, kind, stem, answers, files));
  if (answers.lamps.empty()) return;
  ask_gaps(questions, answers);
  answers.hours = questions.clock("Hours they are lit", "08:00-18:00");
}

}  // namespace boughlight::cli
