// GSL's adaptive quadrature, for references that share nothing with the engine; and Lambert's formula for
// polygons.
#pragma once

#include <Eigen/Dense>
#include <functional>
#include <vector>

namespace boughlight {

// Integral over [a, b] to a relative 1e-7, whatever kinks lie between. Throws where GSL gives up.
double quadrature(const std::function<double(double)>& f, double a, double b);
// The same over a <= x <= b, c <= y <= d.
double quadrature(const std::function<double(double, double)>& f, double a, double b, double c, double d);

// The configuration factor from a small flat element at `at` with unit normal `normal` to a polygon that lies
// wholly on the side the element looks to: 1/(2 pi) times the sum over edges of angle x (edge's normal .
// normal), J. H. Lambert, Photometria, 1760 (form as in textbooks, from memory). Positive either way round.
double polygon_factor(const Eigen::Vector3d& at, const Eigen::Vector3d& normal,
                      const std::vector<Eigen::Vector3d>& corners);

// What of a polygon lies on the side of a plane that `normal` points to; empty where nothing does.
std::vector<Eigen::Vector3d> part_above(const Eigen::Vector3d& at, const Eigen::Vector3d& normal,
                                        const std::vector<Eigen::Vector3d>& corners);

}  // namespace boughlight
