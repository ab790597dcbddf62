#include "report/map.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "report/map_style.h"
#include "sample_survey.h"

namespace boughlight {
namespace {

double lightness(const Canvas& canvas, int x, int y) {
  return to_oklab(canvas.at(x, y)).lightness;
}

TEST(Maps, FieldAndLegendUseTheSameColours) {
  const Survey survey = bare(survey_with_field([](const Vec3& p) { return 10 * p.z(); }));
  const ColourScale scale = map_scale(survey, Quantity::uvi);
  const MapPicture map = draw_map(survey, Quantity::uvi, kFront, scale);
  const int bar_x = static_cast<int>(map.colour_bar.centre().x);
  int compared = 0;
  for (double z = 0.13; z < 1.55; z += 0.1) {  // between the lines at whole values
    const Spot spot = map.layout.px(0.31, z);
    const Rgb field = map.canvas.at(static_cast<int>(spot.x), static_cast<int>(spot.y));
    const double share = scale.share(10 * map.layout.v_at(std::floor(spot.y) + 0.5));
    const int bar_y = static_cast<int>(map.colour_bar.y1 - share * map.colour_bar.height());
    const Rgb legend = map.canvas.at(bar_x, bar_y);
    // One pixel of the bar is 1/200 of the ramp: at most 2 of 255 in any channel.
    EXPECT_NEAR(field.r, legend.r, 3) << z;
    EXPECT_NEAR(field.g, legend.g, 3) << z;
    EXPECT_NEAR(field.b, legend.b, 3) << z;
    EXPECT_EQ(field, scale.colour(10 * map.layout.v_at(std::floor(spot.y) + 0.5))) << z;
    ++compared;
  }
  EXPECT_GT(compared, 10);
}

TEST(Maps, AllMapsOfAQuantityShareOneScale) {
  const Survey survey = sample_survey();
  const ColourScale scale = map_scale(survey, Quantity::uvi);
  for (const Cell& cell : survey.cells) {
    EXPECT_LE(cell.up[static_cast<std::size_t>(Quantity::uvi)].value, scale.high);
  }
  EXPECT_LT(scale.low, 0.5);  // the least limit can be told apart
}

TEST(Maps, AContourStandsWhereTheFieldCrossesTheLimit) {
  Survey survey = bare(survey_with_field([](const Vec3& p) { return 10 * p.x(); }));
  Animal animal;
  animal.never = {{Quantity::uvi, {{}, 4.3}, {}}};
  survey.scene.animal = animal;
  const MapPicture map = draw_map(survey, Quantity::uvi, kFront, map_scale(survey, Quantity::uvi));
  // Along a row the contour is the darkest pixel; it is dashed, so rows vote. UVI 4.3 lies at x = 0.43 m.
  int rows = 0, found = 0;
  const double expected = map.layout.px(0.43, 0).x;
  for (int y = static_cast<int>(map.layout.px(0, 0.3).y); y > static_cast<int>(map.layout.px(0, 1.0).y);
       --y) {
    int darkest = 0;
    double least = 1;
    for (int x = static_cast<int>(map.layout.px(0.35, 0).x); x < map.layout.px(0.55, 0).x; ++x) {
      if (lightness(map.canvas, x, y) < least) {
        least = lightness(map.canvas, x, y);
        darkest = x;
      }
    }
    if (least > 0.3) continue;  // in a gap
    ++rows;
    found += std::abs(darkest + 0.5 - expected) <= 1.5;
  }
  EXPECT_GT(rows, 100);
  EXPECT_GE(found,
            rows - text_height(map_style::kLabelSize));  // the value written on the line has ink of its own
}

TEST(Maps, CellsWithoutFreeVolumeAreHatchedAndOutsideIsPaper) {
  Survey survey = bare(survey_with_field([](const Vec3&) { return 3.0; }));
  for (Cell& cell : survey.cells) {
    if (std::abs(cell.centre.x() - 0.475) < 1e-6) cell.free_share = 0;
  }
  const ColourScale scale = map_scale(survey, Quantity::uvi);
  const MapPicture map = draw_map(survey, Quantity::uvi, kFront, scale);
  int lines = 0, ground = 0, other = 0;
  const Spot spot = map.layout.px(0.475, 0.6);
  for (int y = static_cast<int>(spot.y) - 40; y < spot.y + 40; ++y) {
    const Rgb colour = map.canvas.at(static_cast<int>(spot.x), y);
    ++(colour == map_style::kHatch ? lines : colour == map_style::kHatchGround ? ground : other);
  }
  EXPECT_GT(lines, 8);
  EXPECT_GT(ground, 50);
  EXPECT_EQ(other, 0);
  const Spot beside = map.layout.px(0.07, 1.35);
  EXPECT_EQ(map.canvas.at(static_cast<int>(beside.x), static_cast<int>(beside.y)), map_style::kPaper);
  const Spot inside = map.layout.px(0.3, 0.57);
  EXPECT_EQ(map.canvas.at(static_cast<int>(inside.x), static_cast<int>(inside.y)), scale.colour(3));
}

TEST(Maps, KeepTheEnclosuresProportionsAndALongSideOfAThousandPixels) {
  const Survey survey = sample_survey();
  for (const Slice& slice : slices_of(survey)) {
    const MapPicture map = draw_map(survey, Quantity::ppfd, slice, map_scale(survey, Quantity::ppfd));
    EXPECT_EQ(map.canvas.height(), map.layout.height);
    EXPECT_GE(std::max(map.canvas.width(), map.canvas.height()), 900) << slice.name;
    EXPECT_LE(std::max(map.canvas.width(), map.canvas.height()), 1001) << slice.name;
    const Spot a = map.layout.px(0, 0), b = map.layout.px(0.3, 0.4);
    EXPECT_NEAR((b.x - a.x) / (a.y - b.y), 0.75, 1e-9);
    EXPECT_LE(map.colour_bar.y1, map.canvas.height());
  }
}

TEST(Maps, ShowLampsAboveTheTop) {
  const Survey survey = sample_survey();
  const MapPicture map = draw_map(survey, Quantity::uvi, kFront, map_scale(survey, Quantity::uvi));
  // The tube's middle, 16 cm above the mesh, is drawn in the lamp's colour.
  const Spot tube = map.layout.px(0.40, 1.76);
  ASSERT_TRUE(map.layout.plot.contains(tube));
  EXPECT_EQ(map.canvas.at(static_cast<int>(tube.x), static_cast<int>(tube.y)), map_style::kLamp);
}

TEST(Maps, LampsDoNotTintTheFieldBelowThem) {
  Survey survey = bare(survey_with_field([](const Vec3&) { return 3.0; }));
  survey.scene.lamps = {sample_survey().scene.lamps[2]};  // 3 cm wide, from x = 15 to 65 cm
  const ColourScale scale = map_scale(survey, Quantity::uvi);
  const MapPicture map = draw_map(survey, Quantity::uvi, {View::plan, 1.43, "", ""}, scale);
  const Spot spot = map.layout.px(0.6, 0.42);
  EXPECT_EQ(map.canvas.at(static_cast<int>(spot.x), static_cast<int>(spot.y)), scale.colour(3));
  const Spot edge = map.layout.px(0.6, 0.405);
  EXPECT_NE(map.canvas.at(static_cast<int>(edge.x), static_cast<int>(edge.y)), scale.colour(3));
}

TEST(Maps, LimitsAreMergedNamedAndSorted) {
  const std::vector<MapLimit> limits = limits_of(sample_survey().scene, Quantity::uvi);
  ASSERT_EQ(limits.size(), 4u);
  EXPECT_EQ(limits[0].value, 0.5);
  EXPECT_EQ(limits[0].kind, MapLimit::Kind::at_most);
  EXPECT_EQ(limits[0].who, (std::vector<std::string>{"refuge", "shade fork"}));
  EXPECT_EQ(limits[1].kind, MapLimit::Kind::at_least);
  EXPECT_EQ(limits[1].who, (std::vector<std::string>{"basking", "sun perch"}));
  EXPECT_EQ(limits[3].value, 7);
  EXPECT_EQ(limits[3].kind, MapLimit::Kind::never);
  EXPECT_TRUE(limits_of(sample_survey().scene, Quantity::ppfd).empty());
}

TEST(Maps, ALowerLimitOfZeroIsNoLimit) {
  Scene scene;
  Perch perch;
  perch.wants = {{Quantity::uvi, {0.0, 3.0}, {}}};
  scene.perches = {perch};
  const std::vector<MapLimit> limits = limits_of(scene, Quantity::uvi);
  ASSERT_EQ(limits.size(), 1u);
  EXPECT_EQ(limits[0].value, 3);
}

TEST(Maps, ComeForEveryQuantityAndSliceAsPngFilesThatCarryTheirNames) {
  const Survey survey = sample_survey();
  const std::vector<MapFile> files = map_files(survey);
  EXPECT_EQ(files.size(), 3 * slices_of(survey).size());
  for (const MapFile& file : files) {
    EXPECT_TRUE(is_map_file_name(file.name)) << file.name;
    EXPECT_EQ(file.bytes.substr(0, 8), "\x89PNG\r\n\x1a\n");  // PNG specification (W3C 2003), section 5.2
  }
  EXPECT_EQ(files[0].name, "uvi-plan-z158cm.png");
  EXPECT_FALSE(is_map_file_name("uvi-plan-z158cm-mine.png"));
  EXPECT_FALSE(is_map_file_name("my-uvi-front.png"));
  EXPECT_FALSE(is_map_file_name("uvi-front.png.bak"));
}

TEST(Maps, AreTheSameBytesEveryTime) {
  const Survey survey = sample_survey();
  const ColourScale scale = map_scale(survey, Quantity::uvi);
  EXPECT_EQ(draw_map(survey, Quantity::uvi, kFront, scale).canvas.png(),
            draw_map(survey, Quantity::uvi, kFront, scale).canvas.png());
}

TEST(Maps, StandWithoutLightNamesOrLamps) {
  Survey survey = bare(survey_with_field([](const Vec3&) { return 0.0; }));
  EXPECT_FALSE(map_files(survey).empty());
  survey.grid.clear();
  survey.cells.clear();
  EXPECT_TRUE(map_files(survey).empty());
}

}  // namespace
}  // namespace boughlight
