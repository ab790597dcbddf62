// The bodies of lamps: their fields in a fixture, and where they are in each other's way.

#include <fmt/format.h>

#include "scene/enclosure.h"
#include "scene/fixture_file.h"
#include "scene/scene_reader.h"
#include "scene/tables.h"

namespace boughlight {

namespace {

// Bodies that touch, or are let into a face by this much, are no mistake, m.
constexpr double kTouching = 1e-3;

OrientedBox sheet_of(const FacePart& face) {
  OrientedBox sheet;
  sheet.centre = face.corner + 0.5 * (face.edge_u + face.edge_v);
  sheet.half = 0.5 * (face.edge_u + face.edge_v);  // along x, y and z as they are
  return sheet;
}

}  // namespace

std::optional<LampBody> read_body(const Field& field) {
  const std::size_t before = field.document().problems->count();
  const Fields keys(field, format::lamp_body);
  LampBody body;
  body.length = keys.number("length").value_or(0);
  body.width = keys.number("width").value_or(0);
  body.height = keys.number("height").value_or(0);
  if (const auto reflectance = keys.get("reflectance")) {
    if (const auto table = read_spectral_ratio(*reflectance)) body.reflectance = table->bin_means();
  }
  return field.document().problems->count() == before ? std::optional(body) : std::nullopt;
}

void SceneReader::check_bodies() {
  const auto note = [&]<class... Args>(fmt::format_string<Args...> text, Args&&... args) {
    scene_.notes.push_back(fmt::format(text, std::forward<Args>(args)...));
  };
  for (std::size_t i = 0; i < scene_.lamps.size(); ++i) {
    const Lamp& lamp = scene_.lamps[i];
    const auto body = lamp.body();
    if (!body || !lamp.at.allFinite()) continue;
    for (std::size_t k = 0; k < scene_.lamps.size(); ++k) {
      const Lamp& other = scene_.lamps[k];
      if (k == i || !other.at.allFinite()) continue;
      if (body->contains(other.at)) {
        note("lamp '{}' is inside the body of lamp '{}': its light stays in there", other.name, lamp.name);
      }
      const auto others = other.body();
      if (k > i && others && body->overlaps(*others, kTouching)) {
        note("the bodies of the lamps '{}' and '{}' overlap", lamp.name, other.name);
      }
    }
    for (const FacePart& face : outer_faces(scene_.boxes)) {
      if (face.material == -1 || !body->overlaps(sheet_of(face), kTouching)) continue;
      note("the body of lamp '{}' goes through the {} of box '{}'", lamp.name, side_name(face.side),
           scene_.boxes[static_cast<std::size_t>(face.box)].name);
      break;
    }
  }
}

}  // namespace boughlight
