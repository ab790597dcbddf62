#include "published/quadrature.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>

#include <cmath>
#include <memory>
#include <numbers>
#include <stdexcept>

namespace boughlight {

double quadrature(const std::function<double(double)>& f, double a, double b) {
  constexpr std::size_t kPieces = 2000;
  gsl_set_error_handler_off();  // failures come back as a status instead of ending the program
  const std::unique_ptr<gsl_integration_workspace, void (*)(gsl_integration_workspace*)> space(
      gsl_integration_workspace_alloc(kPieces), gsl_integration_workspace_free);
  gsl_function function;
  function.function = [](double x, void* self) {
    return (*static_cast<std::function<double(double)>*>(self))(x);
  };
  auto copy = f;
  function.params = &copy;
  double result = 0, error = 0;
  const int status = gsl_integration_qag(&function, a, b, 1e-12, 1e-7, kPieces, GSL_INTEG_GAUSS21,
                                         space.get(), &result, &error);
  if (status != GSL_SUCCESS) throw std::runtime_error(gsl_strerror(status));
  return result;
}

double quadrature(const std::function<double(double, double)>& f, double a, double b, double c, double d) {
  return quadrature([&](double x) { return quadrature([&](double y) { return f(x, y); }, c, d); }, a, b);
}

double polygon_factor(const Eigen::Vector3d& at, const Eigen::Vector3d& normal,
                      const std::vector<Eigen::Vector3d>& corners) {
  double sum = 0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Eigen::Vector3d a = (corners[i] - at).normalized();
    const Eigen::Vector3d b = (corners[(i + 1) % corners.size()] - at).normalized();
    const Eigen::Vector3d edge = a.cross(b);
    const double sine = edge.norm();
    if (sine > 0) sum += std::atan2(sine, a.dot(b)) * normal.dot(edge) / sine;
  }
  return std::abs(sum) / (2 * std::numbers::pi);
}

std::vector<Eigen::Vector3d> part_above(const Eigen::Vector3d& at, const Eigen::Vector3d& normal,
                                        const std::vector<Eigen::Vector3d>& corners) {
  std::vector<Eigen::Vector3d> above;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Eigen::Vector3d &from = corners[i], &to = corners[(i + 1) % corners.size()];
    const double start = normal.dot(from - at), end = normal.dot(to - at);
    if (start >= 0) above.push_back(from);
    if (start * end < 0) above.push_back(from + start / (start - end) * (to - from));
  }
  return above.size() < 3 ? std::vector<Eigen::Vector3d>() : above;
}

}  // namespace boughlight
