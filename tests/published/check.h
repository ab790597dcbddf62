// One check of a computed figure against an outside source: a row that says where the figure comes from. All
// rows together are tests/published/README.md, which these tests write, and against which they hold
// themselves.
#pragma once

#include <gtest/gtest.h>

#include <string>

namespace boughlight {

struct Check {
  std::string what;
  std::string source;  // where `expected` stands; 'from memory' and 'computed' are said as such
  double expected = 0;
  double obtained = 0;
  double allowed = 0;   // greatest difference, in the unit of both
  std::string why;      // where the allowance comes from
  bool random = false;  // obtained and allowed hang on random numbers
};

// A source that several tests name.
inline constexpr const char* kHowell =
    "Howell, Siegel and Menguc, Thermal Radiation Heat Transfer; computed from the closed form";

// What the rows that follow in this test check: one formula, table or law by its own name, which counts once
// however many rows and tests there are of it. Every test names it before its first row.
void formula(const std::string& name);

// Fails where the two differ by more than is allowed; keeps the row for the README either way.
void expect_published(const Check& check);

// The rows that follow in this test come from the whole program.
void from_the_whole_program();

}  // namespace boughlight
