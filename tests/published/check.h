// One check of a computed figure against an outside source: a row that says where the figure comes from.
#pragma once

#include <gtest/gtest.h>

#include <cstdio>
#include <string>

namespace boughlight {

struct Check {
  std::string what;
  std::string source;  // where `expected` stands; 'from memory' and 'computed' are said as such
  double expected = 0;
  double obtained = 0;
  double allowed = 0;  // greatest difference, in the unit of both
  std::string why;     // where the allowance comes from
};

// Fails where the two differ by more than is allowed; prints and records both sides either way.
inline void expect_published(const Check& check) {
  char row[160];
  std::snprintf(row, sizeof row, "expected %.9g, obtained %.9g, allowed %.2g", check.expected, check.obtained,
                check.allowed);
  std::printf("  %s: %s (%s)\n", check.what.c_str(), row, check.source.c_str());
  testing::Test::RecordProperty(check.what, row);
  EXPECT_NEAR(check.obtained, check.expected, check.allowed)
      << check.what << "\n  source: " << check.source << "\n  allowed because: " << check.why;
}

}  // namespace boughlight
