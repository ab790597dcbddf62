#include "plan/local_fit.h"

#include <tbb/parallel_for.h>

#include <Eigen/Cholesky>
#include <algorithm>
#include <array>

namespace boughlight {
namespace {

// A run of neighbouring indices along one axis.
struct Neighbours {
  std::size_t first = 0, count = 1;
  int degree = 0;
};

Neighbours neighbours_of(std::size_t index, const std::vector<double>& axis, std::size_t most) {
  // No further than light changes little: at a wide step there is nothing to average.
  constexpr double kReach = 0.065;
  const std::size_t size = axis.size();
  const double step = size > 1 ? (axis.back() - axis.front()) / static_cast<double>(size - 1) : kReach;
  const auto reached = 2 * static_cast<std::size_t>(kReach / step) + 1;
  Neighbours window;
  window.count = std::min({size, most, reached});
  const std::size_t half = window.count / 2;
  window.first = std::min(index > half ? index - half : 0, size - window.count);
  window.degree = static_cast<int>(std::min<std::size_t>(window.count - 1, 2));
  return window;
}

// Powers of the three offsets, of total degree 2 at most.
std::vector<std::array<int, 3>> terms_of(const std::array<Neighbours, 3>& windows) {
  std::vector<std::array<int, 3>> terms;
  for (int a = 0; a <= windows[0].degree; ++a)
    for (int b = 0; b <= windows[1].degree; ++b)
      for (int c = 0; c <= windows[2].degree; ++c)
        if (a + b + c <= 2) terms.push_back({a, b, c});
  return terms;
}

double power(double base, int exponent) {
  return exponent == 0 ? 1 : exponent == 1 ? base : base * base;
}

}  // namespace

std::vector<Replicates> local_fit(const Lattice3& lattice, const std::vector<Replicates>& values) {
  constexpr std::size_t kAcross = 7, kUp = 3;
  const std::array<const std::vector<double>*, 3> axes = {&lattice.x, &lattice.y, &lattice.gap};
  std::vector<Replicates> fitted(values.size());
  tbb::parallel_for(std::size_t{0}, values.size(), [&](std::size_t index) {
    const std::array<std::size_t, 3> here = {
        index % lattice.x.size(), index / lattice.x.size() % lattice.y.size(), index / lattice.in_layer()};
    std::array<Neighbours, 3> windows;
    std::array<double, 3> size{};
    for (std::size_t axis = 0; axis < 3; ++axis) {
      windows[axis] = neighbours_of(here[axis], *axes[axis], axis == 2 ? kUp : kAcross);
      const std::size_t last = windows[axis].first + windows[axis].count - 1;
      size[axis] = std::max(1e-9, (*axes[axis])[last] - (*axes[axis])[windows[axis].first]);
    }
    const std::vector<std::array<int, 3>> terms = terms_of(windows);
    const auto count = static_cast<Eigen::Index>(windows[0].count * windows[1].count * windows[2].count);
    Eigen::MatrixXd basis(count, static_cast<Eigen::Index>(terms.size()));
    std::vector<std::size_t> places;
    for (std::size_t k = 0; k < windows[2].count; ++k)
      for (std::size_t j = 0; j < windows[1].count; ++j)
        for (std::size_t i = 0; i < windows[0].count; ++i) {
          const std::array<std::size_t, 3> there = {windows[0].first + i, windows[1].first + j,
                                                    windows[2].first + k};
          const auto row = static_cast<Eigen::Index>(places.size());
          places.push_back(lattice.at(there[0], there[1], there[2]));
          std::array<double, 3> offset{};
          for (std::size_t axis = 0; axis < 3; ++axis)
            offset[axis] = ((*axes[axis])[there[axis]] - (*axes[axis])[here[axis]]) / size[axis];
          for (std::size_t t = 0; t < terms.size(); ++t)
            basis(row, static_cast<Eigen::Index>(t)) =
                power(offset[0], terms[t][0]) * power(offset[1], terms[t][1]) * power(offset[2], terms[t][2]);
        }
    // The fit at offset 0 is its constant term: one weight for each place around.
    Eigen::VectorXd constant = Eigen::VectorXd::Zero(basis.cols());
    constant[0] = 1;
    const Eigen::VectorXd weights = basis * (basis.transpose() * basis).ldlt().solve(constant);
    Replicates& sum = fitted[index];
    sum.fill(0);
    for (std::size_t n = 0; n < places.size(); ++n)
      for (std::size_t k = 0; k < sum.size(); ++k)
        sum[k] += weights[static_cast<Eigen::Index>(n)] * values[places[n]][k];
  });
  return fitted;
}

}  // namespace boughlight
