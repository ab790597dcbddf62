// Words and lines that several parts of the terminal summary are made of. Private to this room.
#pragma once

#include <string>
#include <string_view>

#include "assess/results.h"
#include "report/scale.h"

namespace boughlight {

inline constexpr int kColumns = 80;
inline constexpr int kNameColumns = 28;  // of a name within a sentence

std::string percent(double share);  // "12.5 %"
std::string quoted(const std::string& name);
// "UVI 3.1", "151 W/m2"; the figure comes with its unit.
std::string with_name(Quantity quantity, const std::string& figure);
// "2.5 to 4.5", "at least 2 %"; the limits times `size`.
std::string limits_text(const Limits& limits, double size, const std::string& unit);
std::string verdict_words(Verdict verdict);  // "as wanted", "too low"
// "too low: wanted 2.5 to 4.5"
std::string judged(Verdict verdict, const std::string& wanted);
// "x 12, y 3, z 45 cm"
std::string place_text(const LengthUnit& unit, const Vec3& at);
// Adds `text` in lines of at most kColumns.
void put_wrapped(std::string& out, const std::string& text, std::string_view first, std::string_view rest);
// Rounded to whole steps: "3.1", "<0.01".
std::string stepped(double value, double step);

// What would bring a broken limit of animal.never back: right below the findings.
void put_mends(std::string& out, const Survey& survey, const LengthUnit& unit);
// The closest places by lamp, the body, its sizes, shade and the way to it.
void put_animal(std::string& out, const Survey& survey, const LengthUnit& unit);

}  // namespace boughlight
