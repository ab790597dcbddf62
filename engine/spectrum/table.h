// A function of wavelength given by points, with its rule between and beyond them.
#pragma once

#include <string>
#include <vector>

#include "spectrum/bins.h"

namespace boughlight {

enum class Between { linear, log_linear };  // log_linear: straight in log(y); where an end is 0, linear
enum class Beyond { zero, hold };           // outside the first and last point

class Table {
 public:
  Table() = default;
  // x strictly rising, y finite and >= 0 (> 0 not required); throws std::invalid_argument else, or when
  // empty.
  Table(std::vector<double> x, std::vector<double> y, Between between, Beyond beyond);

  // The same value everywhere.
  static Table constant(double y);

  double at(double x) const;
  // Mean over [a, b], a < b: exact for linear, closed form for log_linear.
  double mean(double a, double b) const;
  // The mean over every bin: what a material is on the rays.
  SpectralD bin_means() const;

  const std::vector<double>& x() const { return x_; }
  const std::vector<double>& y() const { return y_; }
  Between between() const { return between_; }
  Beyond beyond() const { return beyond_; }

 private:
  double integral_inside(double a, double b) const;
  std::vector<double> x_, y_;
  Between between_ = Between::linear;
  Beyond beyond_ = Beyond::hold;
};

// Reads a two-column CSV (x, y; between them a comma, a semicolon or a tab, and with the latter two decimals
// may have commas; '#' lines are comments; lines of headings may stand above the first two numbers). Comments
// of the form "# key: value" are settings: "interpolation: linear" or "log-linear", "outside: zero" or
// "hold"; both are required for files of the standard folder. Throws InputError with line and column for
// anything else, and for figures that can be read in two ways.
struct TableFile {
  Table table;
  std::string title, source, unit;
};
TableFile read_table_file(const std::string& path);
// The same for data that has no settings of its own (a lamp's or material's `file`).
Table read_plain_table_file(const std::string& path, Between between, Beyond beyond);

}  // namespace boughlight
