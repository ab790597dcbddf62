// Light between flat matte walls by the radiosity equations, patch by patch: shares nothing with the engine's
// rays. What the lamps light is taken as it is, from place to place; light that has been reflected before is
// found at nine places of each patch.
#pragma once

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

namespace boughlight {

struct Wall {
  Eigen::Vector3d corner, u, v;  // edges, at right angles, m
  Eigen::Vector3d normal;        // unit, on the side that sees
  double reflectance = 0;
};

// The six inner faces of a box at the origin: floor, top, left, right, front, back.
std::vector<Wall> box_walls(const Eigen::Vector3d& size, const std::vector<double>& reflectances);

class Radiosity {
 public:
  // Each wall cut into n x n patches, the smaller the closer they are to its edges. `direct`: irradiance of a
  // place with a normal by the lamps alone, W/m2.
  using Direct = std::function<double(const Eigen::Vector3d& at, const Eigen::Vector3d& normal)>;
  Radiosity(const std::vector<Wall>& walls, int n, const Direct& direct);

  // Irradiance of a small element anywhere among the walls, where nothing stands between them: on a wall,
  // looking away from it, or in the air, looking any way.
  double irradiance(const Eigen::Vector3d& at, const Eigen::Vector3d& normal) const;
  // Share of what one wall sends by the cosine law that falls on another.
  double factor(std::size_t from, std::size_t to) const;

 private:
  struct Patch {
    std::size_t wall;
    Eigen::Vector3d corner, u, v;
    double area() const { return u.norm() * v.norm(); }
    double reach() const { return (u + v).norm(); }
    Eigen::Vector3d middle() const { return corner + 0.5 * (u + v); }
    double distance(const Eigen::Vector3d& at) const;
    std::vector<Eigen::Vector3d> corners() const { return {corner, corner + u, corner + u + v, corner + v}; }
  };
  // Calls add(piece) for pieces of a patch that are small as seen from a place.
  template <class Add>
  void cut(const Patch& patch, const Eigen::Vector3d& at, Add&& add) const;
  // Irradiance by what the walls send of the light that falls on them as lit(patch, place) says, W/m2.
  template <class Lit>
  double sent(const Eigen::Vector3d& at, const Eigen::Vector3d& normal, Lit&& lit) const;
  // Irradiance of a place on a patch by light that has been reflected at least once.
  double reflected(std::size_t patch, const Eigen::Vector3d& place) const;
  Eigen::Vector3d place_of(Eigen::Index row) const;  // nine places a patch
  bool in_its_plane(const Eigen::Vector3d& at, const Patch& patch) const;
  double seen(const Eigen::Vector3d& at, const Eigen::Vector3d& normal, const Patch& patch) const;

  std::vector<Wall> walls_;
  std::vector<Patch> patches_;
  Direct direct_;
  Eigen::MatrixXd factors_;    // of row i to column j, for the mean over patch i
  Eigen::VectorXd reflected_;  // see reflected(), nine places a patch
};

// The light of a point that sends 1000 W all round.
inline Radiosity::Direct point_lamp(const Eigen::Vector3d& lamp) {
  return [lamp](const Eigen::Vector3d& at, const Eigen::Vector3d& normal) {
    const Eigen::Vector3d way = lamp - at;
    return 1000 / (4 * std::numbers::pi) * std::max(0.0, normal.dot(way)) / std::pow(way.norm(), 3);
  };
}

}  // namespace boughlight
