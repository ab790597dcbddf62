#include "published/radiosity.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "published/quadrature.h"

namespace boughlight {
namespace {

using Eigen::Vector3d;

// Gauss-Legendre of three points over [0, 1].
const double kThreeNodes[] = {0.5 - 0.5 * std::sqrt(0.6), 0.5, 0.5 + 0.5 * std::sqrt(0.6)};
const double kThreeWeights[] = {5.0 / 18, 8.0 / 18, 5.0 / 18};

// Each round leaves a quarter of the one before or less.
constexpr int kRounds = 4;

// The parabola that is 1 at node i and 0 at the two others.
double parabola(int i, double t) {
  double product = 1;
  for (int j = 0; j < 3; ++j)
    if (j != i) product *= (t - kThreeNodes[j]) / (kThreeNodes[i] - kThreeNodes[j]);
  return product;
}

// Where the i-th of n cuts lies along an edge, as a share of it.
double cut_at(int i, int n) {
  const double t = static_cast<double>(i) / n, low = t * t, high = (1 - t) * (1 - t);
  return low / (low + high);
}

}  // namespace

std::vector<Wall> box_walls(const Vector3d& size, const std::vector<double>& reflectances) {
  const Vector3d x(size.x(), 0, 0), y(0, size.y(), 0), z(0, 0, size.z()), o = Vector3d::Zero();
  std::vector<Wall> walls = {{o, x, y, Vector3d::UnitZ()}, {z, x, y, -Vector3d::UnitZ()},
                             {o, y, z, Vector3d::UnitX()}, {x, y, z, -Vector3d::UnitX()},
                             {o, x, z, Vector3d::UnitY()}, {y, x, z, -Vector3d::UnitY()}};
  for (std::size_t i = 0; i < walls.size(); ++i) walls[i].reflectance = reflectances.at(i);
  return walls;
}

double Radiosity::Patch::distance(const Vector3d& at) const {
  const Vector3d way = at - corner;
  const double a = std::clamp(way.dot(u) / u.squaredNorm(), 0.0, 1.0);
  const double b = std::clamp(way.dot(v) / v.squaredNorm(), 0.0, 1.0);
  return (way - a * u - b * v).norm();
}

Radiosity::Radiosity(const std::vector<Wall>& walls, int n, const Direct& direct)
    : walls_(walls), direct_(direct) {
  for (std::size_t w = 0; w < walls_.size(); ++w)
    for (int i = 0; i < n; ++i)
      for (int j = 0; j < n; ++j) {
        const double a = cut_at(i, n), b = cut_at(j, n);
        patches_.push_back({w, walls_[w].corner + a * walls_[w].u + b * walls_[w].v,
                            (cut_at(i + 1, n) - a) * walls_[w].u, (cut_at(j + 1, n) - b) * walls_[w].v});
      }
  const auto count = static_cast<Eigen::Index>(patches_.size());
  const auto normal_of = [&](Eigen::Index i) {
    return walls_[patches_[static_cast<std::size_t>(i)].wall].normal;
  };
  Eigen::VectorXd reflectance(count);
  for (Eigen::Index i = 0; i < count; ++i)
    reflectance[i] = walls_[patches_[static_cast<std::size_t>(i)].wall].reflectance;

  // One row for each of the nine places of each patch: the factors to all patches, and what is reflected
  // once.
  Eigen::MatrixXd to_patches(9 * count, count);
  Eigen::VectorXd once(9 * count);
  for (Eigen::Index row = 0; row < 9 * count; ++row) {
    const Vector3d at = place_of(row), normal = normal_of(row / 9);
    for (Eigen::Index j = 0; j < count; ++j)
      to_patches(row, j) = seen(at, normal, patches_[static_cast<std::size_t>(j)]);
    once[row] = sent(at, normal, [&](std::size_t patch, const Vector3d& place) {
      return direct_(place, walls_[patches_[patch].wall].normal);
    });
  }
  const auto means = [&](const Eigen::MatrixXd& rows) {
    Eigen::MatrixXd sums = Eigen::MatrixXd::Zero(count, rows.cols());
    for (Eigen::Index row = 0; row < 9 * count; ++row)
      sums.row(row / 9) += kThreeWeights[row % 9 / 3] * kThreeWeights[row % 3] * rows.row(row);
    return sums;
  };
  factors_ = means(to_patches);
  const Eigen::PartialPivLU<Eigen::MatrixXd> even(Eigen::MatrixXd::Identity(count, count) -
                                                  factors_ * reflectance.asDiagonal());
  // Solved for patches of even light; what that leaves over at the nine places is solved for in turn.
  reflected_ = Eigen::VectorXd::Zero(9 * count);
  Eigen::VectorXd left = once;
  for (int round = 0;; ++round) {
    reflected_ += left + to_patches * reflectance.cwiseProduct(even.solve(means(left)).col(0));
    if (round == kRounds) break;
    for (Eigen::Index row = 0; row < 9 * count; ++row)
      left[row] = once[row] - reflected_[row] +
                  sent(place_of(row), normal_of(row / 9),
                       [&](std::size_t patch, const Vector3d& place) { return reflected(patch, place); });
  }
}

Vector3d Radiosity::place_of(Eigen::Index row) const {
  const Patch& patch = patches_[static_cast<std::size_t>(row / 9)];
  return patch.corner + kThreeNodes[row % 9 / 3] * patch.u + kThreeNodes[row % 3] * patch.v;
}

bool Radiosity::in_its_plane(const Vector3d& at, const Patch& patch) const {
  const Wall& wall = walls_[patch.wall];
  return std::abs(wall.normal.dot(at - wall.corner)) < 1e-12;
}

double Radiosity::seen(const Vector3d& at, const Vector3d& normal, const Patch& patch) const {
  if (in_its_plane(at, patch)) return 0;
  const auto above = part_above(at, normal, patch.corners());
  return above.empty() ? 0 : polygon_factor(at, normal, above);
}

template <class Add>
void Radiosity::cut(const Patch& patch, const Vector3d& at, Add&& add) const {
  // A piece is seen from three times as far as it reaches, or is a thousandth of a millimetre.
  if (patch.distance(at) > 3 * patch.reach() || patch.reach() < 1e-6) {
    add(patch);
    return;
  }
  Patch one = patch, other = patch;
  if (patch.u.squaredNorm() > patch.v.squaredNorm()) {
    one.u = other.u = 0.5 * patch.u;
    other.corner += one.u;
  } else {
    one.v = other.v = 0.5 * patch.v;
    other.corner += one.v;
  }
  cut(one, at, add);
  cut(other, at, add);
}

template <class Lit>
double Radiosity::sent(const Vector3d& at, const Vector3d& normal, Lit&& lit) const {
  double all = 0;
  for (std::size_t j = 0; j < patches_.size(); ++j) {
    const Wall& wall = walls_[patches_[j].wall];
    if (wall.reflectance == 0 || in_its_plane(at, patches_[j])) continue;
    double sum = 0;
    cut(patches_[j], at, [&](const Patch& piece) {
      for (int k = 0; k < 9; ++k) {
        const Vector3d place = piece.corner + kThreeNodes[k / 3] * piece.u + kThreeNodes[k % 3] * piece.v;
        const Vector3d way = place - at;
        const double facing = normal.dot(way), leaving = -wall.normal.dot(way);
        if (!(facing > 0 && leaving > 0)) continue;
        const double distance2 = way.squaredNorm();
        sum += kThreeWeights[k / 3] * kThreeWeights[k % 3] * piece.area() * lit(j, place) * facing * leaving /
               (distance2 * distance2);
      }
    });
    all += sum * wall.reflectance / std::numbers::pi;
  }
  return all;
}

double Radiosity::reflected(std::size_t patch, const Vector3d& place) const {
  const Patch& on = patches_[patch];
  const Vector3d way = place - on.corner;
  const double a = way.dot(on.u) / on.u.squaredNorm(), b = way.dot(on.v) / on.v.squaredNorm();
  double across[3];
  for (int k = 0; k < 3; ++k) across[k] = parabola(k, b);
  double sum = 0;
  for (int k = 0; k < 3; ++k) {
    const double* row = reflected_.data() + 9 * patch + 3 * static_cast<std::size_t>(k);
    sum += parabola(k, a) * (across[0] * row[0] + across[1] * row[1] + across[2] * row[2]);
  }
  return sum;
}

double Radiosity::irradiance(const Vector3d& at, const Vector3d& normal) const {
  return direct_(at, normal) + sent(at, normal, [&](std::size_t patch, const Vector3d& place) {
           return direct_(place, walls_[patches_[patch].wall].normal) + reflected(patch, place);
         });
}

double Radiosity::factor(std::size_t from, std::size_t to) const {
  double sum = 0, area = 0;
  for (std::size_t i = 0; i < patches_.size(); ++i) {
    if (patches_[i].wall != from) continue;
    area += patches_[i].area();
    for (std::size_t j = 0; j < patches_.size(); ++j)
      if (patches_[j].wall == to)
        sum += patches_[i].area() * factors_(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j));
  }
  return sum / area;
}

}  // namespace boughlight
