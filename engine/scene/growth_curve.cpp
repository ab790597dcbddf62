#include "scene/growth_curve.h"

#include <cmath>

namespace boughlight {

std::string_view growth_form_name(GrowthForm form) {
  switch (form) {
    case GrowthForm::logistic:
      return "logistic";
    case GrowthForm::gompertz:
      return "gompertz";
    default:
      return "monomolecular";
  }
}

const std::vector<GrowthForm>& growth_forms() {
  static const std::vector<GrowthForm> kForms = {GrowthForm::logistic, GrowthForm::gompertz,
                                                 GrowthForm::monomolecular};
  return kForms;
}

double GrowthCurve::after(double now, double months) const {
  if (now >= largest) return now;
  const double left = std::exp(-rate * months);
  switch (form) {
    case GrowthForm::logistic:
      return largest / (1 + (largest / now - 1) * left);
    case GrowthForm::gompertz:
      return largest * std::exp(std::log(now / largest) * left);
    default:
      return largest - (largest - now) * left;
  }
}

std::optional<double> GrowthCurve::months_until(double now, double size) const {
  if (size <= now) return 0.0;
  if (size >= largest || now >= largest) return std::nullopt;
  // What `left` above must have become.
  double left = 0;
  switch (form) {
    case GrowthForm::logistic:
      left = (largest / size - 1) / (largest / now - 1);
      break;
    case GrowthForm::gompertz:
      left = std::log(size / largest) / std::log(now / largest);
      break;
    default:
      left = (largest - size) / (largest - now);
      break;
  }
  return -std::log(left) / rate;
}

}  // namespace boughlight
