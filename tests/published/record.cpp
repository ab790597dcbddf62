// Keeps the rows of all checks, writes them as README.md, and holds each test against what is written there.
//
//   BOUGHLIGHT_WRITE_CHECKS=tests/published/README.md build/tests/test_published
//
// writes it anew. A test fails when its rows are not all there, or differ in more than what random numbers
// move.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>
#include <vector>

#include "published/check.h"

namespace boughlight {
namespace {

struct CheckRow {
  std::string formula, test;
  bool program = false;
  Check check;
};

const std::string kReadme = std::string(BOUGHLIGHT_SOURCE_DIR) + "/tests/published/README.md";
const char* const kWhole = "the whole program";
const char* const kFunction = "a function";

std::string digits(double value, const char* format = "%.6g") {
  char text[40];
  std::snprintf(text, sizeof text, format, value);
  return text;
}

std::string cell(std::string text) {
  for (char& c : text)
    if (c == '|') c = '/';
  return text;
}

// The cells of a row of the README: what, expected, obtained, difference, allowed, source, why.
std::vector<std::string> cells(const CheckRow& row) {
  const Check& c = row.check;
  return {cell(c.what),
          digits(c.expected),
          digits(c.obtained),
          digits(c.obtained - c.expected, "%.1e"),
          (c.random ? "about " : "") + digits(c.allowed, "%.1e"),
          cell(c.source),
          cell(c.why)};
}

bool same_number(const std::string& kept, const std::string& now, double slack) {
  const double a = std::atof(kept.c_str()), b = std::atof(now.c_str());
  return std::abs(a - b) <= slack * std::max(std::abs(a), std::abs(b));
}

// Whether a kept row says what this one does, but for what random numbers and rounding move.
bool agrees(const std::vector<std::string>& kept, const CheckRow& row) {
  const std::vector<std::string> now = cells(row);
  return kept.size() == now.size() && kept[0] == now[0] && kept[5] == now[5] && kept[6] == now[6] &&
         same_number(kept[1], now[1], 1e-5) &&
         (row.check.random ? kept[4].rfind("about ", 0) == 0 : same_number(kept[4], now[4], 0.11));
}

struct Kept {
  std::map<std::string, std::vector<std::vector<std::string>>>
      rows;  // by test and formula, "Suite.Name: formula"
  int formulas = 0, of_whole_program = 0;
  std::vector<std::string> tests;
};

std::vector<std::string> split_row(const std::string& line) {
  std::vector<std::string> parts;
  std::size_t from = 2;
  for (std::size_t at; (at = line.find(" |", from)) != std::string::npos; from = at + 3)
    parts.push_back(line.substr(from, at - from));
  return parts;
}

Kept read_kept() {
  Kept kept;
  std::ifstream in(kReadme);
  std::string line, formula, test;
  while (std::getline(in, line)) {
    if (line.rfind("### ", 0) == 0) {
      formula = line.substr(line.find(". ") + 2);
      ++kept.formulas;
    } else if (line.rfind("`", 0) == 0) {
      test = line.substr(1, line.find('`', 1) - 1);
      kept.tests.push_back(test);
      kept.of_whole_program += line.find(kWhole) != std::string::npos;
    } else if (line.rfind("| ", 0) == 0 && line.rfind("| what |", 0) != 0) {
      kept.rows[test + ": " + formula].push_back(split_row(line));
    }
  }
  return kept;
}

class Record : public testing::EmptyTestEventListener {
 public:
  static Record& get() {
    static Record* record = new Record;  // owned by googletest
    return *record;
  }
  void formula(const std::string& name) { formula_ = name; }
  void whole_program() { program_ = true; }
  void add(const Check& check) {
    EXPECT_NE(formula_, "") << "name the formula before the first row";
    rows_.push_back({formula_, test_, program_, check});
  }

  void OnTestStart(const testing::TestInfo& info) override {
    test_ = std::string(info.test_suite_name()) + "." + info.name();
    formula_ = "";
    program_ = false;
    first_ = rows_.size();
  }
  void OnTestEnd(const testing::TestInfo& info) override {
    if (std::getenv("BOUGHLIGHT_WRITE_CHECKS") || !info.result()->Passed()) return;
    static const Kept kept = read_kept();
    std::map<std::string, std::vector<CheckRow>> now;
    for (std::size_t i = first_; i < rows_.size(); ++i)
      now[test_ + ": " + rows_[i].formula].push_back(rows_[i]);
    std::string wrong;
    for (const auto& [key, rows] : now) {
      const auto found = kept.rows.find(key);
      bool same = found != kept.rows.end() && found->second.size() == rows.size();
      for (std::size_t i = 0; same && i < rows.size(); ++i) same = agrees(found->second[i], rows[i]);
      if (!same) wrong = key;
    }
    for (const auto& [key, rows] : kept.rows)
      if (key.rfind(test_ + ": ", 0) == 0 && !now.contains(key)) wrong = key;
    EXPECT_EQ(wrong, "") << "tests/published/README.md is out of date: write it anew (see record.cpp)";
  }
  void OnTestProgramEnd(const testing::UnitTest&) override {
    if (const char* file = std::getenv("BOUGHLIGHT_WRITE_CHECKS")) write(file);
  }

