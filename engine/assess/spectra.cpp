#include "assess/spectra.h"

#include "assess/output.h"

namespace boughlight {

std::vector<SpectralD> reading_spectra(const Survey& survey) {
  const std::vector<QuantityBins> outputs = source_outputs(survey.scene, Power::as_declared);
  std::vector<SpectralD> spectra;
  for (const Response& response : survey.responses) {
    SpectralD sum = SpectralD::Zero();
    const std::size_t replicates = response.direct.size() / std::max<std::size_t>(response.sources, 1);
    for (std::size_t i = 0; i < response.direct.size(); ++i) {
      const SpectralD power =
          outputs[i % response.sources].row(static_cast<int>(Quantity::irradiance)).transpose();
      sum += power * (response.direct[i] + response.indirect[i]).cast<double>() /
             static_cast<double>(replicates);
    }
    spectra.push_back(sum);
  }
  return spectra;
}

}  // namespace boughlight
