// Closed surfaces of known shape, and a second opinion on what is inside one.
#pragma once

#include <array>
#include <cmath>
#include <map>
#include <memory>
#include <numbers>
#include <string>

#include "scene/model.h"

namespace boughlight::kit {

struct Surface {
  std::vector<Vec3> vertices;
  std::vector<Triangle> triangles;

  Shell shell() const { return Shell(vertices, triangles); }
  Surface turned(const Eigen::Matrix3d& rotation, const Vec3& shift) const {
    Surface other = *this;
    for (Vec3& vertex : other.vertices) vertex = rotation * vertex + shift;
    return other;
  }
  // Beside this one, in one surface.
  Surface with(const Surface& other) const {
    Surface both = *this;
    const auto first = static_cast<std::uint32_t>(vertices.size());
    both.vertices.insert(both.vertices.end(), other.vertices.begin(), other.vertices.end());
    for (const Triangle& t : other.triangles)
      both.triangles.push_back({first + t[0], first + t[1], first + t[2]});
    return both;
  }
  Surface inside_out() const {
    Surface other = *this;
    for (Triangle& t : other.triangles) std::swap(t[0], t[1]);
    return other;
  }
  std::string obj() const {
    std::string text;
    for (const Vec3& v : vertices)
      text += "v " + std::to_string(v.x()) + " " + std::to_string(v.y()) + " " + std::to_string(v.z()) + "\n";
    for (const Triangle& t : triangles)
      text += "f " + std::to_string(t[0] + 1) + " " + std::to_string(t[1] + 1) + " " +
              std::to_string(t[2] + 1) + "\n";
    return text;
  }
};

// A box about the origin.
inline Surface box_surface(const Vec3& size) {
  Surface box;
  for (unsigned i = 0; i < 8; ++i) {
    const Vec3 side(i & 1U ? 0.5 : -0.5, i & 2U ? 0.5 : -0.5, i & 4U ? 0.5 : -0.5);
    box.vertices.push_back(size.cwiseProduct(side));
  }
  constexpr std::array<std::array<std::uint32_t, 4>, 6> kFaces = {
      {{0, 4, 6, 2}, {1, 3, 7, 5}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 2, 3, 1}, {4, 5, 7, 6}}};
  for (const auto& f : kFaces) {
    box.triangles.push_back({f[0], f[1], f[2]});
    box.triangles.push_back({f[0], f[2], f[3]});
  }
  return box;
}

// A ball about the origin: an icosahedron whose edges have been halved `times` over, all corners on the
// sphere.
inline Surface ball_surface(double radius, int times) {
  const double g = std::numbers::phi;
  Surface ball;
  for (const Vec3& v :
       {Vec3(-1, g, 0), Vec3(1, g, 0), Vec3(-1, -g, 0), Vec3(1, -g, 0), Vec3(0, -1, g), Vec3(0, 1, g),
        Vec3(0, -1, -g), Vec3(0, 1, -g), Vec3(g, 0, -1), Vec3(g, 0, 1), Vec3(-g, 0, -1), Vec3(-g, 0, 1)})
    ball.vertices.push_back(radius * v.normalized());
  ball.triangles = {{0, 11, 5},  {0, 5, 1},  {0, 1, 7},  {0, 7, 10}, {0, 10, 11}, {1, 5, 9}, {5, 11, 4},
                    {11, 10, 2}, {10, 7, 6}, {7, 1, 8},  {3, 9, 4},  {3, 4, 2},   {3, 2, 6}, {3, 6, 8},
                    {3, 8, 9},   {4, 9, 5},  {2, 4, 11}, {6, 2, 10}, {8, 6, 7},   {9, 8, 1}};
  for (int i = 0; i < times; ++i) {
    std::map<std::pair<std::uint32_t, std::uint32_t>, std::uint32_t> middles;
    const auto middle = [&](std::uint32_t a, std::uint32_t b) {
      const auto [at, fresh] = middles.emplace(std::minmax(a, b), ball.vertices.size());
      if (fresh) ball.vertices.push_back(radius * (ball.vertices[a] + ball.vertices[b]).normalized());
      return at->second;
    };
    std::vector<Triangle> finer;
    for (const auto& [a, b, c] : ball.triangles) {
      const std::uint32_t ab = middle(a, b), bc = middle(b, c), ca = middle(c, a);
      finer.insert(finer.end(), {{a, ab, ca}, {b, bc, ab}, {c, ca, bc}, {ab, bc, ca}});
    }
    ball.triangles = finer;
  }
  return ball;
}

// A ring about the z axis, its axis a circle of radius `large`.
inline Surface ring_surface(double large, double small, std::uint32_t around = 48,
                            std::uint32_t across = 24) {
  Surface ring;
  for (std::uint32_t i = 0; i < around; ++i)
    for (std::uint32_t k = 0; k < across; ++k) {
      const double a = 2 * std::numbers::pi * i / around, b = 2 * std::numbers::pi * k / across;
      const double r = large + small * std::cos(b);
      ring.vertices.emplace_back(r * std::cos(a), r * std::sin(a), small * std::sin(b));
    }
  const auto at = [&](std::uint32_t i, std::uint32_t k) { return i % around * across + k % across; };
  for (std::uint32_t i = 0; i < around; ++i)
    for (std::uint32_t k = 0; k < across; ++k) {
      ring.triangles.push_back({at(i, k), at(i + 1, k), at(i + 1, k + 1)});
      ring.triangles.push_back({at(i, k), at(i + 1, k + 1), at(i, k + 1)});
    }
  return ring;
}

// How often a closed surface winds around a place: the sum of the solid angles of its triangles over 4 pi
// (A. van Oosterom and J. Strackee, "The solid angle of a plane triangle", IEEE Trans. Biomed. Eng. 30,
// 1983).
inline double winding_number(const Shell& shell, const Vec3& place) {
  double sum = 0;
  for (const Triangle& t : shell.triangles()) {
    const Vec3 a = shell.vertices()[t[0]] - place, b = shell.vertices()[t[1]] - place,
               c = shell.vertices()[t[2]] - place;
    const double la = a.norm(), lb = b.norm(), lc = c.norm();
    const double above = a.dot(b.cross(c));
    const double below = la * lb * lc + a.dot(b) * lc + b.dot(c) * la + c.dot(a) * lb;
    if (std::abs(above) <= 1e-6 * la * lb * lc && below <= 0) return std::nan("");
    sum += 2 * std::atan2(above, below);
  }
  return sum / (4 * std::numbers::pi);
}

inline Model& add_model(Scene& scene, const Surface& surface, int material) {
  Model model;
  model.name = "model " + std::to_string(scene.models.size() + 1);
  model.file = "made.obj";
  model.shell = std::make_shared<const Shell>(surface.shell());
  model.material = material;
  scene.models.push_back(model);
  return scene.models.back();
}

inline Eigen::Matrix3d some_turn() {
  return (Eigen::AngleAxisd(0.4, Vec3(1, 2, 3).normalized()) * Eigen::AngleAxisd(1.1, Vec3::UnitX()))
      .toRotationMatrix();
}

}  // namespace boughlight::kit
