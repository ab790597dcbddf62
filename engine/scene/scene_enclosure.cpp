// The boxes of the enclosure and their faces.

#include <fmt/format.h>

#include "scene/enclosure.h"
#include "scene/scene_reader.h"

namespace boughlight {

namespace {

const Range kBoxSize = Range::between(0.001, kLongest);

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
  static const Keys kKeys = {{"box", true, "its name"},
                             {"size", true, "[width, depth, height]"},
                             {"offset", false, "[x, y] from the front-left corner of the box below"},
                             {"faces", true, "the material of each side that no other box covers"}};
  const auto items = field.list("a list of boxes");
  if (!items) return;
  if (items->empty()) field.fail("holds no box: at least one is needed");
  std::vector<std::optional<Field>> faces;
  bool sound = true;  // sizes and offsets of all boxes are known
  for (const Field& item : *items) {
    const Fields keys(item, kKeys);
    Box box;
    if (const auto name_field = keys.get("box")) {
      if (const auto name = name_field->name()) {
        box.name = *name;
        box_names_.take(*name_field, *name);
      }
    }
    const auto size_field = keys.get("size");
    const auto size = size_field ? size_field->sizes(kBoxSize) : std::nullopt;
    sound = sound && size;
    box.size = size.value_or(Vec3::Ones());
    if (!scene_.boxes.empty()) {
      const Box& below = scene_.boxes.back();
      box.corner = below.corner + Vec3(0, 0, below.size.z());
    }
    if (const auto offset_field = keys.get("offset")) {
      const auto pair = offset_field->list_of(2, "[x, y]");
      const Range range = Range::between(-kLongest, kLongest);
      const auto x = pair ? (*pair)[0].length(range) : std::nullopt;
      const auto y = pair ? (*pair)[1].length(range) : std::nullopt;
      sound = sound && x && y;
      if (scene_.boxes.empty() && (x.value_or(0) != 0 || y.value_or(0) != 0)) {
        offset_field->fail("the lowest box has no offset: its front-left corner is the origin");
      }
      if (!scene_.boxes.empty()) box.corner += Vec3(x.value_or(0), y.value_or(0), 0);
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
  Keys known;
  for (Side side : kSides) {
    const bool needed = uncovered_share(scene_.boxes, box, side) > kCovered;
    known.push_back({side_name(side), needed, "the material of that side, or 'open' where there is none"});
  }
  const Fields keys(field, known);
  for (std::size_t i = 0; i < kSides.size(); ++i) {
    const auto face = keys.get(known[i].name);
    if (!face && known[i].required) scene_.boxes[box].face[i] = kWrongMaterial;
    if (!face || (face->is_scalar() && face->node().text == "open")) continue;
    if (!known[i].required) {
      const int other = kSides[i] == Side::floor ? box - 1 : box + 1;
      face->fail(fmt::format("the box '{}' covers this side wholly: leave it out", scene_.boxes[other].name));
      continue;
    }
    scene_.boxes[box].face[i] =
        materials_.find(*face, {SurfaceKind::matte, SurfaceKind::mesh, SurfaceKind::pane, SurfaceKind::leaf});
  }
}

}  // namespace boughlight
