// What a moved lamp would give, against closed forms and against surveys of scenes with the lamp hung there.
#include "plan/prospect.h"

#include <gtest/gtest.h>

#include <cmath>
#include <memory>

#include "assess/judge.h"
#include "assess/survey.h"
#include "assess/survey_kit.h"
#include "scene/load.h"

namespace boughlight {
namespace {

Lattice3 range_over(const Scene& scene, std::vector<double> gaps) {
  return lattice_over(top_of(scene), 0.1, std::move(gaps));
}

// A black box of 40 x 40 x 60 cm, open at the top, with a sensor that looks up in its middle.
Scene crate() {
  Scene scene;
  const int black = kit::add_material(scene, kit::grey(0));
  Box& box = kit::add_box(scene, {0.4, 0.4, 0.6}, black);
  kit::set_face(box, Side::top, -1);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.2, 0.2, 0.7}, 10);
  Point& middle = kit::add_point(scene, "middle", {0.2, 0.2, 0.3});
  middle.wants.push_back(kit::want(Quantity::irradiance, 0.5, std::nullopt));
  return scene;
}

TEST(Prospect, ABarePointLampGivesInverseSquareTimesCosineWhereverItHangs) {
  const Scene scene = crate();
  const Lattice3 range = range_over(scene, {0.05, 0.15, 0.3});
  const Prospect prospect(scene, 0, range, 1e5, nullptr);
  ASSERT_EQ(prospect.asks().figures.size(), 1u);
  RayCount rays;
  for (std::size_t place = 0; place < range.size(); ++place) {
    const Hang hang = range.hang(place);
    const Vec3 way = Vec3(hang.x, hang.y, 0.6 + hang.gap) - Vec3(0.2, 0.2, 0.3);
    // The rim of the open top may stand in the way: where the straight line leaves through a wall.
    const Vec3 through = Vec3(0.2, 0.2, 0.3) + way * (0.3 / way.z());
    if (through.x() < 1e-6 || through.x() > 0.4 - 1e-6 || through.y() < 1e-6 || through.y() > 0.4 - 1e-6)
      continue;
    const double expected = 10 / (4 * M_PI) * way.z() / std::pow(way.norm(), 3);
    const Figure found = prospect.at(hang, 0, rays).figures[0];
    // Single precision all the way: 1e-5.
    EXPECT_NEAR(found.value, expected, 1e-5 * expected) << hang.x << " " << hang.y << " " << hang.gap;
    EXPECT_LT(found.se, 1e-5 * expected);
  }
}

TEST(Prospect, LightIsLinearInTheLampsOutput) {
  Scene scene = crate();
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.1, 0.1, 0.9}, 3);
  const Prospect prospect(scene, 0, range_over(scene, {0.1, 0.2}), 1e5, nullptr);
  RayCount rays;
  const Hang hang{0.25, 0.2, 0.1};
  const Prospect::Outlook once = prospect.at(hang, 0, rays), twice = prospect.at(hang, 0, rays, 2);
  const double rest = once.splits[0]->rest_mean(), lamp = once.splits[0]->lamp_mean();
  EXPECT_GT(rest, 0);
  EXPECT_NEAR(twice.figures[0].value, rest + 2 * lamp, 1e-6 * twice.figures[0].value);
}

