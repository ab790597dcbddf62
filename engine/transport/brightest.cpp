#include "transport/brightest.h"

#include <algorithm>
#include <vector>

#include "transport/directions.h"

namespace boughlight {

Brightest brightest_orientation(const DirectedLight& light, const Eigen::ArrayXf& scale) {
  if (light.directions.cols() == 0) return {};
  const Eigen::ArrayXf weights = (light.values.colwise() * scale).colwise().sum().transpose();
  // One coordinate after another, so that whole registers are filled.
  const Eigen::ArrayXf x = light.directions.row(0), y = light.directions.row(1), z = light.directions.row(2);
  Eigen::ArrayXf seen(weights.size());
  const auto seen_by = [&](const Vec3f& normal) -> Vec3f {
    seen = (normal.x() * x + normal.y() * y + normal.z() * z > 0).select(weights, 0.0f);
    return {(seen * x).sum(), (seen * y).sum(), (seen * z).sum()};
  };
  Brightest best;
  // What was seen on the ways so far: a way that sees the same goes on alike.
  std::vector<Vec3f> known;
  const auto consider = [&](Vec3f normal) {
    constexpr int kSteps = 12;
    for (int step = 0; step < kSteps; ++step) {
      const Vec3f sum = seen_by(normal);
      const float value = normal.dot(sum), length = sum.norm();
      if (value > best.value) best = {normal, value};
      const Vec3f turned = sum / length;
      if (!(length > 0) || turned.dot(normal) > 1 - 1e-7f ||
          std::find(known.begin(), known.end(), sum) != known.end())
        return;
      known.push_back(sum);
      normal = turned;
    }
  };
  // The whole light's mean direction first: nearly always the answer. The orientations then catch places lit
  // from two opposite sides.
  consider(Vec3f::UnitZ());
  for (const Vec3f& orientation : orientations()) consider(orientation);
  return best;
}

Brightest steady_brightest(const DirectedLight& light, const Eigen::ArrayXf& scale, const Vec3f& usual) {
  constexpr float kEnough = 0.999f;
  const Brightest best = brightest_orientation(light, scale);
  if (light.directions.cols() == 0) return best;
  const Eigen::ArrayXf weights = (light.values.colwise() * scale).colwise().sum().transpose();
  const Eigen::ArrayXf cosines =
      (usual.transpose() * light.directions.matrix()).transpose().array().max(0.0f);
  const float along = (weights * cosines).sum();
  if (along >= kEnough * best.value) return {usual, along};
  return {steady_direction(best.direction), best.value};
}

}  // namespace boughlight
