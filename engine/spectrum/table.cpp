#include "spectrum/table.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace boughlight {

namespace {

// (e^t - 1) / t, also where t is 0.
double expm1_over(double t) {
  return std::abs(t) < 1e-12 ? 1.0 : std::expm1(t) / t;
}

// One segment from (x0, y0) to (x1, y1).
struct Segment {
  double x0, y0, x1, y1;
  bool logarithmic;

  double at(double x) const {
    const double f = (x - x0) / (x1 - x0);
    if (logarithmic) return y0 * std::exp(f * std::log(y1 / y0));
    return y0 + f * (y1 - y0);
  }
  double integral(double a, double b) const {
    const double ya = at(a), yb = at(b);
    if (logarithmic && ya > 0 && yb > 0) return (b - a) * ya * expm1_over(std::log(yb / ya));
    return (b - a) * 0.5 * (ya + yb);
  }
};

}  // namespace

Table::Table(std::vector<double> x, std::vector<double> y, Between between, Beyond beyond)
    : x_(std::move(x)), y_(std::move(y)), between_(between), beyond_(beyond) {
  if (x_.empty() || x_.size() != y_.size())
    throw std::invalid_argument("a table needs at least one point, and as many values as places");
  for (std::size_t i = 0; i < x_.size(); ++i) {
    if (!std::isfinite(x_[i]) || !std::isfinite(y_[i]))
      throw std::invalid_argument("a table holds a number that is not finite");
    if (y_[i] < 0) throw std::invalid_argument("a table holds a negative value");
    if (i > 0 && !(x_[i] > x_[i - 1]))
      throw std::invalid_argument("the places of a table must rise from each to the next");
  }
}

Table Table::constant(double y) {
  return Table({0.0}, {y}, Between::linear, Beyond::hold);
}

double Table::at(double x) const {
  if (x_.empty()) return 0;
  if (x < x_.front()) return beyond_ == Beyond::hold ? y_.front() : 0;
  if (x > x_.back()) return beyond_ == Beyond::hold ? y_.back() : 0;
  if (x == x_.back()) return y_.back();
  const auto i = static_cast<std::size_t>(std::upper_bound(x_.begin(), x_.end(), x) - x_.begin());
  const bool logarithmic = between_ == Between::log_linear && y_[i - 1] > 0 && y_[i] > 0;
  return Segment{x_[i - 1], y_[i - 1], x_[i], y_[i], logarithmic}.at(x);
}

double Table::integral_inside(double a, double b) const {
  double sum = 0;
  auto i = static_cast<std::size_t>(std::upper_bound(x_.begin(), x_.end(), a) - x_.begin());
  for (; i < x_.size() && x_[i - 1] < b; ++i) {
    const bool logarithmic = between_ == Between::log_linear && y_[i - 1] > 0 && y_[i] > 0;
    const Segment segment{x_[i - 1], y_[i - 1], x_[i], y_[i], logarithmic};
    sum += segment.integral(std::max(a, x_[i - 1]), std::min(b, x_[i]));
  }
  return sum;
}

double Table::mean(double a, double b) const {
  if (!(a < b)) throw std::invalid_argument("a mean needs a range that is not empty");
  if (x_.empty()) return 0;
  double sum = 0;
  if (beyond_ == Beyond::hold) {
    sum += y_.front() * std::max(0.0, std::min(b, x_.front()) - a);
    sum += y_.back() * std::max(0.0, b - std::max(a, x_.back()));
  }
  const double from = std::max(a, x_.front()), to = std::min(b, x_.back());
  if (from < to) sum += integral_inside(from, to);
  return sum / (b - a);
}

SpectralD Table::bin_means() const {
  SpectralD means;
  for (int bin = 0; bin < kBins; ++bin) means[bin] = mean(kBinEdgesNm[bin], kBinEdgesNm[bin + 1]);
  return means;
}

}  // namespace boughlight
