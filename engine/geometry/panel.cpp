#include "geometry/panel.h"

#include <algorithm>
#include <cmath>

namespace boughlight {

MeshOptics::MeshOptics(const Material& material) : reflectance_(material.reflectance.cast<float>()) {
  if (material.flat) {
    flat_ = static_cast<float>(*material.flat);
    reflectance_.setZero();
  } else {
    ratio_u_ = static_cast<float>(material.wire / material.pitch[0]);
    ratio_v_ = static_cast<float>(material.wire / material.pitch[1]);
    // Of what a wire sends out, a share x / (1 + x) meets another wire, x the mean of wire / pitch, and is
    // sent out again or kept, time after time: rho / (1 + x (1 - rho)) leaves in all. White wires lose
    // nothing. The share was found by tracing woven wires as curves; see tests/geometry/woven_wires_test.cpp.
    const float crowding = 0.5f * (ratio_u_ + ratio_v_);
    reflectance_ /= 1 + crowding * (1 - reflectance_);
  }
}

namespace {

// sec psi, psi the angle from the normal as seen along the wires of a family.
float secant(float tangent) {
  return std::sqrt(1 + tangent * tangent);
}
// What a family of wires leaves open.
float open_share(float ratio, float secant) {
  return std::max(0.0f, 1 - ratio * secant);
}

}  // namespace

float MeshOptics::straight(float tan_u, float tan_v) const {
  if (flat_ >= 0) return flat_;
  return open_share(ratio_u_, secant(tan_u)) * open_share(ratio_v_, secant(tan_v));
}

MeshShares MeshOptics::shares(float tan_u, float tan_v) const {
  if (flat_ >= 0) return {flat_, 0, 0};
  const float sec_u = secant(tan_u), sec_v = secant(tan_v);
  const float open_u = open_share(ratio_u_, sec_u), open_v = open_share(ratio_v_, sec_v);
  const float hit_u = 1 - open_u, hit_v = open_u * (1 - open_v);
  // A diffuse round wire sends (1 + (pi/4) cos psi) / 2 of what it reflects back to the side the light came
  // from.
  constexpr float kQuarterPi = 0.78539816f;
  const float back_u = 0.5f * (1 + kQuarterPi / sec_u), back_v = 0.5f * (1 + kQuarterPi / sec_v);
  const float back = hit_u * back_u + hit_v * back_v;
  return {open_u * open_v, back, hit_u + hit_v - back};
}

double PaneOptics::internal_transmittance(double total, double index) {
  // total = (1 - R)^2 t / (1 - R^2 t^2), solved for t in the form that stays exact for R -> 0.
  const double r = (index - 1) / (index + 1), reflectance = r * r;
  const double pass = (1 - reflectance) * (1 - reflectance);
  const double t =
      2 * total / (pass + std::sqrt(pass * pass + 4 * reflectance * reflectance * total * total));
  return std::clamp(t, 0.0, 1.0);
}

PaneOptics::PaneOptics(const Material& material) : index_(static_cast<float>(material.index)) {
  for (int bin = 0; bin < kBins; ++bin) {
    const double t = internal_transmittance(material.transmittance[bin], material.index);
    log_internal_[bin] = static_cast<float>(std::log(std::max(t, 1e-80)));
  }
}

void PaneOptics::evaluate(float cosine, Spectral& transmittance, Spectral& reflectance) const {
  const float sine_inside = std::sqrt(std::max(0.0f, 1 - cosine * cosine)) / index_;
  const float cosine_inside = std::sqrt(std::max(0.0f, 1 - sine_inside * sine_inside));
  const float amplitude_s = (cosine - index_ * cosine_inside) / (cosine + index_ * cosine_inside);
  const float amplitude_p = (index_ * cosine - cosine_inside) / (index_ * cosine + cosine_inside);
  const Spectral inside = (log_internal_ / cosine_inside).exp();
  transmittance.setZero();
  reflectance.setZero();
  for (const float face : {amplitude_s * amplitude_s, amplitude_p * amplitude_p}) {
    const float pass = (1 - face) * (1 - face);
    const Spectral series = inside / (1 - face * face * inside * inside).max(1e-12f);
    transmittance += 0.5f * pass * series;
    reflectance += 0.5f * (face + face * pass * inside * series);
  }
}

}  // namespace boughlight
