// spectra.csv: one row a bin of wavelengths, one column a reading.
#include <fmt/format.h>

#include "assess/spectra.h"
#include "report/text.h"
#include "report/write.h"

namespace boughlight {

std::string spectra_csv(const Survey& survey) {
  const std::vector<SpectralD> spectra = reading_spectra(survey);
  std::string out = "from_nm,to_nm";
  for (std::size_t i = 0; i < spectra.size(); ++i)
    out += "," + csv_field(fmt::format("{} [W/(m2 nm)]", printable(survey.readings[i].name)));
  out += '\n';
  for (std::size_t bin = 0; bin < static_cast<std::size_t>(kBins); ++bin) {
    const double from = kBinEdgesNm[bin], to = kBinEdgesNm[bin + 1];
    out += fmt::format("{},{}", from, to);
    for (std::size_t i = 0; i < spectra.size(); ++i)
      out += "," + six_digit_text(spectra[i][static_cast<Eigen::Index>(bin)] / (to - from),
                                  survey.readings[i].name);
    out += '\n';
  }
  return out;
}

}  // namespace boughlight
