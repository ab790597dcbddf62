#include "ask_questions.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <istream>
#include <map>
#include <ostream>
#include <sstream>

#include "commands.h"
#include "units/ascii.h"
#include "units/problem.h"

namespace boughlight::cli {
namespace {

std::vector<std::string> words_of_answer(std::string text) {
  std::replace(text.begin(), text.end(), ',', ' ');
  std::istringstream in(lower_case(text));
  static const std::map<std::string, std::string> kSame = {
      {"inch", "in"},        {"inches", "in"},     {"\"", "in"},         {"centimetre", "cm"},
      {"centimetres", "cm"}, {"centimeter", "cm"}, {"centimeters", "cm"}};
  std::vector<std::string> words;
  for (std::string word; in >> word;) {
    const auto same = kSame.find(word);
    words.push_back(same == kSame.end() ? word : same->second);
  }
  return words;
}

bool not_known(const std::string& answer) {
  return answer.empty() || answer == "?" || answer == "0";
}
constexpr const char* kMayBeUnknown = " (Enter: I do not know)";

}  // namespace

template <class Value, class Understand>
Value Questions::asked(const std::string& question, const std::string& usual, Understand understand) {
  for (;;) {
    ask_ << question << (usual.empty() ? "" : " [" + usual + "]") << ": " << std::flush;
    std::string line;
    if (!std::getline(answers_, line))
      throw CallError(fmt::format("the answers ended at '{}'; nothing was written", question));
    const std::string_view typed = trimmed(line);
    const std::string answer = typed.empty() ? usual : std::string(typed);
    std::string why;
    if (auto value = understand(answer, why)) return *value;
    ask_ << "  " << why << ". Again, please.\n";
  }
}

void Questions::say(const std::string& line) {
  ask_ << "  " << line << '\n';
}

std::vector<std::string> Questions::words(
    const std::string& question, const std::vector<std::string>& words, const std::string& usual,
    const std::function<std::string(const std::vector<std::string>&)>& objection) {
  using Found = std::vector<std::string>;
  return asked<Found>(question, usual, [&](const std::string& answer, std::string& why) {
    const Found found = words_of_answer(answer);
    for (const std::string& one : found) {
      if (std::find(words.begin(), words.end(), one) != words.end()) continue;
      why = fmt::format("'{}' is none of {}{}", one, one_of(words), did_you_mean(one, words));
      return std::optional<Found>();
    }
    why = objection(found);
    return why.empty() ? std::optional<Found>(found) : std::nullopt;
  });
}

std::string Questions::word(const std::string& question, const std::vector<std::string>& words,
                            const std::string& usual) {
  return this->words(
      question + " (" + one_of(words) + ")", words, usual,
      [](const std::vector<std::string>& found) { return found.size() == 1 ? "" : "one word is needed"; })[0];
}

std::string Questions::clock(const std::string& question, const std::string& usual) {
  return asked<std::string>(question, usual, [](const std::string& answer, std::string& why) {
    return parse_clock_spans(answer, why) ? std::optional(answer) : std::nullopt;
  });
}

std::vector<double> Questions::numbers(const std::string& question, const std::string& usual,
                                       const std::vector<Sought>& sought, std::size_t needed,
                                       const Objection& objection) {
  return asked<std::vector<double>>(question, usual, [&](const std::string& answer, std::string& why) {
    auto found = numbers_of(answer, sought, needed, why);
    if (found && objection) why = objection(*found);
    if (!why.empty()) found.reset();
    return found;
  });
}

std::optional<std::vector<double>> Questions::known_numbers(const std::string& question,
                                                            const std::vector<Sought>& sought,
                                                            std::size_t needed, const Objection& objection) {
  using Known = std::optional<std::vector<double>>;
  return asked<Known>(question + kMayBeUnknown, "",
                      [&](const std::string& answer, std::string& why) -> std::optional<Known> {
                        if (not_known(answer)) return Known();
                        auto found = numbers_of(answer, sought, needed, why);
                        if (found && objection) why = objection(*found);
                        return why.empty() ? std::optional<Known>(std::move(found)) : std::nullopt;
                      });
}

std::optional<std::string> Questions::known_light(const std::string& question) {
  using Known = std::optional<std::string>;
  return asked<Known>(question + kMayBeUnknown, "",
                      [](const std::string& answer, std::string& why) -> std::optional<Known> {
                        if (not_known(answer)) return Known();
                        if (answer.find_first_not_of("0123456789. ") == std::string::npos) {
                          why = fmt::format("of what: {0} lm, or {0} umol/s", answer);
                          return std::nullopt;
                        }
                        const bool photons = lower_case(answer).find("mol") != std::string::npos;
                        const Sought sought = photons ? Sought{Dimension::photon_flux, "umol/s", 1, 5000}
                                                      : Sought{Dimension::luminous_flux, "lm", 50, 500'000};
                        const auto found = numbers_of(answer, {sought}, 1, why);
                        if (!found) return std::nullopt;
                        return Known(fmt::format("{}: {} {}", photons ? "photon_flux" : "luminous_flux",
                                                 fmt::format("{:.6g}", found->front()), sought.unit));
                      });
}

Sought Questions::length(double least_m, double most_m) const {
  return {Dimension::length, unit, least_m, most_m};
}

double Questions::usual(double cm, double inch) const {
  return inches() ? inch * size_of_unit("in", Dimension::length) : cm / 100;
}

std::string Questions::text(double metres) const {
  const double number = metres / size_of_unit(unit, Dimension::length);
  std::string out = inches() ? fmt::format("{:.3f}", number) : fmt::format("{:.2f}", number);
  while (out.back() == '0') out.pop_back();
  if (out.back() == '.') out.pop_back();
  return out;
}

std::string Questions::length_text(double metres) const {
  return text(metres) + (inches() ? " inches" : " cm");
}

double Questions::rounded_down(double metres) const {
  const double step = usual(1, 0.5);
  return std::floor(metres / step + 1e-6) * step;
}

}  // namespace boughlight::cli
