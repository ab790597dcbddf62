// A surface of triangles, as of an OBJ model: its shape, whether it is closed, and what lies inside it.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "spectrum/emitter.h"

namespace boughlight {

using Triangle = std::array<std::uint32_t, 3>;  // corners, as indices into the vertices

// A place where a shell is not as it should be: the middle of an edge of a triangle.
struct ShellFault {
  std::size_t triangle = 0;
  Vec3 at = Vec3::Zero();
};

class Shell {
 public:
  // Vertices in metres, within single precision's range. They are rounded to single precision, as the rays
  // meet them, and those that come to lie at the same place become one.
  Shell(const std::vector<Vec3>& vertices, const std::vector<Triangle>& triangles);

  const std::vector<Vec3>& vertices() const { return vertices_; }
  const std::vector<Triangle>& triangles() const { return triangles_; }
  // How many of the triangles given have no area: nothing meets them. Those with two corners at one place
  // are left out; those with three on one line stay, as leaving them out would tear their neighbours apart.
  std::size_t without_area() const { return without_area_; }
  double area() const;                      // m2, of one side
  const Vec3& low() const { return low_; }  // corners of the box around it
  const Vec3& high() const { return high_; }

  // Edges that an odd number of triangles share: there the surface has a rim, and so a hole. In order of
  // their first triangle; triangles count as given to the constructor.
  std::size_t open_edges() const { return open_edges_; }
  const ShellFault& first_open() const { return first_open_; }
  // Edges of an even number of triangles that do not run along it as often one way as the other: the
  // triangles there do not agree which side is outside.
  std::size_t turned_edges() const { return turned_edges_; }
  const ShellFault& first_turned() const { return first_turned_; }

  // Whether it encloses a space: no open edge.
  bool closed() const { return open_edges_ == 0; }
  // m3, positive where the triangles, their corners counter-clockwise, are seen from outside; meaningful for
  // a closed shell without turned edges.
  double signed_volume() const;

  // Whether a place is inside, and not on the surface (to single precision). A closed shell whose triangles
  // agree on their sides contains what it winds around: parts that overlap add up, a hollow's inside is out.
  // Where they do not agree, an odd number of crossings leads inside. An open one contains nothing.
  bool contains(const Vec3& place) const;

  // The stretches inside along the upright line through x, y: from and to, rising.
  using Stretch = std::array<double, 2>;
  void stretches(double x, double y, std::vector<Stretch>& inside) const;

  // Whether a triangle may touch the box; false only where none does.
  bool may_touch(const Vec3& low, const Vec3& high) const;

 private:
  struct Crossing {
    double z;
    int step;  // what the winding number gains on the way down through the triangle
  };
  void find_faults(const std::vector<std::size_t>& given);
  void fill_columns();
  template <class Visit>
  void visit_column(double x, double y, Visit&& visit) const;
  bool is_inside(int winding, int crossings) const {
    return turned_edges_ == 0 ? winding != 0 : crossings % 2 != 0;
  }
  std::array<int, 2> column_of(double x, double y) const;

  std::vector<Vec3> vertices_;
  std::vector<Triangle> triangles_;
  std::size_t without_area_ = 0;
  Vec3 low_ = Vec3::Zero(), high_ = Vec3::Zero();
  std::size_t open_edges_ = 0, turned_edges_ = 0;
  ShellFault first_open_, first_turned_;
  // Upright columns over the outline seen from above, and the triangles that reach into each.
  std::array<int, 2> columns_{};
  std::vector<std::size_t> column_start_;  // one more than there are columns
  std::vector<std::uint32_t> column_triangles_;
};

}  // namespace boughlight
