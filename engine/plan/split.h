// A figure as what stays plus what one lamp adds, replicate by replicate.
#pragma once

#include <array>

#include "assess/figure.h"
#include "transport/gather.h"

namespace boughlight {

using Replicates = std::array<double, kReplicates>;

struct Split {
  Replicates rest{}, lamp{};

  // With the lamp's output times `output`.
  Figure figure(double output = 1) const;
  double rest_mean() const;
  double lamp_mean() const;
};

}  // namespace boughlight
