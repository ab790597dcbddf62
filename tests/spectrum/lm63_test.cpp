#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "spectrum/lm63.h"
#include "spectrum/statistics.h"
#include "units/problem.h"

namespace boughlight {
namespace {

using std::numbers::pi;

std::string message_of(const std::string& text) {
  try {
    parse_lm63(text, "lamp.ies");
  } catch (const InputError& error) {
    return error.what();
  }
  return "no mistake found";
}

// A cosine lamp of type C, one plane, 100 cd on the axis.
std::string cosine_lamp(const std::string& header = "IESNA:LM-63-2002\n[TEST] invented\n",
                        const std::string& tilt = "TILT=NONE\n", const std::string& lamps = "1 314.159 1") {
  std::string text = header + tilt + lamps + " 19 1 1 2 0 0 0\n1.0 1.0 20\n";
  for (int v = 0; v <= 180; v += 10) text += std::to_string(v) + (v % 50 == 0 ? "\n" : " ");
  text += "\n0\n";
  for (int v = 0; v <= 180; v += 10)
    text += std::to_string(v < 90 ? 100 * std::cos(v * pi / 180) : 0.0) + (v % 60 == 0 ? "\r\n" : ", ");
  return text + "\n";
}

TEST(Lm63, CosineLampGivesPiTimesItsAxialIntensity) {
  const Photometry p = parse_lm63(cosine_lamp(), "lamp.ies");
  EXPECT_EQ(p.header, "IESNA:LM-63-2002");
  // Linear interpolation over 10 degrees lies below the cosine by up to (10 deg)^2 / 8 = 0.4 %.
  EXPECT_NEAR(p.lumens(), 100 * pi, 0.004 * 100 * pi);
  EXPECT_NEAR(p.candela_towards(Vec3(0, 0, 1)), 100, 1e-9);
  EXPECT_NEAR(p.candela_towards(Vec3(0, std::sin(pi / 6), std::cos(pi / 6))), 100 * std::cos(pi / 6), 1e-3);
  EXPECT_EQ(p.candela_towards(Vec3(0, 0, -1)), 0);
}

TEST(Lm63, OldHeadersTiltAndFactorsAreRead) {
  const Photometry old = parse_lm63(cosine_lamp("SOME MAKER\nAND MORE\n"), "a");
  EXPECT_EQ(old.header, "");
  const Photometry tilted =
      parse_lm63(cosine_lamp("IESNA91\n", "TILT=INCLUDE\n1\n3\n0 45 90\n1 0.95 0.9\n"), "b");
  EXPECT_NEAR(tilted.candela[0], 100, 1e-9);
  const Photometry absolute = parse_lm63(cosine_lamp("IES:LM-63-2019\n", "TILT=NONE\n", "1 -1 2.5"), "c");
  EXPECT_FALSE(absolute.rated_lumens.has_value());
  EXPECT_NEAR(absolute.candela[0], 250, 1e-9);
}

// Four planes that all differ, to tell turns and mirrors apart: candela = 100 + plane angle, the same at all
// polar angles from 0 to 90.
std::string planes(const std::string& angles, int count) {
  std::string text = "IESNA:LM-63-1995\nTILT=NONE\n1 -1 1 2 " + std::to_string(count) +
                     " 1 2 0 0 0\n1 1 0\n0 90\n" + angles + "\n";
  std::string rest = angles;
  for (int i = 0; i < count; ++i) {
    std::size_t used = 0;
    const double angle = std::stod(rest, &used);
    rest = rest.substr(used);
    text += std::to_string(100 + angle) + " " + std::to_string(100 + angle) + "\n";
  }
  return text;
}

TEST(Lm63, PlanesGivenStandForTheOthersBySymmetry) {
  const auto at = [](const Photometry& p, double azimuth_deg) {
    const double a = azimuth_deg * pi / 180, polar = 0.7;
    // Of a lamp that aims down, along to the right: counterclockwise seen from above.
    return p.candela_towards(
        Vec3(std::sin(polar) * std::cos(a), -std::sin(polar) * std::sin(a), std::cos(polar)));
  };
  const Photometry quarter = parse_lm63(planes("0 45 90", 3), "q");
  for (const double azimuth : {30.0, 150.0, 210.0, 330.0})
    EXPECT_NEAR(at(quarter, azimuth), 130, 1e-6) << azimuth;
  const Photometry half = parse_lm63(planes("0 90 180", 3), "h");
  for (const double azimuth : {120.0, 240.0}) EXPECT_NEAR(at(half, azimuth), 220, 1e-6) << azimuth;
  const Photometry whole = parse_lm63(planes("0 90 180 270 360", 5), "w");
  EXPECT_NEAR(at(whole, 300), 400, 1e-6);
  const Photometry sideways = parse_lm63(planes("90 180 270", 3), "s");
  for (const double azimuth : {60.0, 120.0}) EXPECT_NEAR(at(sideways, azimuth), 220, 1e-6) << azimuth;
  EXPECT_NEAR(at(sideways, 300), 340, 1e-6);
}

// LM-63-2002, 3.0: horizontal angles are "measured counterclockwise in a horizontal plane for Type C
// photometry and clockwise for Type A and B photometry"; vertical ones rise from straight down.
TEST(Lm63, PlanesTurnAsTheStandardSays) {
  // A lamp's frame: along, here to the right; aim x along; aim.
  Vec3 aim = -Vec3::UnitZ();
  const Vec3 along = Vec3::UnitX();
  const auto towards = [&](const Photometry& p, const Vec3& scene) {
    return p.candela_towards({along.dot(scene), aim.cross(along).dot(scene), aim.dot(scene)});
  };
  const Photometry c = parse_lm63(planes("0 90 180 270 360", 5), "c");
  const double slant = std::sqrt(0.5);
  EXPECT_NEAR(towards(c, {slant, 0, -slant}), 100, 1e-6);
  EXPECT_NEAR(towards(c, {0, slant, -slant}), 190, 1e-6) << "seen from above, a quarter turn to the left";
  EXPECT_NEAR(towards(c, {0, -slant, -slant}), 370, 1e-6);
  // Types B and A, of a lamp that aims to the back: brighter upwards and to the right.
  aim = Vec3::UnitY();
  for (const char* type : {"2", "3"}) {
    const Photometry p =
        parse_lm63(std::string("IESNA:LM-63-2002\nTILT=NONE\n1 -1 1 3 3 ") + type +
                       " 2 0 0 0\n1 1 0\n-90 0 90\n-90 0 90\n" + "0 10 20\n50 60 70\n100 110 120\n",
                   "p");
    EXPECT_NEAR(towards(p, Vec3::UnitY()), 60, 1e-6) << type;
    EXPECT_NEAR(towards(p, {0, slant, slant}), 65, 1e-6) << type << ": vertical angles rise upwards";
    EXPECT_NEAR(towards(p, {slant, slant, 0}), 85, 1e-6) << type << ": horizontal angles turn to the right";
  }
}

TEST(Lm63, TypesAAndBTurnAboutTheirOwnAxes) {
  // Candela equal to the horizontal angle + 1, over a half sphere.
  const auto text = [](int type) {
    return "IESNA:LM-63-2002\nTILT=NONE\n1 -1 1 2 2 " + std::to_string(type) +
           " 2 0 0 0\n1 1 0\n-90 90\n0 90\n1 1\n91 91\n";
  };
  const Photometry b = parse_lm63(text(2), "b"), a = parse_lm63(text(3), "a");
  // 45 degrees towards along (x), then turned 60 degrees: about x for type B the tilt towards x stays 45
  // degrees ...
  const Vec3 turned_about_x(std::sqrt(0.5), -std::sqrt(0.5) * std::sin(pi / 3),
                            std::sqrt(0.5) * std::cos(pi / 3));
  EXPECT_NEAR(b.candela_towards(turned_about_x), 46, 1e-6);
  // ... for type A the horizontal angle is that of the projection: atan(x / z).
  EXPECT_NEAR(a.candela_towards(turned_about_x), 1 + std::atan2(1, std::cos(pi / 3)) * 180 / pi, 1e-6);
  EXPECT_EQ(b.candela_towards(Vec3(0, 0, -1)), 0);
}

TEST(Lm63, FormIsNormalisedAndSampledByItsDensity) {
  const auto form = make_photometric_form(parse_lm63(planes("0 45 90", 3), "q"));
  double carried = 0, whole = 0;
  constexpr int kSide = 400;
  for (int i = 0; i < kSide; ++i)
    for (int j = 0; j < kSide; ++j) {
      const auto sample = form->sample((i + 0.5) / kSide, (j + 0.5) / kSide);
      EXPECT_NEAR(sample.direction.norm(), 1, 1e-9);
      EXPECT_NEAR(sample.inverse_pdf * form->pdf(sample.direction), 1, 1e-6);
      carried += form->intensity(sample.direction) * sample.inverse_pdf / (kSide * kSide);
      const double z = 1 - 2 * (i + 0.5) / kSide, azimuth = 2 * pi * (j + 0.5) / kSide,
                   r = std::sqrt(1 - z * z);
      whole +=
          form->intensity(Vec3(r * std::cos(azimuth), r * std::sin(azimuth), z)) * 4 * pi / (kSide * kSide);
    }
  EXPECT_NEAR(whole, 1, 2e-3) << "midpoint rule over the sphere, with a jump at 90 degrees";
  EXPECT_NEAR(carried, 1, 2e-3);
}

TEST(Lm63, SamplesOfEveryTypeFollowTheirDensity) {
  const auto of_type = [](int type) {
    return "IESNA:LM-63-2002\nTILT=NONE\n1 -1 1 4 3 " + std::to_string(type) +
           " 2 0 0 0\n1 1 0\n-90 -20 30 90\n-90 10 90\n1 50 9 0\n4 200 60 2\n0 30 90 10\n";
  };
  for (const std::string& text :
       {planes("0 45 90", 3), planes("0 90 180 270 360", 5), of_type(2), of_type(3)}) {
    const auto form = make_photometric_form(parse_lm63(text, "f"));
    constexpr int kPolar = 12, kAround = 24, kSub = 60, kDraws = 200000;
    std::vector<double> expected(kPolar * kAround), counted(expected.size());
    const auto add = [&](std::vector<double>& cells, const Vec3& d, double amount) {
      const int a = std::min(kPolar - 1, static_cast<int>((d.z() + 1) / 2 * kPolar));
      const int b =
          std::min(kAround - 1, static_cast<int>((std::atan2(d.y(), d.x()) / (2 * pi) + 0.5) * kAround));
      cells[static_cast<std::size_t>(a * kAround + b)] += amount;
    };
    for (int i = 0; i < kPolar * kSub; ++i)
      for (int j = 0; j < kAround * kSub; ++j) {
        const double z = -1 + 2 * (i + 0.5) / (kPolar * kSub),
                     turn = 2 * pi * (j + 0.5) / (kAround * kSub) - pi;
        const double r = std::sqrt(1 - z * z);
        const Vec3 d(r * std::cos(turn), r * std::sin(turn), z);
        add(expected, d, kDraws * form->pdf(d) * 4 * pi / (kPolar * kAround * kSub * kSub));
      }
    Uniform uniform(31);
    for (int i = 0; i < kDraws; ++i) {
      const double u = uniform(), v = uniform();
      add(counted, form->sample(u, v).direction, 1);
    }
    double chi_square = 0, rest = 0, rest_expected = 0;
    int cells = 0;
    for (std::size_t i = 0; i < expected.size(); ++i) {
      if (expected[i] < 10) {
        rest += counted[i], rest_expected += expected[i];
        continue;
      }
      // The density steps at the sampler's own cells of 2 degrees: midpoints know a cell to 3e-3.
      chi_square += std::pow(counted[i] - expected[i], 2) / (expected[i] + std::pow(3e-3 * expected[i], 2));
      ++cells;
    }
    EXPECT_LT(chi_square_sigmas(chi_square, cells - 1), kSigmas) << cells << " cells";
    EXPECT_NEAR(rest, rest_expected, 5 + kSigmas * std::sqrt(rest_expected));
  }
}

TEST(Lm63, MistakesAreTold) {
  EXPECT_EQ(message_of("hello\n"), "lamp.ies:1: is not an LM-63 file: it has no line TILT=");
  EXPECT_EQ(message_of(cosine_lamp("IESNA91\n", "TILT=tilt.txt\n")),
            "lamp.ies:2:6: TILT is 'tilt.txt': NONE or INCLUDE is allowed");
  EXPECT_EQ(message_of(cosine_lamp("", "TILT=NONE\n", "1 x 1")),
            "lamp.ies:2:3: 'x' is not a number: the lumens of a lamp is needed here");
  EXPECT_EQ(message_of(cosine_lamp() + "7\n"), "lamp.ies:17:1: '7' is left over after 19 candela values");
  EXPECT_EQ(message_of("TILT=NONE\n1 -1 1 2 1 4 2 0 0 0\n"),
            "lamp.ies:2:12: the photometric type is 4: a whole number from 1 to 3 is allowed");
  EXPECT_EQ(message_of("TILT=NONE\n1 -1 1 2 1 1 2 0 0 0 1 1 5\n90 0\n"),
            "lamp.ies:3:4: vertical angles must rise: 0 follows 90");
  EXPECT_EQ(message_of("TILT=NONE\n1 -1 1 2 1 1 2 0 0 0 1 1 5\n0 90\n0\n1 -3\n"),
            "lamp.ies:5:3: a candela value is -3: it cannot be negative");
  EXPECT_EQ(message_of("TILT=NONE\n1 -1 1 2 1 1 2 0 0 0 1 1 5\n0 90\n0\n0 0\n"),
            "lamp.ies:5:3: all candela values are 0: the lamp gives no light");
  EXPECT_EQ(
      message_of("TILT=NONE\n1 -1 1 2 1 1 2 0 0 0 1 1 5\n0 80\n0\n1 1\n"),
      "lamp.ies:3:3: vertical angles of type C run from 0 or 90 to 90 or 180 degrees, here from 0 to 80");
  EXPECT_EQ(
      message_of("TILT=NONE\n1 -1 1 2 2 2 2 0 0 0 1 1 5\n0 90\n0 180\n1 1 1 1\n"),
      "lamp.ies:4:3: horizontal angles of types A and B run from -90 or 0 to 90 degrees, here from 0 to "
      "180");
  EXPECT_EQ(message_of("TILT=NONE\n1 -1 1 2 1 1 2 0 0 0 1 1 5\n0 90\n0\n1e308 1\n"),
            "lamp.ies:5:1: '1e308' is beyond 1e30: no photometric file holds that");
  EXPECT_EQ(message_of("TILT=NONE\n1 -1 1 2 1 1 2 0 0 0 1 1 5\n0 90\n0\n1e-200 0\n"),
            "lamp.ies:5:8: all candela values are below 1e-30: the lamp gives no light");
  EXPECT_EQ(message_of("TILT=NONE\n1 -1 1 2 1 1 2 0 0 0 1 1 5\n0 90\n0\n1\n"),
            "lamp.ies:5: the file ends where a candela value should be");
}

}  // namespace
}  // namespace boughlight
