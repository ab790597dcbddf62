// How a crown's size goes on from month to month: published growth functions, named.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace boughlight {

// With size g, largest size K and rate r, each a solution of (as tabulated in "Methods of modelling relative
// growth rate", Forest Ecosystems 2:14, 2015, table 1):
//   logistic (Verhulst 1838)      dg/dt = r g (1 - g / K): slow, fastest at K / 2, slow again
//   gompertz (Gompertz 1825)      dg/dt = r g ln(K / g): fastest at 37 % of K
//   monomolecular (Weber 1891)    dg/dt = r (K - g): fastest at once, as after a trim
enum class GrowthForm { logistic, gompertz, monomolecular };
std::string_view growth_form_name(GrowthForm form);
const std::vector<GrowthForm>& growth_forms();

// Size is Plant::growth: 1 as planted, 2 with twice the radii. Only growth is meant: a size never falls.
struct GrowthCurve {
  GrowthForm form = GrowthForm::logistic;
  double rate = 0;     // r, 1/month; > 0
  double largest = 1;  // K: where the crown stops

  // After `months` (>= 0) from size `now` (> 0); `now` itself where that is K or more.
  double after(double now, double months) const;
  // How long until it reaches `size`; 0 where it has, nothing where it never does.
  std::optional<double> months_until(double now, double size) const;
};

}  // namespace boughlight
