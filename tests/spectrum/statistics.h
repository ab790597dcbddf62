// Statistical bounds for tests that draw samples. Seeds are fixed.
#pragma once

#include <cmath>
#include <random>

namespace boughlight {

// A test that holds fails by chance with a probability below 1e-6 at this many standard deviations.
inline constexpr double kSigmas = 5;

// How many standard deviations a chi-square value lies above what `freedom` degrees would give: the cube root
// of chi^2 / k is nearly normal (Wilson and Hilferty 1931, PNAS 17, 684-688).
inline double chi_square_sigmas(double chi_square, int freedom) {
  const double k = freedom, v = 2 / (9 * k);
  return (std::cbrt(chi_square / k) - (1 - v)) / std::sqrt(v);
}

class Uniform {
 public:
  explicit Uniform(unsigned seed) : engine_(seed) {}
  double operator()() { return std::generate_canonical<double, 53>(engine_); }

 private:
  std::mt19937_64 engine_;
};

// Mean and standard error of what is added.
class Mean {
 public:
  void add(double v) {
    ++n_;
    const double d = v - mean_;
    mean_ += d / static_cast<double>(n_);
    squares_ += d * (v - mean_);
  }
  double mean() const { return mean_; }
  double deviation() const { return std::sqrt(squares_ / static_cast<double>(n_ - 1)); }
  double error() const { return deviation() / std::sqrt(static_cast<double>(n_)); }

 private:
  long n_ = 0;
  double mean_ = 0, squares_ = 0;
};

}  // namespace boughlight
