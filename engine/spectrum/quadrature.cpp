#include "spectrum/quadrature.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace boughlight {

namespace {

// Gauss-Kronrod 7-15 on [-1, 1]: nodes from the end to the middle (Piessens et al., QUADPACK, 1983, qk15).
constexpr std::array<double, 8> kKronrodNodes = {
    0.991455371120812639206854697526329, 0.949107912342758524526189684047851,
    0.864864423359769072789712788640926, 0.741531185599394439863864773280788,
    0.586087235467691130294144691693314, 0.405845151377397166906606412076961,
    0.207784955007898467600689403773245, 0.0};
constexpr std::array<double, 8> kKronrodWeights = {
    0.022935322010529224963732008058970, 0.063092092629978553290700663189204,
    0.104790010322250183839876322541518, 0.140653259715525918745189590510238,
    0.169004726639267902826583426598550, 0.190350578064785409913256402421014,
    0.204432940075298892414161999234649, 0.209482141084727828012999174891714};
// Of the odd nodes.
constexpr std::array<double, 4> kGaussWeights = {
    0.129484966168869693270611432679082, 0.279705391489276667901467771423780,
    0.381830050505118944950369775488975, 0.417959183673469387755102040816327};

struct Interval {
  double a = 0, b = 0;
  double value = 0, absolute = 0, error = 0;
  bool operator<(const Interval& other) const { return error < other.error; }
};

Interval estimate(const std::function<double(double)>& f, double a, double b) {
  const double middle = 0.5 * (a + b), half = 0.5 * (b - a);
  Interval sum{a, b};
  double gauss = 0;
  for (std::size_t i = 0; i < kKronrodNodes.size(); ++i) {
    for (const double sign : {-1.0, 1.0}) {
      if (i + 1 == kKronrodNodes.size() && sign > 0) continue;  // the middle node counts once
      const double value = f(middle + sign * half * kKronrodNodes[i]);
      sum.value += kKronrodWeights[i] * value;
      sum.absolute += kKronrodWeights[i] * std::abs(value);
      if (i % 2 == 1) gauss += kGaussWeights[i / 2] * value;
    }
  }
  sum.value *= half;
  sum.absolute *= half;
  sum.error = std::abs(sum.value - gauss * half);
  return sum;
}

// Enough for some ten jumps at places unknown, each taking 40 halvings.
constexpr std::size_t kMostPieces = 500;

}  // namespace

double integrate(const std::function<double(double)>& f, double a, double b,
                 const std::vector<double>& splits, double relative) {
  if (!(a < b)) return 0;
  std::vector<double> ends = {a, b};
  for (double split : splits)
    if (split > a && split < b) ends.push_back(split);
  std::sort(ends.begin(), ends.end());

  std::vector<Interval> pieces;  // a heap, the greatest error first
  double absolute = 0, error = 0;
  for (std::size_t i = 1; i < ends.size(); ++i) {
    pieces.push_back(estimate(f, ends[i - 1], ends[i]));
    absolute += pieces.back().absolute;
    error += pieces.back().error;
  }
  std::make_heap(pieces.begin(), pieces.end());
  while (error > relative * absolute && pieces.size() < kMostPieces) {
    std::pop_heap(pieces.begin(), pieces.end());
    const Interval worst = pieces.back();
    pieces.pop_back();
    const double middle = 0.5 * (worst.a + worst.b);
    error -= worst.error;
    absolute -= worst.absolute;
    for (const Interval& half : {estimate(f, worst.a, middle), estimate(f, middle, worst.b)}) {
      error += half.error;
      absolute += half.absolute;
      pieces.push_back(half);
      std::push_heap(pieces.begin(), pieces.end());
    }
  }
  double sum = 0;
  for (const Interval& piece : pieces) sum += piece.value;
  return sum;
}

}  // namespace boughlight
