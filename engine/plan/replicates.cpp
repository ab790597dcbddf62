#include "plan/replicates.h"

#include "assess/judge.h"

namespace boughlight {

Replicates facing_replicates(const Response& response, const std::vector<SpectralD>& weights) {
  Replicates values{};
  for (int replicate = 0; replicate < kReplicates; ++replicate)
    for (std::size_t source = 0; source < response.sources; ++source) {
      const std::size_t at = response.at(replicate, source);
      values[static_cast<std::size_t>(replicate)] +=
          ((response.direct[at] + response.indirect[at]).cast<double>() * weights[source]).sum();
    }
  return values;
}

Figure figure_of(const Replicates& replicates) {
  return figure_of(std::vector<double>(replicates.begin(), replicates.end()));
}

}  // namespace boughlight