TEST(Prospect, AMirrorFreeGreyBoxGivesTheSameWithTheLampWhereItIs) {
  // All bounces, from the receiver outwards, against the survey's own way of finding them.
  Scene scene;
  const int pale = kit::add_material(scene, kit::grey(0.7)),
            wire = kit::add_material(scene, kit::mesh(6e-4, 6e-3, 6e-3, 0.4));
  Box& box = kit::add_box(scene, {0.5, 0.4, 0.6}, pale);
  kit::set_face(box, Side::top, wire);
  kit::add_lamp(scene, make_disc_emitter(0.1, nullptr), {0.2, 0.2, 0.75}, 20);
  for (const Vec3& at : {Vec3(0.1, 0.1, 0.1), Vec3(0.4, 0.3, 0.5), Vec3(0.25, 0.2, 0.3)})
    kit::add_point(scene, "p" + std::to_string(scene.points.size()), at)
        .wants.push_back(kit::want(Quantity::irradiance, 1, std::nullopt));
  scene.survey.tolerance = 0.01;
  const Prospect prospect(scene, 0, range_over(scene, {0.1, 0.2}), 1e7, nullptr);
  RayCount rays;
  const std::optional<Hang> now = hang_of(scene.lamps[0], top_of(scene));
  ASSERT_TRUE(now.has_value());
  const Prospect::Outlook outlook = prospect.at(*now, 0, rays);
  for (std::size_t i = 0; i < 3; ++i) {
    const Figure surveyed = prospect.readings()[i].values.at(Quantity::irradiance);
    const Figure& found = outlook.figures[i];
    // Three comparisons; t of about 30 degrees of freedom, 1 in 3000 each: 4.
    EXPECT_NEAR(found.value, surveyed.value, 4 * std::hypot(found.se, surveyed.se)) << i;
    EXPECT_LT(found.se, 0.02 * found.value);
  }
}

// The scene with the lamp hung there, surveyed as a whole.
std::vector<Figure> surveyed(const Scene& scene, std::size_t lamp, const Hang& hang, const Asks& asks) {
  Scene moved = scene;
  moved.lamps[lamp] = hung(scene.lamps[lamp], top_of(scene), hang);
  const Survey survey = run_survey(moved);
  std::vector<Figure> figures;
  for (const FigureKey& key : asks.figures) {
    switch (key.kind) {
      case FigureKind::reading:
        figures.push_back(survey.readings[key.item].values.at(key.quantity));
        break;
      case FigureKind::reach:
        figures.push_back(
            (key.quantity == Quantity::uvi ? survey.hottest->uvi : survey.hottest->irradiance).figure);
        break;
      default:
        figures.push_back(key.share == ZoneShare::perch ? *survey.zones.at(key.zone).perch
                                                        : survey.zones.at(key.zone).volume);
    }
  }
  return figures;
}

double reach_at(const Prospect& prospect, const Hang& hang) {
  RayCount rays;
  const Prospect::Outlook outlook = prospect.at(hang, 0, rays);
  const auto& figures = prospect.asks().figures;
  for (std::size_t f = 0; f < figures.size(); ++f)
    if (figures[f].kind == FigureKind::reach && figures[f].quantity == Quantity::uvi)
      return outlook.figures[f].value;
  throw std::runtime_error("nothing is asked of what is in reach");
}

// A black box under a mesh, with an animal that comes within 3 cm of it, and a point of ultraviolet above.
Scene meshed_box(Side lit_side = Side::top) {
  Scene scene;
  const int black = kit::add_material(scene, kit::grey(0)),
            wire = kit::add_material(scene, kit::mesh(5e-4, 6e-3, 6e-3, 0));
  kit::add_box(scene, {0.5, 0.4, 0.6}, black);
  kit::set_face(scene.boxes[0], Side::top, wire);
  kit::set_face(scene.boxes[0], lit_side, wire);
  kit::add_uv_lamp(scene, make_disc_emitter(0.05, nullptr), {0.25, 0.2, 0.68}, 1);
  scene.animal = Animal{};
  scene.animal->reach = 0.03;
  scene.survey = {0.1, 0.02, 1};
  return scene;
}

TEST(Prospect, WhatIsInReachIsFoundBesideABoardOrABoughUnderTheTop) {
  Scene boarded = meshed_box();
  boarded.boards.push_back(
      {"cover", {0.19, 0.1, 0.59}, {0.12, 0, 0}, {0, 0.2, 0}, kit::add_material(boarded, kit::grey(0))});
  Scene bough = meshed_box();
  bough.branches.push_back(
      {"bough", {{0.02, 0.2, 0.58}, {0.48, 0.2, 0.58}}, 0.03, kit::add_material(bough, kit::grey(0))});
  for (const Scene& scene : {boarded, bough, meshed_box()}) {
    const Prospect prospect(scene, 0, range_over(scene, {0.08}), 1e6, nullptr);
    const double surveyed = run_survey(scene).hottest->uvi.figure.value;
    // Each ends within 2 % of the greatest.
    EXPECT_NEAR(reach_at(prospect, {0.25, 0.2, 0.08 - 1e-9}) / surveyed, 1, 0.03)
        << scene.boards.size() << " boards, " << scene.branches.size() << " branches";
  }
}

