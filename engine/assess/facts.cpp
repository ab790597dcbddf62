#include "assess/facts.h"

#include <algorithm>
#include <cmath>

namespace boughlight {

BandMeans band_means(const SpectralD& factor) {
  const auto mean = [&](double from_nm, double to_nm) {
    double sum = 0;
    for (int bin = bin_of(from_nm); bin < kBins && kBinEdgesNm[bin + 1] <= to_nm; ++bin) {
      sum += factor[bin] * (kBinEdgesNm[bin + 1] - kBinEdgesNm[bin]);
    }
    return sum / (to_nm - from_nm);
  };
  return {mean(280, 315), mean(315, 400), mean(400, 700), mean(700, 2500), mean(2500, 25000)};
}

bool is_of_inches(std::string_view length_unit) {
  return length_unit == "in" || length_unit == "inch" || length_unit == "ft";
}

std::optional<double> open_share(const Material& material) {
  if (material.kind != SurfaceKind::mesh) return std::nullopt;
  const double one_layer = material.flat.value_or(std::max(0.0, 1 - material.wire / material.pitch[0]) *
                                                  std::max(0.0, 1 - material.wire / material.pitch[1]));
  return std::pow(one_layer, material.layers) * material.soiling;
}

double lowest_point_z(const Lamp& lamp) {
  const Vec3 down_local = lamp.scene_from_local().transpose() * -Vec3::UnitZ();
  return lamp.at.z() - lamp.fixture->emitter->extent(down_local);
}

std::optional<double> gap_above_enclosure(const Scene& scene, const Lamp& lamp) {
  std::optional<double> top;
  for (const Box& box : scene.boxes) {
    const Vec3 far = box.far_corner();
    const bool below = lamp.at.x() >= box.corner.x() && lamp.at.x() <= far.x() &&
                       lamp.at.y() >= box.corner.y() && lamp.at.y() <= far.y();
    if (below) top = std::max(top.value_or(far.z()), far.z());
  }
  if (!top || lowest_point_z(lamp) < *top) return std::nullopt;
  return lowest_point_z(lamp) - *top;
}

}  // namespace boughlight
