// Light between flat matte walls by the radiosity equations, patch by patch: shares nothing with the engine's
// rays.
#pragma once

#include <Eigen/Dense>
#include <functional>
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
  // Each wall cut into n x n patches. `direct`: irradiance of a place with a normal by the lamps alone, W/m2.
  using Direct = std::function<double(const Eigen::Vector3d& at, const Eigen::Vector3d& normal)>;
  Radiosity(const std::vector<Wall>& walls, int n, const Direct& direct);

  // Irradiance of a small element anywhere among the walls, where nothing stands between them: on a wall,
  // looking away from it, or in the air, looking any way.
  double irradiance(const Eigen::Vector3d& at, const Eigen::Vector3d& normal) const;
  // Mean over a wall.
  double mean(std::size_t wall) const;
  // Share of what one wall sends by the cosine law that falls on another.
  double factor(std::size_t from, std::size_t to) const;

 private:
  struct Patch {
    std::size_t wall;
    std::vector<Eigen::Vector3d> corners;
  };
  double by_patches(const Eigen::Vector3d& at, const Eigen::Vector3d& normal) const;
  double seen(const Eigen::Vector3d& at, const Eigen::Vector3d& normal, const Patch& patch) const;
  std::vector<Wall> walls_;
  std::vector<Patch> patches_;
  Direct direct_;
  Eigen::MatrixXd factors_;     // of row i to column j, for the mean over patch i
  Eigen::VectorXd irradiance_;  // of each patch
};

}  // namespace boughlight
