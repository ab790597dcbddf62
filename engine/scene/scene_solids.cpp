// Branches, boards and plants.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scene/scene_reader.h"

namespace boughlight {

namespace {

constexpr double kMostLeaves = 5e6;
// Places nearer than this are the same for a branch or board, m.
constexpr double kSame = 1e-6;
const Range kThickness = Range::between(1e-4, 2);

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
  static const Keys kKeys = {{"name", true, "what it is called"},
                             {"path", true, "two or more places [x, y, z] along its middle"},
                             {"diameter", true, "its thickness"},
                             {"material", true, "a matte or leaf material"}};
  for (const Field& item : field.list("a list of branches").value_or(std::vector<Field>())) {
    const Fields keys(item, kKeys);
    Branch branch;
    branch.name = item_name(keys, solid_names_);
    if (const auto path = keys.get("path")) {
      const auto places = path->list("a list of places [x, y, z]").value_or(std::vector<Field>());
      if (path->is_list() && places.size() < 2) {
        path->fail(fmt::format("holds {} place(s); a branch needs at least 2", places.size()));
      }
      for (const Field& place : places) {
        const auto at = place.position();
        if (at && !branch.path.empty() && (*at - branch.path.back()).norm() < kSame) {
          place.fail("is the same place as the one before: leave it out");
        }
        if (at) branch.path.push_back(*at);
      }
    }
    if (const auto diameter = keys.get("diameter"))
      branch.diameter = diameter->length(kThickness).value_or(0);
    if (const auto material = keys.get("material")) {
      branch.material = materials_.find(*material, {SurfaceKind::matte, SurfaceKind::leaf});
    }
    scene_.branches.push_back(std::move(branch));
  }
}

void SceneReader::read_boards(const Field& field) {
  static const Keys kKeys = {{"name", true, "what it is called"},
                             {"corner", true, "a corner [x, y, z]"},
                             {"edges", true, "the two edges [[x, y, z], [x, y, z]] from that corner"},
                             {"material", true, "the name of a material"}};
  for (const Field& item : field.list("a list of boards").value_or(std::vector<Field>())) {
    const Fields keys(item, kKeys);
    Board board;
    board.name = item_name(keys, solid_names_);
    if (const auto corner = keys.get("corner")) board.corner = corner->position().value_or(Vec3::Zero());
    if (const auto material = keys.get("material")) {
      board.material = materials_.find(
          *material, {SurfaceKind::matte, SurfaceKind::mesh, SurfaceKind::pane, SurfaceKind::leaf});
    }
    const auto edges_field = keys.get("edges");
    const auto pair = edges_field ? edges_field->list_of(2, "a pair of edges") : std::nullopt;
    const auto u = pair ? (*pair)[0].position() : std::nullopt;
    const auto v = pair ? (*pair)[1].position() : std::nullopt;
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
  static const Keys kKeys = {{"at", true, "the crown's centre [x, y, z]"},
                             {"radii", true, "[x, y, z]"},
                             {"leaf_area", true, "of one side of all leaves, such as 0.35 m2"},
                             {"growth", false, "1 as planted, 2 with twice the radii"},
                             {"seed", false, "a whole number that fixes where the leaves hang"}};
  const Fields keys(field, kKeys);
  const auto at_field = keys.get("at"), radii_field = keys.get("radii");
  const auto at = at_field ? at_field->position() : std::nullopt;
  const auto radii = radii_field ? radii_field->sizes(Range::between(0.001, kLongest)) : std::nullopt;
  plant.crown_centre = at.value_or(Vec3::Zero());
  plant.radii = radii.value_or(Vec3::Ones());
  if (const auto area = keys.get("leaf_area")) {
    plant.leaf_area = area->number(Dimension::area, "", Range::above(0, 1e4)).value_or(0);
  }
  if (const auto growth = keys.get("growth")) {
    plant.growth = growth->number(Dimension::number, "", Range::above(0, 10)).value_or(1);
  }
  plant.seed = seed_of(plant.name);
  if (const auto seed = keys.get("seed")) plant.seed = seed->whole_number(0, UINT64_MAX).value_or(0);
  const bool reaches = std::any_of(scene_.boxes.begin(), scene_.boxes.end(),
                                   [&](const Box& box) { return reaches_into(plant, box); });
  if (at && radii && !scene_.boxes.empty() && !reaches) {
    at_field->fail("no part of this crown is inside the enclosure");
  }
}

void SceneReader::read_plants(const Field& field) {
  static const Keys kKeys = {{"name", true, "what it is called"},
                             {"crown", true, "its place, size and leaf area"},
                             {"leaf", true, "length, width and material of one leaf"},
                             {"needs", false, "limits on what its crown gets"}};
  static const Keys kLeafKeys = {{"length", true, "of one leaf"},
                                 {"width", true, "of one leaf"},
                                 {"material", true, "a material of kind leaf"}};
  const Range leaf_size = Range::between(0.001, 2);
  for (const Field& item : field.list("a list of plants").value_or(std::vector<Field>())) {
    const Fields keys(item, kKeys);
    Plant plant;
    plant.mark = item.mark();
    plant.name = item_name(keys, reading_names_);
    const auto crown = keys.get("crown");
    if (crown) read_crown(*crown, plant);
    if (const auto leaf = keys.get("leaf")) {
      const Fields leaf_keys(*leaf, kLeafKeys);
      if (const auto length = leaf_keys.get("length"))
        plant.leaf_length = length->length(leaf_size).value_or(0);
      if (const auto width = leaf_keys.get("width")) plant.leaf_width = width->length(leaf_size).value_or(0);
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
