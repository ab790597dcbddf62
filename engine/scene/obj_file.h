// Polygons from a Wavefront OBJ file. Private to this room.
#pragma once

#include <filesystem>
#include <vector>

#include "scene/shell.h"

namespace boughlight {

// All models of a scene together may have this many triangles: some 600 MB, most of it for the rays.
inline constexpr std::size_t kMostTriangles = 2'000'000;
inline constexpr std::size_t kMostObjBytes = std::size_t{256} << 20;

struct ObjSurface {
  std::vector<Vec3> vertices;       // as they stand in the file
  std::vector<Triangle> triangles;  // the faces, cut where they have more corners
  std::vector<int> lines;           // of the face that each triangle comes from
};

// Reads vertices and faces; groups, normals, textures and materials do not matter here and are passed over.
// Throws InputError with the line of every mistake: what is not a line of an OBJ file, numbers that are none
// or not finite, corners that are not there, faces that cross themselves, free-form surfaces; or when there
// is no face, or more than kMostTriangles.
ObjSurface read_obj(const std::filesystem::path& file);

}  // namespace boughlight
