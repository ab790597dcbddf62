// The boxes of the enclosure and their faces.

#include <fmt/format.h>

#include <algorithm>

#include "scene/enclosure.h"
#include "scene/scene_reader.h"

namespace boughlight {

namespace {

bool overlap(const Box& below, const Box& above) {
  for (Eigen::Index axis : {0, 1}) {
    const double from = std::max(below.corner[axis], above.corner[axis]);
    const double to = std::min(below.far_corner()[axis], above.far_corner()[axis]);
    if (to - from < 1e-6) return false;
  }
  return true;
}

}  // namespace

void SceneReader::read_enclosure(const Field& field) {
  const auto items = field.list("a list of boxes");
  if (!items) return;
  if (items->empty()) field.fail("holds no box: at least one is needed");
  std::vector<std::optional<Field>> faces;
  bool sound = true;  // sizes and offsets of all boxes are known
  for (const Field& item : *items) {
    const Fields keys(item, format::box);
    Box box;
    if (const auto name = keys.name("box")) {
      box.name = *name;
      box_names_.take(*keys.get("box"), *name);
    }
    const auto size = keys.vector("size");
    sound = sound && size;
    box.size = size.value_or(Vec3::Ones());
    if (!scene_.boxes.empty()) {
      const Box& below = scene_.boxes.back();
      box.corner = below.corner + Vec3(0, 0, below.size.z());
    }
    if (const auto offset_field = keys.get("offset")) {
      const auto pair = keys.numbers("offset");
      sound = sound && pair;
      const double x = pair ? (*pair)[0] : 0, y = pair ? (*pair)[1] : 0;
      if (scene_.boxes.empty() && (x != 0 || y != 0)) {
        offset_field->fail("the lowest box has no offset: its front-left corner is the origin");
      }
      if (!scene_.boxes.empty()) box.corner += Vec3(x, y, 0);
    }
    if (sound && !scene_.boxes.empty() && !overlap(scene_.boxes.back(), box)) {
      item.fail(fmt::format("does not stand on the box below, '{}': their outlines must overlap",
                            scene_.boxes.back().name));
    }
    faces.push_back(keys.get("faces"));
    scene_.boxes.push_back(std::move(box));
  }
  // What covers what is known only now. Boxes of unknown size would raise false alarms everywhere.
  if (!sound) scene_.boxes.clear();
  for (std::size_t i = 0; i < scene_.boxes.size(); ++i) {
    if (faces[i]) read_faces(*faces[i], static_cast<int>(i));
  }
}

void SceneReader::read_faces(const Field& field, int box) {
  std::vector<std::string_view> bare;  // that no other box covers
  for (Side side : kSides)
    if (uncovered_share(scene_.boxes, box, side) > kCovered) bare.push_back(side_name(side));
  const Fields keys(field, format::faces, bare);
  for (std::size_t i = 0; i < kSides.size(); ++i) {
    const bool needed = std::find(bare.begin(), bare.end(), side_name(kSides[i])) != bare.end();
    const auto face = keys.get(side_name(kSides[i]));
    if (!face && needed) scene_.boxes[box].face[i] = kWrongMaterial;
    if (!face || (face->is_scalar() && face->node().text == "open")) continue;
    if (!needed) {
      const int other = kSides[i] == Side::floor ? box - 1 : box + 1;
      face->fail(fmt::format("the box '{}' covers this side wholly: leave it out", scene_.boxes[other].name));
      continue;
    }
    scene_.boxes[box].face[i] =
        materials_.find(*face, {SurfaceKind::matte, SurfaceKind::mesh, SurfaceKind::pane, SurfaceKind::leaf});
  }
}

}  // namespace boughlight
