#include "transport/field_key.h"

#include <gtest/gtest.h>

#include <functional>
#include <map>

#include "scene_kit.h"
#include "transport/program_key.h"

namespace boughlight {
namespace {

// Something of everything that light can meet.
Scene full_scene() {
  Scene scene;
  const int wall = kit::add_material(scene, kit::grey(0.5));
  const int mesh = kit::add_material(scene, kit::mesh(0.001, 0.01, 0.02, 0.3));
  const int glass = kit::add_material(scene, kit::pane(0.9));
  const int leaf = kit::add_material(scene, kit::grey(0.1, 0.2));
  Box& box = kit::add_box(scene, {0.6, 0.5, 0.8}, wall);
  kit::set_face(box, Side::top, mesh);
  kit::set_face(box, Side::front, glass);
  scene.branches.push_back({"bough", {{0.1, 0.2, 0.3}, {0.5, 0.2, 0.4}}, 0.03, wall});
  scene.boards.push_back({"shelf", {0.1, 0.1, 0.2}, {0.2, 0, 0}, {0, 0.2, 0}, wall});
  const std::vector<Vec3> corners = {{0.1, 0.1, 0.1}, {0.2, 0.1, 0.1}, {0.1, 0.2, 0.1}, {0.1, 0.1, 0.2}};
  const std::vector<Triangle> faces = {{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}};
  scene.models.push_back({"rock", "rock.obj", std::make_shared<const Shell>(corners, faces), wall});
  kit::add_plant(scene, {0.3, 0.25, 0.5}, {0.1, 0.1, 0.1}, 0.05, 0.03, 0.02, leaf);
  kit::add_point(scene, "door", {0.3, 0.1, 0.3});
  Lamp& lamp = kit::add_lamp(scene, make_disc_emitter(0.1, nullptr), {0.3, 0.25, 1});
  auto fixture = std::make_shared<Fixture>(*lamp.fixture);
  fixture->body = LampBody{0.2, 0.1, 0.05, SpectralD::Constant(0.4)};
  fixture->parts[0].ageing = Table({0, 1000}, {1, 0.5}, Between::linear, Beyond::hold);
  fixture->parts[0].filament_k = 2900;
  lamp.fixture = fixture;
  lamp.lit = std::vector<ClockSpan>{{8, 18}};
  scene.animal = Animal{};
  return scene;
}

Importance importance() {
  return {{Spectral::Constant(1.0f / kBins)}};
}

using Edit = std::function<void(Scene&)>;

void change_fixture(Scene& scene, const std::function<void(Fixture&)>& edit) {
  auto fixture = std::make_shared<Fixture>(*scene.lamps[0].fixture);
  edit(*fixture);
  scene.lamps[0].fixture = fixture;
}

void change_shell(Scene& scene, double by) {
  std::vector<Vec3> corners = scene.models[0].shell->vertices();
  corners[1].x() += by;
  scene.models[0].shell = std::make_shared<const Shell>(corners, scene.models[0].shell->triangles());
}

TEST(FieldKey, EveryThingThatMovesLightChangesIt) {
  const std::map<std::string, Edit> edits = {
      {"box size", [](Scene& s) { s.boxes[0].size.x() += 1e-9; }},
      {"box corner", [](Scene& s) { s.boxes[0].corner.y() += 1e-9; }},
      {"face", [](Scene& s) { s.boxes[0].face[3] = 3; }},
      {"open face", [](Scene& s) { s.boxes[0].face[3] = -1; }},
      {"another box", [](Scene& s) { s.boxes.push_back(s.boxes[0]); }},
      {"reflectance", [](Scene& s) { s.materials[0].reflectance[40] += 1e-9; }},
      {"kind", [](Scene& s) { s.materials[3].kind = SurfaceKind::matte; }},
      {"leaf transmittance", [](Scene& s) { s.materials[3].transmittance[7] += 1e-9; }},
      {"pane transmittance", [](Scene& s) { s.materials[2].transmittance[7] -= 1e-9; }},
      {"pane index", [](Scene& s) { s.materials[2].index = 1.49; }},
      {"wire", [](Scene& s) { s.materials[1].wire = 0.0011; }},
      {"pitch along u", [](Scene& s) { s.materials[1].pitch[0] = 0.011; }},
      {"pitch along v", [](Scene& s) { s.materials[1].pitch[1] = 0.021; }},
      {"flat mesh", [](Scene& s) { s.materials[1].flat = 0.7; }},
      {"layers", [](Scene& s) { s.materials[1].layers = 2; }},
      {"soiling", [](Scene& s) { s.materials[1].soiling = 0.9; }},
      {"branch path", [](Scene& s) { s.branches[0].path[1].z() += 1e-9; }},
      {"branch longer",
       [](Scene& s) {
         s.branches[0].path.push_back({0.5, 0.4, 0.4});
       }},
      {"branch diameter", [](Scene& s) { s.branches[0].diameter = 0.031; }},
      {"branch material", [](Scene& s) { s.branches[0].material = 3; }},
      {"board corner", [](Scene& s) { s.boards[0].corner.x() += 1e-9; }},
      {"board edge u", [](Scene& s) { s.boards[0].edge_u.x() += 1e-9; }},
      {"board edge v", [](Scene& s) { s.boards[0].edge_v.y() += 1e-9; }},
      {"board material", [](Scene& s) { s.boards[0].material = 3; }},
      {"model vertex", [](Scene& s) { change_shell(s, 1e-3); }},
      {"model material", [](Scene& s) { s.models[0].material = 3; }},
      {"no model", [](Scene& s) { s.models.clear(); }},
      {"crown centre", [](Scene& s) { s.plants[0].crown_centre.x() += 1e-9; }},
      {"crown radii", [](Scene& s) { s.plants[0].radii.z() += 1e-9; }},
      {"leaf area", [](Scene& s) { s.plants[0].leaf_area += 1e-9; }},
      {"growth", [](Scene& s) { s.plants[0].growth = 1.1; }},
      {"leaf seed", [](Scene& s) { s.plants[0].seed = 2; }},
      {"leaf length", [](Scene& s) { s.plants[0].leaf_length += 1e-9; }},
      {"leaf width", [](Scene& s) { s.plants[0].leaf_width += 1e-9; }},
      {"leaf material", [](Scene& s) { s.plants[0].leaf_material = 0; }},
      {"lamp place", [](Scene& s) { s.lamps[0].at.z() += 1e-9; }},
      {"lamp aim", [](Scene& s) { s.lamps[0].aim = Vec3(0, 0.1, -1).normalized(); }},
      {"lamp along", [](Scene& s) { s.lamps[0].along = Vec3::UnitY(); }},
      {"another lamp", [](Scene& s) { s.lamps.push_back(s.lamps[0]); }},
      {"emitter",
       [](Scene& s) {
         change_fixture(s, [](Fixture& f) { f.emitter = make_disc_emitter(0.101, nullptr); });
       }},
      {"emitter shape",
       [](Scene& s) {
         change_fixture(s, [](Fixture& f) { f.emitter = make_sphere_emitter(0.1, nullptr); });
       }},
      {"angular form",
       [](Scene& s) {
         change_fixture(s, [](Fixture& f) { f.emitter = make_disc_emitter(0.1, make_cosine_power(0.5)); });
       }},
      {"no body", [](Scene& s) { change_fixture(s, [](Fixture& f) { f.body.reset(); }); }},
      {"body length", [](Scene& s) { change_fixture(s, [](Fixture& f) { f.body->length += 1e-9; }); }},
      {"body width", [](Scene& s) { change_fixture(s, [](Fixture& f) { f.body->width += 1e-9; }); }},
      {"body height", [](Scene& s) { change_fixture(s, [](Fixture& f) { f.body->height += 1e-9; }); }},
      {"body reflectance",
       [](Scene& s) { change_fixture(s, [](Fixture& f) { f.body->reflectance[3] = 0; }); }},
      {"room",
       [](Scene& s) {
         s.room = Room{};
         s.room->lux = 100;
       }},
  };
  const LightKey before = field_key(full_scene(), importance());
  std::map<LightKey, std::string> seen = {{before, "as it is"}};
  for (const auto& [what, edit] : edits) {
    Scene scene = full_scene();
    edit(scene);
    const LightKey key = field_key(scene, importance());
    EXPECT_TRUE(seen.emplace(key, what).second) << what << " gives the key of " << seen[key];
  }
  Importance other = importance();
  other.purposes[0][5] *= 1.5f;
  EXPECT_NE(field_key(full_scene(), other), before);
}

TEST(FieldKey, WhatMovesNoLightKeepsIt) {
  const std::map<std::string, Edit> edits = {
      {"dimmer", [](Scene& s) { s.lamps[0].dim = 0.3; }},
      {"lamp off", [](Scene& s) { s.lamps[0].dim = 0; }},
      {"age", [](Scene& s) { s.lamps[0].burned_h = 800; }},
      {"hours",
       [](Scene& s) {
         s.lamps[0].lit = std::vector<ClockSpan>{{9, 12}};
       }},
      {"no hours", [](Scene& s) { s.lamps[0].lit.reset(); }},
      {"ramp", [](Scene& s) { s.lamps[0].ramp_h = 0.5; }},
      {"spread", [](Scene& s) { s.lamps[0].spread = 0.3; }},
      {"lamp name", [](Scene& s) { s.lamps[0].name = "other"; }},
      {"output", [](Scene& s) { change_fixture(s, [](Fixture& f) { f.parts[0].radiant_flux_w = 9; }); }},
      {"power", [](Scene& s) { change_fixture(s, [](Fixture& f) { f.power_w = 9; }); }},
      {"wants",
       [](Scene& s) {
         s.points[0].wants.push_back({Quantity::uvi, {1, 2}, {}});
       }},
      {"needs",
       [](Scene& s) {
         s.plants[0].needs.push_back({Quantity::dli, {1, 2}, {}});
       }},
      {"point", [](Scene& s) { s.points[0].at.x() += 0.1; }},
      {"perch", [](Scene& s) { s.perches.emplace_back(); }},
      {"never",
       [](Scene& s) {
         s.animal->never.push_back({Quantity::uvi, {{}, 5}, {}});
       }},
      {"basking",
       [](Scene& s) {
         s.animal->basking.push_back({Quantity::uvi, {1, 5}, {}});
       }},
      {"names", [](Scene& s) { s.branches[0].name = s.boxes[0].name = s.plants[0].name = "other"; }},
      {"material name", [](Scene& s) { s.materials[0].name = "other"; }},
      {"mesh doubt", [](Scene& s) { s.materials[1].spread = 0.3; }},
      {"title", [](Scene& s) { s.title = "other"; }},
      {"air", [](Scene& s) { s.air = Air{}; }},
      {"doubts", [](Scene& s) { s.doubts.lamp = 0.4; }},
      {"tolerance", [](Scene& s) { s.survey.tolerance = 0.1; }},
  };
  const LightKey before = field_key(full_scene(), importance());
  for (const auto& [what, edit] : edits) {
    Scene scene = full_scene();
    edit(scene);
    EXPECT_EQ(field_key(scene, importance()), before) << what;
  }
}

TEST(FieldKey, EmittersOfEveryKindAndSizeDiffer) {
  std::map<std::string, int> seen;
  int number = 0;
  const auto add = [&](std::unique_ptr<Emitter> emitter) {
    CanonicalBytes bytes;
    emitter->identify(bytes);
    const auto [other, is_new] = seen.emplace(bytes.bytes(), number);
    EXPECT_TRUE(is_new) << number << " is as " << other->second;
    ++number;
  };
  const auto forms = [] {
    std::vector<std::unique_ptr<AngularForm>> all;
    all.push_back(make_isotropic());
    all.push_back(make_cosine_power(0.4));
    all.push_back(make_cosine_power(0.41));
    all.push_back(make_trough(1));
    all.push_back(make_trough(1.01));
    all.push_back(make_intensity_table({0, 1}, {1, 0.5}));
    all.push_back(make_intensity_table({0, 1}, {1, 0.51}));
    all.push_back(make_intensity_table({0, 1.01}, {1, 0.5}));
    return all;
  };
  for (auto& form : forms()) add(make_point_emitter(std::move(form)));
  for (const double size : {0.1, 0.11}) {
    add(make_tube_emitter(0.5, size, nullptr));
    add(make_tube_emitter(size + 1, 0.01, nullptr));
    add(make_disc_emitter(size, nullptr));
    add(make_sphere_emitter(size, nullptr));
    add(make_rectangle_emitter(0.3, size, nullptr));
    add(make_rectangle_emitter(size + 1, 0.2, nullptr));
    for (auto& form : forms()) add(make_tube_emitter(0.5, size, std::move(form)));
    for (auto& form : forms()) add(make_disc_emitter(size, std::move(form)));
    for (auto& form : forms()) add(make_sphere_emitter(size, std::move(form)));
    for (auto& form : forms()) add(make_rectangle_emitter(0.3, size, std::move(form)));
  }
}

TEST(ProgramKey, IsTheSameEachTime) {
  EXPECT_EQ(program_key(), program_key());
  EXPECT_NE(program_key(), LightKey{});
}

}  // namespace
}  // namespace boughlight
