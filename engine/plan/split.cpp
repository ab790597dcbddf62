#include "plan/split.h"

#include <numeric>

#include "assess/judge.h"

namespace boughlight {
namespace {

double mean(const Replicates& replicates) {
  return std::accumulate(replicates.begin(), replicates.end(), 0.0) / kReplicates;
}

}  // namespace

Figure Split::figure(double output) const {
  std::vector<double> sums(kReplicates);
  for (std::size_t k = 0; k < sums.size(); ++k) sums[k] = rest[k] + output * lamp[k];
  return figure_of(sums);
}

double Split::rest_mean() const {
  return mean(rest);
}

double Split::lamp_mean() const {
  return mean(lamp);
}

}  // namespace boughlight
