// Plain questions, each asked again until its answer is understood.
#pragma once

#include <functional>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "ask_numbers.h"

namespace boughlight::cli {

// What is wrong with an answer whose parts are fine by themselves; "" if nothing.
using Objection = std::function<std::string(const std::vector<double>&)>;

class Questions {
 public:
  Questions(std::istream& answers, std::ostream& ask) : answers_(answers), ask_(ask) {}

  // Of bare lengths: "cm" or "in".
  std::string unit = "cm";
  bool inches() const { return unit == "in"; }
  // "in cm", "in inches"
  std::string in_unit() const { return inches() ? "in inches" : "in cm"; }

  void say(const std::string& line);

  // One of the words, in capitals or not.
  std::string word(const std::string& question, const std::vector<std::string>& words,
                   const std::string& usual);
  // Words of those, apart by blanks or commas, that `objection` lets pass.
  std::vector<std::string> words(
      const std::string& question, const std::vector<std::string>& words, const std::string& usual,
      const std::function<std::string(const std::vector<std::string>&)>& objection);
  // Hours, as a scene takes them.
  std::string clock(const std::string& question, const std::string& usual);

  // In base units; from `needed` of those sought on.
  std::vector<double> numbers(const std::string& question, const std::string& usual,
                              const std::vector<Sought>& sought, std::size_t needed,
                              const Objection& objection = {});
  // The same where the answer may not be known: nothing at Enter, '?' or 0.
  std::optional<std::vector<double>> known_numbers(const std::string& question,
                                                   const std::vector<Sought>& sought, std::size_t needed,
                                                   const Objection& objection = {});
  // Lumens or photons of a whole lamp, as a fixture's output takes them: "luminous_flux: 2400 lm".
  std::optional<std::string> known_light(const std::string& question);

  Sought length(double least_m, double most_m) const;

  // A length that is round in the unit that was chosen, m.
  double usual(double cm, double inch) const;
  // A length in that unit, without it; round enough to type.
  std::string text(double metres) const;
  // The same with the unit.
  std::string length_text(double metres) const;
  // Usual lengths: whole centimetres, or half inches.
  double rounded_down(double metres) const;

 private:
  template <class Value, class Understand>
  Value asked(const std::string& question, const std::string& usual, Understand understand);

  std::istream& answers_;
  std::ostream& ask_;
};

}  // namespace boughlight::cli
