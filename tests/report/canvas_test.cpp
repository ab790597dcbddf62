#include "report/canvas.h"

#include <gtest/gtest.h>

#define STB_IMAGE_IMPLEMENTATION
#define STBI_NO_STDIO
#define STBI_ONLY_PNG
#include <stb/stb_image.h>
#undef STB_IMAGE_IMPLEMENTATION
#undef STBI_NO_STDIO
#undef STBI_ONLY_PNG

#include <algorithm>
#include <memory>

namespace boughlight {
namespace {

constexpr Rgb kWhite{255, 255, 255}, kBlack{0, 0, 0};

// Ink on a white canvas: 1 for each wholly black pixel.
double ink(const Canvas& canvas) {
  double sum = 0;
  for (int y = 0; y < canvas.height(); ++y) {
    for (int x = 0; x < canvas.width(); ++x) sum += (255 - canvas.at(x, y).r) / 255.0;
  }
  return sum;
}

TEST(Canvas, PngHoldsEveryPixel) {
  Canvas canvas(37, 23, kWhite);
  for (int x = 0; x < 37; ++x) canvas.set(x, x % 23, {std::uint8_t(7 * x), std::uint8_t(x), 200});
  const std::string bytes = canvas.png();
  int width = 0, height = 0, channels = 0;
  const std::unique_ptr<stbi_uc, void (*)(void*)> pixels(
      stbi_load_from_memory(reinterpret_cast<const stbi_uc*>(bytes.data()), int(bytes.size()), &width,
                            &height, &channels, 3),
      stbi_image_free);
  ASSERT_TRUE(pixels);
  ASSERT_EQ(width, 37);
  ASSERT_EQ(height, 23);
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      const stbi_uc* p = pixels.get() + (y * width + x) * 3;
      ASSERT_EQ((Rgb{p[0], p[1], p[2]}), canvas.at(x, y)) << x << " " << y;
    }
  }
}

TEST(Canvas, FilledShapesCoverTheirArea) {
  Canvas square(60, 60, kWhite);
  square.fill(Rect{10.5, 10.25, 30.0, 20.75}, kBlack);
  EXPECT_NEAR(ink(square), 19.5 * 10.5, 0.5);
  EXPECT_EQ(square.at(20, 15), kBlack);
  EXPECT_EQ(square.at(31, 15), kWhite);

  Canvas ellipse(80, 80, kWhite);
  ellipse.fill(ellipse_path({40, 40}, 30, 20), kBlack);
  // A 96-cornered ellipse has sin(2 pi/96) / (2 pi/96) = 0.9993 of pi a b; scan lines cost as much again.
  EXPECT_NEAR(ink(ellipse), 3.14159265 * 30 * 20, 4);
}

TEST(Canvas, StrokesCoverLengthTimesWidth) {
  Canvas canvas(120, 60, kWhite);
  canvas.stroke({{10, 30}, {110, 30}}, {4, kBlack});
  EXPECT_NEAR(ink(canvas), 100 * 4 + 3.14 * 4, 6);  // and two half-round ends
  Canvas dashed(120, 60, kWhite);
  dashed.stroke({{10, 30}, {110, 30}}, {1, kBlack, 1, 5, 5});
  EXPECT_LT(ink(dashed), 75);
  EXPECT_GT(ink(dashed), 45);
}

TEST(Canvas, CrossingPathsOfOneStrokeDoNotDarkenTwice) {
  Canvas canvas(60, 60, kWhite);
  canvas.stroke({{{5, 30}, {55, 30}}, {{30, 5}, {30, 55}}}, {5, kBlack, 0.5});
  EXPECT_EQ(canvas.at(30, 30), canvas.at(15, 30));
}

TEST(Canvas, NothingIsDrawnOutsideTheClipOrThePicture) {
  Canvas canvas(50, 50, kWhite);
  canvas.clip_to({10, 10, 40, 40});
  canvas.fill(Rect{-20, -20, 90, 90}, kBlack);
  EXPECT_NEAR(ink(canvas), 900, 1e-9);
  canvas.stroke({{-500, 20}, {500, 20}}, {3, kWhite});
  canvas.text({38, 20}, "over the edge", {13, kWhite});
  canvas.text({-30, -30}, "outside", {13, kWhite, 2, kWhite});
  canvas.clip_to_all();
  EXPECT_EQ(canvas.at(5, 5), kWhite);
  EXPECT_EQ(canvas.at(30, 20), kWhite);
}

TEST(Canvas, CroppingKeepsWhatIsAbove) {
  Canvas canvas(20, 30, kWhite);
  canvas.set(3, 4, kBlack);
  canvas.crop_to_height(10);
  EXPECT_EQ(canvas.height(), 10);
  EXPECT_EQ(canvas.at(3, 4), kBlack);
}

TEST(CanvasText, FillsTheBoxItIsSaidTo) {
  const std::string text = "Äg 142.5 µmol/(m² s)";
  const double width = text_width(text, 13), height = text_height(13);
  for (const bool upward : {false, true}) {
    Canvas canvas(260, 260, kWhite);
    TextStyle style{13, kBlack};
    style.upward = upward;
    canvas.text({30, 30}, text, style);
    const double across = upward ? height : width, down = upward ? width : height;
    for (int y = 0; y < 260; ++y) {
      for (int x = 0; x < 260; ++x) {
        if (canvas.at(x, y) == kWhite) continue;
        ASSERT_TRUE(x >= 28 && x <= 31 + across && y >= 28 && y <= 31 + down)
            << x << " " << y << " " << upward;
      }
    }
    EXPECT_GT(ink(canvas), 100);  // letters, not boxes of nothing
  }
}

TEST(CanvasText, ThirteenPixelsMeansCapitalsOfNinePixels) {
  // DejaVu Sans: capitals are 0.729 em tall (its OS/2 table).
  Canvas canvas(40, 40, kWhite);
  canvas.text({10, 10}, "H", {13, kBlack});
  int first = 40, last = 0;
  for (int y = 0; y < 40; ++y) {
    for (int x = 0; x < 40; ++x) {
      if (canvas.at(x, y).r > 128) continue;
      first = std::min(first, y);
      last = std::max(last, y);
    }
  }
  EXPECT_NEAR(last - first + 1, 0.729 * 13, 1.0);
}

TEST(CanvasText, FittingTextIsCutBetweenCharacters) {
  EXPECT_EQ(text_that_fits("fern", 13, 200), "fern");
  const std::string cut = text_that_fits("Röööööööööööööööööööhre", 13, 80);
  EXPECT_LE(text_width(cut, 13), 80);
  EXPECT_EQ(cut.substr(cut.size() - 3), "…");
  EXPECT_EQ((cut.size() - 3 - 1) % 2, 0u);  // R and whole two-byte letters
}

TEST(CanvasText, AHaloSurroundsTheLetters) {
  constexpr Rgb kRed{255, 0, 0};
  Canvas canvas(60, 40, kBlack);
  canvas.text({20, 10}, "I", {20, kWhite, 3, kRed});
  bool halo = false, letter = false;
  for (int x = 0; x < 60; ++x) {
    halo |= canvas.at(x, 22) == kRed;
    letter |= canvas.at(x, 22).g > 200;
  }
  EXPECT_TRUE(halo);
  EXPECT_TRUE(letter);
}

}  // namespace
}  // namespace boughlight
