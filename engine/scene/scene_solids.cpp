// Branches, boards and plants.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scene/scene_reader.h"

namespace boughlight {

namespace {

// Places nearer than this are the same for a branch or board, m.
constexpr double kSame = 1e-6;

// FNV-1a, 64 bit (offset basis and prime of its authors Fowler, Noll and Vo): a crown's leaves stay where
// they are as long as its name does.
std::uint64_t seed_of(const std::string& name) {
  std::uint64_t hash = 0xcbf29ce484222325U;
  for (char c : name) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
  return hash;
}

// Exact for an axis-parallel ellipsoid and box: scaling the radii to 1 keeps the box a box, whose nearest
// place to the centre is the centre clamped to it.
bool reaches_into(const Plant& plant, const Box& box) {
  const Vec3 nearest = plant.crown_centre.cwiseMax(box.corner).cwiseMin(box.far_corner());
  return (nearest - plant.crown_centre).cwiseQuotient(plant.grown_radii()).squaredNorm() < 1;
}

}  // namespace

void SceneReader::read_branches(const Field& field) {
  for (const Field& item : field.list("a list of branches").value_or(std::vector<Field>())) {
    const Fields keys(item, format::branch);
    Branch branch;
    branch.name = item_name(keys, solid_names_);
    if (const auto path = keys.get("path")) {
      const auto places = path->list("a list of places [x, y, z]").value_or(std::vector<Field>());
      if (path->is_list() && places.size() < 2) {
        path->fail(fmt::format("holds {} place(s); a branch needs at least 2", places.size()));
      }
      for (const Field& place : places) {
        const auto at = place.vector(place_form());
        if (at && !branch.path.empty() && (*at - branch.path.back()).norm() < kSame) {
          place.fail("is the same place as the one before: leave it out");
        }
        if (at) branch.path.push_back(*at);
      }
    }
    branch.diameter = keys.number("diameter").value_or(0);
    if (const auto material = keys.get("material")) {
      branch.material = materials_.find(*material, {SurfaceKind::matte, SurfaceKind::leaf});
    }
    scene_.branches.push_back(std::move(branch));
  }
}

void SceneReader::read_boards(const Field& field) {
  for (const Field& item : field.list("a list of boards").value_or(std::vector<Field>())) {
    const Fields keys(item, format::board);
    Board board;
    board.name = item_name(keys, solid_names_);
    board.corner = keys.vector("corner").value_or(Vec3::Zero());
    if (const auto material = keys.get("material")) {
      board.material = materials_.find(
          *material, {SurfaceKind::matte, SurfaceKind::mesh, SurfaceKind::pane, SurfaceKind::leaf});
    }
    const auto edges_field = keys.get("edges");
    const auto pair = edges_field ? edges_field->list_of(2, "a pair of edges") : std::nullopt;
    const auto u = pair ? (*pair)[0].vector(place_form()) : std::nullopt;
    const auto v = pair ? (*pair)[1].vector(place_form()) : std::nullopt;
    if (u && v) {
      board.edge_u = *u;
      board.edge_v = *v;
      const double area = u->cross(*v).norm(), sides = u->norm() * v->norm();
      const bool woven = board.material >= 0 && (scene_.materials[board.material].kind == SurfaceKind::mesh ||
                                                 scene_.materials[board.material].kind == SurfaceKind::pane);
      if (u->norm() < kSame || v->norm() < kSame) {
        edges_field->fail("an edge has no length");
      } else if (area < 0.01 * sides) {
        edges_field->fail("the two edges lie along each other: they must span the board");
      } else if (woven && std::abs(u->dot(*v)) > 0.01 * sides) {
        edges_field->fail("the edges of a mesh or pane must be perpendicular");
      }
    }
    scene_.boards.push_back(std::move(board));
  }
}

void SceneReader::read_crown(const Field& field, Plant& plant) {
  const Fields keys(field, format::crown);
  const auto at = keys.vector("at"), radii = keys.vector("radii");
  plant.crown_centre = at.value_or(Vec3::Zero());
  plant.radii = radii.value_or(Vec3::Ones());
  plant.leaf_area = keys.number("leaf_area").value_or(0);
  plant.growth = keys.number("growth").value_or(1);
  plant.seed = keys.whole_number("seed").value_or(seed_of(plant.name));
  const bool reaches = std::any_of(scene_.boxes.begin(), scene_.boxes.end(),
                                   [&](const Box& box) { return reaches_into(plant, box); });
  if (at && radii && !scene_.boxes.empty() && !reaches) {
    keys.get("at")->fail("no part of this crown is inside the enclosure");
  }
}

void SceneReader::read_plants(const Field& field) {
  for (const Field& item : field.list("a list of plants").value_or(std::vector<Field>())) {
    const Fields keys(item, format::plant);
    Plant plant;
    plant.mark = item.mark();
    plant.name = item_name(keys, reading_names_);
    const auto crown = keys.get("crown");
    if (crown) read_crown(*crown, plant);
    if (const auto leaf = keys.get("leaf")) {
      const Fields leaf_keys(*leaf, format::leaf);
      plant.leaf_length = leaf_keys.number("length").value_or(0);
      plant.leaf_width = leaf_keys.number("width").value_or(0);
      if (const auto material = leaf_keys.get("material")) {
        plant.leaf_material = materials_.find(*material, {SurfaceKind::leaf});
      }
    }
    if (const auto needs = keys.get("needs")) read_needs(*needs, plant, day_wants_);
    const double one = plant.leaf_length * plant.leaf_width;
    if (crown && one > 0) {
      const double before = leaves_;
      leaves_ += std::ceil(plant.grown_leaf_area() / one);
      if (before <= kMostLeaves && leaves_ > kMostLeaves) {
        crown->fail(fmt::format("its leaf area takes {} leaves of this size; all plants together may have {}",
                                print_number(leaves_ - before), print_number(kMostLeaves)));
      }
    }
    scene_.plants.push_back(std::move(plant));
  }
}

}  // namespace boughlight
