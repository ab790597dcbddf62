#include "report/shell_outline.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "report/map.h"
#include "report/map_style.h"
#include "sample_survey.h"
#include "scene_kit.h"
#include "shell_kit.h"

namespace boughlight {
namespace {

// Area inside closed lines in the plane of a view, positive whichever way round; m2.
double area_of(const std::vector<Vec3>& ring, View view) {
  double twice = 0;
  for (std::size_t i = 0; i + 1 < ring.size(); ++i)
    twice += along_u(view, ring[i]) * along_v(view, ring[i + 1]) -
             along_u(view, ring[i + 1]) * along_v(view, ring[i]);
  return std::abs(twice) / 2;
}

TEST(CutLines, AreRingsInThePlaneOfTheCut) {
  const Shell ball = kit::ball_surface(0.3, 5).turned(kit::some_turn(), {0.4, 0.5, 0.6}).shell();
  for (const View view : {View::plan, View::front, View::side})
    for (const double off : {-0.2, 0.0, 0.1}) {
      const double at = across(view, Vec3(0.4, 0.5, 0.6)) + off;
      const auto lines = cut_lines(ball, view, at);
      ASSERT_EQ(lines.size(), 1u);
      EXPECT_EQ(lines[0].front(), lines[0].back());
      for (const Vec3& place : lines[0]) EXPECT_NEAR(across(view, place), at, 1e-9);
      const double circle = std::numbers::pi * (0.3 * 0.3 - off * off);
      EXPECT_NEAR(area_of(lines[0], view), circle, 2e-3 * circle);
    }
  EXPECT_TRUE(cut_lines(ball, View::plan, 0.95).empty());
}

TEST(CutLines, ThroughARingAreTwo) {
  const Shell ring = kit::ring_surface(0.3, 0.1, 200, 100).shell();
  EXPECT_EQ(cut_lines(ring, View::front, 0.0).size(), 2u);  // two circles beside each other
  const auto flat = cut_lines(ring, View::plan, 0.0);       // one in the other
  ASSERT_EQ(flat.size(), 2u);
  const double between = std::abs(area_of(flat[0], View::plan) - area_of(flat[1], View::plan));
  EXPECT_NEAR(between, std::numbers::pi * (0.4 * 0.4 - 0.2 * 0.2), 1e-3 * between);
}

TEST(CutLines, OfAnOpenShellEndAtItsRim) {
  kit::Surface box = kit::box_surface({0.2, 0.2, 0.2});
  box.triangles.erase(box.triangles.begin() + 10, box.triangles.end());  // no top
  const auto lines = cut_lines(box.shell(), View::front, 0.03);
  ASSERT_EQ(lines.size(), 1u);
  EXPECT_NE(lines[0].front(), lines[0].back());
  EXPECT_NEAR(lines[0].front().z(), 0.1, 1e-6);
  EXPECT_NEAR(lines[0].back().z(), 0.1, 1e-6);
}

TEST(JoinedRings, FillBetweenThem) {
  const Path outer = {{5, 5}, {95, 5}, {95, 95}, {5, 95}, {5, 5}},
             inner = {{30, 30}, {70, 30}, {70, 70}, {30, 70}, {30, 30}},
             apart = {{110, 40}, {120, 40}, {120, 60}, {110, 60}, {110, 40}};
  Canvas canvas(130, 100, {255, 255, 255});
  canvas.fill(joined_rings({outer, inner, apart}), {0, 0, 0});
  const auto filled = [&](int x, int y) { return canvas.at(x, y) == Rgb{0, 0, 0}; };
  for (const auto& [x, y] : {std::pair(10, 10), {90, 90}, {20, 50}, {80, 20}, {115, 50}})
    EXPECT_TRUE(filled(x, y)) << x;
  for (const auto& [x, y] : {std::pair(50, 50), {35, 65}, {102, 50}, {2, 50}, {125, 50}})
    EXPECT_FALSE(filled(x, y)) << x;
}

TEST(WholeOutline, IsThatOfAllItsTriangles) {
  const double scale = 500;
  const auto px = [&](const Vec3& p) { return Spot{300 + scale * p.x(), 300 - scale * p.y()}; };
  const Shell ring = kit::ring_surface(0.3, 0.1, 200, 100).shell();
  const auto lines = whole_outline(ring, px, {0, 0, 600, 600});
  ASSERT_EQ(lines.size(), 2u);
  for (const Path& line : lines)
    for (const Spot& spot : line) {
      const double radius = std::hypot(spot.x - 300, spot.y - 300) / scale;
      EXPECT_LT(std::min(std::abs(radius - 0.4), std::abs(radius - 0.2)), 2 / scale) << radius;
    }
  // What is far outside the picture costs nothing and draws nothing.
  EXPECT_TRUE(whole_outline(ring,
                            [](const Vec3& p) {
                              return Spot{1e7 + 1e6 * p.x(), 1e6 * p.y()};
                            },
                            {0, 0, 600, 600})
                  .empty());
}

TEST(Maps, ShowWhereAModelIsCutAndTheBodiesOfLamps) {
  Survey survey = sample_survey();
  const Slice front{View::front, 0.32, "front", "section"};
  const auto draw = [&] { return draw_map(survey, Quantity::uvi, front, map_scale(survey, Quantity::uvi)); };
  const auto bark_at = [](const MapPicture& map, const Vec3& place) {
    const Spot spot = map.layout.px(place.x(), place.z());
    const Rgb colour = map.canvas.at(static_cast<int>(spot.x), static_cast<int>(spot.y));
    // Four fifths of the bark's colour over the field's.
    return std::abs(colour.r - map_style::kBark.r) < 52 && colour.r > colour.b;
  };
  const MapPicture before = draw();
  const Vec3 middle(0.30, 0.32, 0.30);
  kit::add_model(survey.scene, kit::box_surface({0.2, 0.2, 0.2}).turned(Eigen::Matrix3d::Identity(), middle),
                 kit::add_material(survey.scene, kit::grey(0.3)));
  const MapPicture after = draw();
  EXPECT_TRUE(bark_at(after, middle + Vec3(0.05, 0, 0.06)));
  EXPECT_FALSE(bark_at(before, middle + Vec3(0.05, 0, 0.06)));
  auto fixture = std::make_shared<Fixture>(*survey.scene.lamps[0].fixture);
  fixture->body = LampBody{0.6, 0.1, 0.3, SpectralD::Zero()};
  survey.scene.lamps[0].fixture = fixture;
  const MapPicture housed = draw();
  EXPECT_GT(housed.layout.plot.height() / housed.layout.px_per_m,
            after.layout.plot.height() / after.layout.px_per_m)
      << "room for the body above the lamp";
}

}  // namespace
}  // namespace boughlight