TEST(Prospect, ALampThatOverhangsShinesThroughAMeshSideAndNotThroughAWall) {
  for (const Side side : {Side::top, Side::right}) {
    Scene scene = meshed_box(side);
    const Hang beyond{0.49, 0.2, 0.03};
    scene.lamps[0] = hung(scene.lamps[0], top_of(scene), beyond);
    scene.lamps[0].at.x() = 0.54;  // 4 cm beside the top
    const Prospect prospect(scene, 0, range_over(scene, {0.03}), 1e6, nullptr);
    const double surveyed = run_survey(scene).hottest->uvi.figure.value;
    EXPECT_NEAR(reach_at(prospect, {0.54, 0.2, 0.03}) / surveyed, 1, 0.03) << static_cast<int>(side);
  }
}

TEST(Prospect, APerchThatFacesTheBrightestMayWantADayQuantity) {
  Scene scene = crate();
  scene.points.clear();
  Lamp& other = kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.1, 0.1, 0.9}, 3);
  other.lit = scene.lamps[0].lit = {{8, 18}};
  Perch perch;
  perch.name = "bough";
  perch.at = {0.2, 0.2, 0.3};
  perch.facing.brightest = true;
  perch.wants = {kit::want(Quantity::dli, 0.1, std::nullopt)};
  scene.perches.push_back(perch);
  const Prospect prospect(scene, 0, range_over(scene, {0.1}), 1e5, nullptr);
  RayCount rays;
  const Figure found = prospect.at({0.2, 0.2, 0.1}, 0, rays).figures.at(0);
  const Figure truth = prospect.readings()[0].values.at(Quantity::dli);
  EXPECT_NEAR(found.value, truth.value, 0.01 * truth.value + 4 * std::hypot(found.se, truth.se));
}

TEST(ProspectSlow, TwentyPlacesAgreeWithDirectSurveysOfThem) {
  Scene scene = load_scene(BOUGHLIGHT_SOURCE_DIR "/scenes/small-shelf.yaml");
  scene.survey.tolerance = 0.05;
  scene.survey.spacing = 0.1;
  scene.animal->never.push_back({Quantity::irradiance, {std::nullopt, 500}, {}});
  scene.zone_wants.push_back({"basking", ZoneShare::perch, {0.05, std::nullopt}, {}});
  const Lattice3 range = range_over(scene, {0.05, 0.12, 0.2, 0.3});
  const Prospect prospect(scene, 0, range, 2e6, nullptr);
  const Asks& asks = prospect.asks();
  RayCount rays;
  constexpr std::size_t kPlaces = 20;
  std::size_t compared = 0;
  for (std::size_t i = 0; i < kPlaces; ++i) {
    // A stride that is prime to the lattice's sides spreads them over all of it.
    const Hang hang = range.hang(i * 37 % range.size());
    const Prospect::Outlook outlook = prospect.best_at(hang, rays);
    const std::vector<Figure> direct = surveyed(scene, 0, hang, asks);
    for (std::size_t f = 0; f < asks.figures.size(); ++f) {
      const Figure &found = outlook.figures[f], &truth = direct[f];
      // 140 comparisons, 1 in 1000 in all: 1 in 140 000 each, with t of about 30 degrees of freedom: 5.4.
      double allowed = 5.4 * std::hypot(found.se, truth.se);
      // Either search ends within 2 % of the greatest (the design's promise for the survey's).
      if (asks.figures[f].kind == FigureKind::reach) allowed += 0.02 * truth.value;
      // Fractions are asked to 0.01; both cut branches into steps of their own.
      if (asks.figures[f].kind == FigureKind::share) allowed += 0.02;
      EXPECT_NEAR(found.value, truth.value, allowed)
          << "figure " << f << " at " << hang.x << " " << hang.y << " gap " << hang.gap;
      ++compared;
    }
  }
  EXPECT_EQ(compared, kPlaces * asks.figures.size());
  EXPECT_GE(asks.figures.size(), 6u);
}

}  // namespace
}  // namespace boughlight
