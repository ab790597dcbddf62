// Rules between the sections of a scene.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "scene/enclosure.h"
#include "scene/scene_reader.h"

namespace boughlight {

namespace {

constexpr double kMostCells = 20e6;
// A perch further from every branch and board than this is probably a slip, m.
constexpr double kOnPerch = 0.01;
constexpr double kOnTop = 1e-6;  // m

}  // namespace

void SceneReader::check_branches() {
  if (scene_.boxes.empty()) return;
  for (const Branch& branch : scene_.branches) {
    // An end that is let into a wall is inside.
    const auto outside = [&](const Vec3& place) {
      return std::none_of(scene_.boxes.begin(), scene_.boxes.end(), [&](const Box& box) {
        return box.contains(place, branch.diameter / 2 + kOnPerch);
      });
    };
    const auto first = std::find_if(branch.path.begin(), branch.path.end(), outside);
    if (first == branch.path.end()) continue;
    const Vec3 cm = 100 * *first;
    scene_.notes.push_back(std::all_of(branch.path.begin(), branch.path.end(), outside)
                               ? fmt::format("branch '{}' is outside the enclosure", branch.name)
                               : fmt::format("branch '{}' leaves the enclosure: [{}, {}, {}] cm lies outside",
                                             branch.name, print_number(cm.x()), print_number(cm.y()),
                                             print_number(cm.z())));
  }
}

void SceneReader::check_perches() {
  for (const Perch& perch : scene_.perches) {
    double nearest = std::numeric_limits<double>::infinity();
    for (const Branch& branch : scene_.branches) {
      nearest = std::min(nearest, std::max(0.0, branch.signed_distance(perch.at)));
    }
    for (const Board& board : scene_.boards) nearest = std::min(nearest, board.distance(perch.at));
    if (std::isinf(nearest)) {
      scene_.notes.push_back(
          fmt::format("perch '{}' is on nothing: there is no branch or board", perch.name));
    } else if (nearest > kOnPerch) {
      scene_.notes.push_back(fmt::format("perch '{}' is {} cm from the nearest branch or board", perch.name,
                                         print_number(nearest * 100)));
    }
    const Vec3 back = perch.at + Vec3(0, 0, scene_.animal ? scene_.animal->back : 0);
    if (!scene_.boxes.empty() && scene_.inside(perch.at) && !scene_.inside(back)) {
      scene_.notes.push_back(
          fmt::format("on perch '{}' the animal's back, {} cm above it, is outside the enclosure", perch.name,
                      print_number(scene_.animal->back * 100)));
    }
  }
}

bool SceneReader::is_within(const Vec3& at) const {
  // A flat lamp that lies on the top is not inside.
  return scene_.inside(at) && scene_.inside(at + Vec3(0, 0, kOnTop));
}

void SceneReader::check_reach() {
  if (!scene_.animal || scene_.animal->reach > 0) return;
  for (std::size_t i = 0; i < scene_.lamps.size(); ++i) {
    if (!is_within(scene_.lamps[i].at)) continue;
    lamp_fields_[i].fail(
        "hangs inside the enclosure, so 'animal.reach' must say how near the animal comes to it (above 0)");
  }
}

void SceneReader::check_light_ends() {
  // What each bin loses at the surfaces there are, each counted once: 0 where nothing takes up light.
  SpectralD lost = SpectralD::Zero();
  const auto add = [&](int index) {
    if (index < 0) return;  // a mistake that is told already
    const Material& material = scene_.materials[static_cast<std::size_t>(index)];
    const bool matte = material.kind == SurfaceKind::matte, leaf = material.kind == SurfaceKind::leaf;
    lost += matte  ? 1 - material.reflectance
            : leaf ? 1 - material.reflectance - material.transmittance
                   : SpectralD(SpectralD::Ones());  // wires and panes take up some
  };
  for (const FacePart& face : outer_faces(scene_.boxes)) {
    // All others let light out.
    if (!is_opaque(face, scene_.materials)) return;
    add(face.material);
  }
  for (const Branch& branch : scene_.branches) add(branch.material);
  for (const Board& board : scene_.boards) add(board.material);
  for (const Plant& plant : scene_.plants) add(plant.leaf_material);
  for (const Model& model : scene_.models) add(model.material);
  for (const Lamp& lamp : scene_.lamps)
    if (lamp.fixture && lamp.fixture->body) lost += 1 - lamp.fixture->body->reflectance;
  Eigen::Index bin = 0;
  constexpr double kNothing = 1e-6;
  if (scene_.boxes.empty() || lost.minCoeff(&bin) > kNothing) return;
  for (std::size_t i = 0; i < scene_.lamps.size(); ++i) {
    if (!is_within(scene_.lamps[i].at)) continue;
    lamp_fields_[i].fail(
        fmt::format("hangs in a closed enclosure where nothing takes up its light of {} nm, which would have "
                    "no end: give a wall a reflectance below 1",
                    print_number(kBinEdgesNm[static_cast<std::size_t>(bin)])));
  }
}

void SceneReader::check_never() {
  if (!scene_.animal || scene_.animal->never.empty() || scene_.boxes.empty()) return;
  const double reach = scene_.animal->reach;
  double height = 0;
  for (const Box& box : scene_.boxes) height += box.size.z();
  const bool room =
      2 * reach < height && std::any_of(scene_.boxes.begin(), scene_.boxes.end(), [&](const Box& box) {
        return 2 * reach < box.size.x() && 2 * reach < box.size.y();
      });
  if (!room)
    problems_.add(
        {{scene_.file, 0, 0},
         "animal.reach",
         fmt::format(
             "no place in the enclosure is {} cm from every face, so what the animal should never meet "
             "could not be judged; `reach` is how near it comes to faces and lamps",
             print_number(reach * 100))});
}

void SceneReader::check_day_wants() {
  std::string without;
  const auto add = [&](const std::string& source) { without += (without.empty() ? "" : ", ") + source; };
  for (const Lamp& lamp : scene_.lamps) {
    if (!lamp.lit) add(fmt::format("lamp '{}'", lamp.name));
  }
  if (without.empty()) return;
  for (const Field& want : day_wants_) {
    want.fail(fmt::format("adds up over the day and needs the hours of every lamp: 'lit' is missing at {}",
                          without));
  }
}

void SceneReader::check_grid(const Field& place) {
  double cells = 0;
  for (const Box& box : scene_.boxes) {
    cells += (box.size / scene_.survey.spacing).array().round().max(1).prod();
  }
  if (cells > kMostCells) {
    place.fail(fmt::format("a spacing of {} cm makes {} cells; at most {} are allowed",
                           print_number(scene_.survey.spacing * 100), print_number(cells),
                           print_number(kMostCells)));
  }
}

}  // namespace boughlight
