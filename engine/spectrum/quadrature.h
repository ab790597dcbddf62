// Adaptive quadrature for what is computed once per lamp.
#pragma once

#include <functional>
#include <vector>

namespace boughlight {

// Integral of f over [a, b], 0 unless a < b, split at those of `splits` that lie between (where f jumps or
// bends). f is never called at the ends or the splits themselves. Gauss-Kronrod 7-15, the piece of the
// greatest error halved until the sum of the error estimates is below `relative` of the integral of |f|, or
// there are 500 pieces: so a jump that is not a split costs some 40 halvings, not accuracy, and noise in f
// cannot hold it up.
double integrate(const std::function<double(double)>& f, double a, double b,
                 const std::vector<double>& splits = {}, double relative = 1e-10);

}  // namespace boughlight
