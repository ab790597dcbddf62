// A figure with its standard error, and what it says about a limit.
#pragma once

#include <map>
#include <optional>
#include <string_view>

#include "spectrum/quantity.h"

namespace boughlight {

enum class Verdict { met, unsure, below, above };
std::string_view verdict_name(Verdict verdict);  // "met", "unsure", "below", "above"

struct Figure {
  double value = 0;
  double se = 0;                  // standard error of the solver alone
  std::optional<bool> converged;  // only on figures that carry a limit: did se reach the tolerance
};
using Figures = std::map<Quantity, Figure>;

}  // namespace boughlight
