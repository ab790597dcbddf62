// Where the radiating surfaces of lamps are in the way of walls, branches and sensors, so that a figure would
// be none, or hang on a rounding.

#include <fmt/format.h>

#include <algorithm>

#include "scene/enclosure.h"
#include "scene/scene_reader.h"

namespace boughlight {

namespace {

// A flat emitter nearer to a wall than this lies in it: rounding decides on which side its light goes on, m.
constexpr double kFlush = 5e-5;
constexpr double kThrough = 1e-3;  // what reaches so far past a wall on both sides goes through it, m
constexpr double kInSolid = 1e-4;  // so far below a branch's surface is inside it, m
constexpr double kNextTo = 5e-5;   // nearer to an emitter than this is on it, m

bool stops_light(const Scene& scene, int material) {
  if (material < 0) return false;
  const SurfaceKind kind = scene.materials[static_cast<std::size_t>(material)].kind;
  return kind == SurfaceKind::matte || kind == SurfaceKind::leaf;
}

// A flat part of the scene that stops light.
struct Sheet {
  Vec3 corner, edge_u, edge_v;
  std::string name;
};

std::vector<Sheet> sheets_of(const Scene& scene) {
  std::vector<Sheet> sheets;
  for (const FacePart& face : outer_faces(scene.boxes))
    if (stops_light(scene, face.material))
      sheets.push_back({face.corner, face.edge_u, face.edge_v,
                        fmt::format("the {} of box '{}'", side_name(face.side),
                                    scene.boxes[static_cast<std::size_t>(face.box)].name)});
  for (const Board& board : scene.boards)
    if (stops_light(scene, board.material))
      sheets.push_back({board.corner, board.edge_u, board.edge_v, fmt::format("board '{}'", board.name)});
  return sheets;
}

enum class Standing { clear, flush, through };

Standing standing_of(const Lamp& lamp, const Sheet& sheet) {
  const Eigen::Matrix3d rotation = lamp.scene_from_local().transpose();
  const auto reach = [&](const Vec3& direction) {
    return lamp.fixture->emitter->extent(rotation * direction);
  };
  const Vec3 between = lamp.at - sheet.corner;
  const Vec3 normal = sheet.edge_u.cross(sheet.edge_v).normalized();
  const double middle = normal.dot(between);
  const double low = middle - reach(-normal), high = middle + reach(normal);
  if (low > kFlush || high < -kFlush) return Standing::clear;
  // Whether its shadow on the sheet's plane meets the sheet, along both of the sheet's edges.
  for (const auto& [edge, other] :
       {std::pair(sheet.edge_u, sheet.edge_v), std::pair(sheet.edge_v, sheet.edge_u)}) {
    const Vec3 across = (edge - edge.dot(other) / other.squaredNorm() * other).normalized();
    const double from = across.dot(between);
    if (from + reach(across) <= 0 || from - reach(-across) >= across.dot(edge)) return Standing::clear;
  }
  if (low > -kFlush && high < kFlush) return Standing::flush;
  return low < -kThrough && high > kThrough ? Standing::through : Standing::clear;
}

}  // namespace

void SceneReader::check_emitters() {
  const std::vector<Sheet> sheets = sheets_of(scene_);
  for (std::size_t i = 0; i < scene_.lamps.size(); ++i) {
    const Lamp& lamp = scene_.lamps[i];
    if (!lamp.fixture || !lamp.at.allFinite()) continue;
    if (lamp.fixture->radiates_too_much())
      scene_.notes.push_back(fmt::format(
          "lamp '{}' radiates {} W, more than the {} W that it takes: its 'output' or its 'power' is wrong",
          lamp.name, print_number(lamp.fixture->radiant_flux_w()), print_number(*lamp.fixture->power_w)));
    for (const Branch& branch : scene_.branches)
      if (branch.signed_distance(lamp.at) < -kInSolid)
        lamp_fields_[i].fail(fmt::format("its middle is inside branch '{}': no light gets out", branch.name));
    for (const Sheet& sheet : sheets) {
      const Standing standing = standing_of(lamp, sheet);
      if (standing == Standing::flush)
        lamp_fields_[i].fail(
            fmt::format("lies in {}, which stops light: hang it at least 1 mm off", sheet.name));
      if (standing == Standing::through)
        scene_.notes.push_back(fmt::format(
            "lamp '{}' goes through {}, which stops the light of what is beyond", lamp.name, sheet.name));
    }
  }
}

void SceneReader::check_sensors() {
  const auto check = [&](const Mark& mark, const std::string& path, const Vec3& place, const char* what) {
    for (const Lamp& lamp : scene_.lamps)
      if (lamp.fixture && lamp.at.allFinite() &&
          lamp.fixture->emitter->distance(lamp.to_local(place)) < kNextTo)
        problems_.add({mark, path,
                       fmt::format("{} is on or inside the emitter of lamp '{}', where nothing can be read: "
                                   "move it off by 1 mm or more",
                                   what, lamp.name)});
  };
  const Vec3 back = (scene_.animal ? scene_.animal->back : 0) * Vec3::UnitZ();
  // What is asked of a place where nothing can be read would hold or fail by that alone.
  const auto check_branches = [&](const auto& place, const char* kind, std::size_t i, const char* what,
                                  const Vec3& at) {
    for (const Branch& branch : scene_.branches) {
      if (branch.signed_distance(at) >= -kInSolid) continue;
      if (place.wants.empty()) {
        scene_.notes.push_back(fmt::format("{} '{}'{} is inside branch '{}': it reads nothing", kind,
                                           place.name, *what ? fmt::format(", where {} is,", what) : "",
                                           branch.name));
      } else {
        problems_.add(
            {place.mark, fmt::format("{}[{}]", *what ? "perches" : "points", i),
             fmt::format("{} is inside branch '{}', where nothing can be read: move it, or leave out `wants`",
                         *what ? what : "it", branch.name)});
      }
    }
  };
  for (std::size_t i = 0; i < scene_.perches.size(); ++i) {
    const Perch& perch = scene_.perches[i];
    check(perch.mark, fmt::format("perches[{}]", i), perch.at + back, "the animal's back");
    check_branches(perch, "perch", i, "the back", perch.at + back);
  }
  for (std::size_t i = 0; i < scene_.points.size(); ++i) {
    const Point& point = scene_.points[i];
    check(point.mark, fmt::format("points[{}]", i), point.at, "the sensor");
    check_branches(point, "point", i, "", point.at);
  }
  for (std::size_t i = 0; i < scene_.workplaces.size(); ++i)
    check(scene_.workplaces[i].mark, fmt::format("workplaces[{}]", i), scene_.workplaces[i].at, "it");
}

}  // namespace boughlight
