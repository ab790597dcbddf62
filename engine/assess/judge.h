// Figures with their standard errors from replicates, and what they say about a want.
#pragma once

#include <vector>

#include "assess/results.h"
#include "transport/response.h"

namespace boughlight {

// Half the width of a 95 % interval is this times the standard error: Student's t, 97.5 %, kReplicates - 1 =
// 15 degrees of freedom (tabulated in any statistics handbook; 2.131).
inline constexpr double kIntervalFactor = 2.1314;

// Mean of the replicates and the standard error of that mean.
Figure figure_of(const std::vector<double>& replicates);

// The limit nearest to a value, as a positive size; 0 where there is none. A lower limit of 0 is no limit.
double nearest_limit(const Limits& limits, double value);

// Limits are inclusive, and values a millionth beyond one are at it: so much is left to rounding.
// Whether a value keeps the limits, whatever its error.
bool within(const Limits& limits, double value);

// `unsure` where a limit lies inside the 95 % interval.
Verdict judge(const Figure& figure, const Limits& limits);

// The worse of two, for a whole: met < unsure < unmet.
WholeVerdict worse(WholeVerdict a, Verdict b);

}  // namespace boughlight