 private:
  void write(const char* file) const {
    // By test: the order in which tests run is the linker's.
    std::vector<CheckRow> rows = rows_;
    std::stable_sort(rows.begin(), rows.end(),
                     [](const CheckRow& a, const CheckRow& b) { return a.test < b.test; });
    std::vector<std::string> order;  // of the formulas, as they first come
    std::map<std::string, std::vector<const CheckRow*>> by_formula;
    std::map<std::string, bool> program;
    for (const CheckRow& row : rows) {
      if (!by_formula.contains(row.formula)) order.push_back(row.formula);
      by_formula[row.formula].push_back(&row);
      program[row.formula] = program[row.formula] || row.program;
    }
    const auto whole =
        std::count_if(order.begin(), order.end(), [&](const auto& name) { return program.at(name); });
    std::ofstream out(file);
    out << "# Published checks\n\nWritten by `BOUGHLIGHT_WRITE_CHECKS=tests/published/README.md "
           "build/tests/test_published`; every test of this folder fails when its rows here are missing or "
           "out of "
           "date. `about`: an allowance that hangs on random numbers, whose seed is fixed.\n\n"
        << order.size() << " formulas, tables and laws, each counted once; " << whole
        << " of them are checked by running the whole program on a scene and reading its `readings.json`. "
        << rows_.size() << " rows.\n";
    for (std::size_t i = 0; i < order.size(); ++i) {
      out << "\n### " << i + 1 << ". " << order[i] << "\n";
      std::string test;
      for (const CheckRow* row : by_formula.at(order[i])) {
        if (row->test != test) {
          test = row->test;
          out << "\n`" << test << "`, " << (row->program ? kWhole : kFunction)
              << "\n\n| what | expected | obtained | difference | allowed | source | why so much |\n"
                 "|---|---|---|---|---|---|---|\n";
        }
        for (const std::string& text : cells(*row)) out << "| " << text << " ";
        out << "|\n";
      }
    }
  }

  std::vector<CheckRow> rows_;
  std::size_t first_ = 0;
  std::string formula_, test_;
  bool program_ = false;
};

[[maybe_unused]] const bool kListening = [] {
  testing::UnitTest::GetInstance()->listeners().Append(&Record::get());
  return true;
}();

TEST(PublishedReadme, NamesTestsThatAreThere) {
  const testing::UnitTest& all = *testing::UnitTest::GetInstance();
  for (const std::string& test : read_kept().tests) {
    bool found = false;
    for (int s = 0; s < all.total_test_suite_count(); ++s)
      for (int t = 0; t < all.GetTestSuite(s)->total_test_count(); ++t)
        found = found || test == std::string(all.GetTestSuite(s)->name()) + "." +
                                     all.GetTestSuite(s)->GetTestInfo(t)->name();
    EXPECT_TRUE(found) << test;
  }
}

TEST(PublishedReadme, HoldsSixtyChecksAndTwentyFiveOfTheWholeProgram) {
  const Kept kept = read_kept();
  EXPECT_GE(kept.formulas, 60);
  EXPECT_GE(kept.of_whole_program, 25);
}

}  // namespace

void formula(const std::string& name) {
  Record::get().formula(name);
}

void from_the_whole_program() {
  Record::get().whole_program();
}

void expect_published(const Check& check) {
  char row[160];
  std::snprintf(row, sizeof row, "expected %.9g, obtained %.9g, allowed %.2g", check.expected, check.obtained,
                check.allowed);
  std::printf("  %s: %s (%s)\n", check.what.c_str(), row, check.source.c_str());
  testing::Test::RecordProperty(check.what, row);
  EXPECT_NEAR(check.obtained, check.expected, check.allowed)
      << check.what << "\n  source: " << check.source << "\n  allowed because: " << check.why;
  Record::get().add(check);
}

}  // namespace boughlight
