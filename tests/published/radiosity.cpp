#include "published/radiosity.h"

#include <cmath>

#include "published/quadrature.h"

namespace boughlight {

using Eigen::Vector3d;

std::vector<Wall> box_walls(const Vector3d& size, const std::vector<double>& reflectances) {
  const Vector3d x(size.x(), 0, 0), y(0, size.y(), 0), z(0, 0, size.z()), o = Vector3d::Zero();
  std::vector<Wall> walls = {{o, x, y, Vector3d::UnitZ()}, {z, x, y, -Vector3d::UnitZ()},
                             {o, y, z, Vector3d::UnitX()}, {x, y, z, -Vector3d::UnitX()},
                             {o, x, z, Vector3d::UnitY()}, {y, x, z, -Vector3d::UnitY()}};
  for (std::size_t i = 0; i < walls.size(); ++i) walls[i].reflectance = reflectances.at(i);
  return walls;
}

Radiosity::Radiosity(const std::vector<Wall>& walls, int n, const Direct& direct)
    : walls_(walls), direct_(direct) {
  for (std::size_t w = 0; w < walls_.size(); ++w) {
    const Vector3d u = walls_[w].u / n, v = walls_[w].v / n;
    for (int i = 0; i < n; ++i)
      for (int j = 0; j < n; ++j) {
        const Vector3d c = walls_[w].corner + i * u + j * v;
        patches_.push_back({w, {c, c + u, c + u + v, c + v}});
      }
  }
  const auto count = static_cast<Eigen::Index>(patches_.size());
  factors_ = Eigen::MatrixXd::Zero(count, count);
  Eigen::VectorXd first = Eigen::VectorXd::Zero(count);
  // Mean over each patch by 2 x 2 Gauss-Legendre points.
  const double low = 0.5 - 0.5 / std::sqrt(3.0);
  for (Eigen::Index i = 0; i < count; ++i) {
    const Patch& patch = patches_[static_cast<std::size_t>(i)];
    const Vector3d& normal = walls_[patch.wall].normal;
    for (const double a : {low, 1 - low})
      for (const double b : {low, 1 - low}) {
        const Vector3d at = patch.corners[0] + a * (patch.corners[1] - patch.corners[0]) +
                            b * (patch.corners[3] - patch.corners[0]);
        first[i] += direct_(at, normal) / 4;
        for (Eigen::Index j = 0; j < count; ++j)
          factors_(i, j) += seen(at, normal, patches_[static_cast<std::size_t>(j)]) / 4;
      }
  }
  Eigen::VectorXd reflectance(count);
  for (Eigen::Index j = 0; j < count; ++j)
    reflectance[j] = walls_[patches_[static_cast<std::size_t>(j)].wall].reflectance;
  const Eigen::MatrixXd system =
      Eigen::MatrixXd::Identity(count, count) - factors_ * reflectance.asDiagonal();
  irradiance_ = system.partialPivLu().solve(first);
}

double Radiosity::seen(const Vector3d& at, const Vector3d& normal, const Patch& patch) const {
  const Wall& wall = walls_[patch.wall];
  if (std::abs(wall.normal.dot(at - wall.corner)) < 1e-12) return 0;  // in its plane
  const auto above = part_above(at, normal, patch.corners);
  return above.empty() ? 0 : polygon_factor(at, normal, above);
}

double Radiosity::by_patches(const Vector3d& at, const Vector3d& normal) const {
  double sum = direct_(at, normal);
  for (std::size_t j = 0; j < patches_.size(); ++j)
    sum += seen(at, normal, patches_[j]) * walls_[patches_[j].wall].reflectance *
           irradiance_[static_cast<Eigen::Index>(j)];
  return sum;
}

double Radiosity::irradiance(const Vector3d& at, const Vector3d& normal) const {
  double sum = direct_(at, normal);
  for (std::size_t j = 0; j < patches_.size(); ++j) {
    const Patch& patch = patches_[j];
    if (!(seen(at, normal, patch) > 0)) continue;
    const Wall& wall = walls_[patch.wall];
    const Vector3d u = patch.corners[1] - patch.corners[0], v = patch.corners[3] - patch.corners[0];
    // A near patch is not even: it is cut up, and each part has the light that falls on its own middle.
    const double near = 1.5 * (u + v).norm();
    const int parts = (patch.corners[0] + 0.5 * (u + v) - at).norm() < near ? 6 : 1;
    for (int a = 0; a < parts; ++a)
      for (int b = 0; b < parts; ++b) {
        const Vector3d du = u / parts, dv = v / parts, c = patch.corners[0] + a * du + b * dv;
        const double lit = parts == 1 ? irradiance_[static_cast<Eigen::Index>(j)]
                                      : by_patches(c + 0.5 * (du + dv), wall.normal);
        sum += seen(at, normal, {patch.wall, {c, c + du, c + du + dv, c + dv}}) * wall.reflectance * lit;
      }
  }
  return sum;
}

double Radiosity::mean(std::size_t wall) const {
  double sum = 0, patches = 0;
  for (std::size_t j = 0; j < patches_.size(); ++j)
    if (patches_[j].wall == wall) sum += irradiance_[static_cast<Eigen::Index>(j)], patches += 1;
  return sum / patches;
}

double Radiosity::factor(std::size_t from, std::size_t to) const {
  double sum = 0, rows = 0;
  for (std::size_t i = 0; i < patches_.size(); ++i) {
    if (patches_[i].wall != from) continue;
    rows += 1;
    for (std::size_t j = 0; j < patches_.size(); ++j)
      if (patches_[j].wall == to) sum += factors_(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j));
  }
  return sum / rows;
}

}  // namespace boughlight
