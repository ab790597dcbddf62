// The light over the body, against closed forms: point lamps over a line in black boxes.
#include <gtest/gtest.h>

#include <cmath>

#include "assess/survey.h"
#include "assess/survey_kit.h"

namespace boughlight {
namespace {

constexpr double kDegree = 3.14159265358979 / 180;
constexpr double kHeatNm = 1000, kLightNm = 550;
constexpr double kHigh = 0.4;  // of the lamps over the line of the back, m
// Rays are single precision, and places are known to 1e-7 m.
constexpr double kExact = 2e-5;

// Exponent of a beam's cosine law by its half angle.
double exponent(double half_angle) {
  return std::log(0.5) / std::log(std::cos(half_angle));
}

// A black box, open above, with a perch whose sensor looks up; the back is kHigh below the lamps.
Scene black_box() {
  Scene scene;
  Box& box = kit::add_box(scene, {1.4, 0.6, 0.8}, kit::add_material(scene, kit::grey(0)));
  kit::set_face(box, Side::top, -1);
  scene.animal = Animal{};
  scene.animal->back = 0.05;
  scene.animal->reach = 0.03;
  scene.animal->body = {0.2, 0.06};
  Perch perch;
  perch.name = "sun perch";
  perch.at = {0.7, 0.3, 0.45};
  perch.along = Vec3::UnitX();
  perch.facing = {false, Vec3::UnitZ()};
  scene.perches.push_back(perch);
  scene.survey.spacing = 0.2;
  return scene;
}

const Vec3 kAboveThePerch(0.7, 0.3, 0.5 + kHigh);

void add_beam(Scene& scene, double half_angle, double wavelength_nm, const Vec3& at = kAboveThePerch,
              double watts = 500) {
  kit::add_lamp(scene, make_point_emitter(make_cosine_power(half_angle)), at, watts, -Vec3::UnitZ(),
                Vec3::UnitX(), wavelength_nm);
}

const BodyFindings& only_body(const Survey& survey) {
  EXPECT_EQ(survey.animal.bodies.size(), 1u);
  return survey.animal.bodies.front();
}

bool has_caution(const Survey& survey, const std::string& kind) {
  for (const Caution& caution : survey.cautions) EXPECT_NE(caution.reason, "") << caution.kind;
  return std::any_of(survey.cautions.begin(), survey.cautions.end(),
                     [&](const Caution& caution) { return caution.kind == kind; });
}

TEST(Body, ItsPlacesReadTheInverseSquareAndTheCosines) {
  Scene scene = black_box();
  const double half_angle = 50 * kDegree, n = exponent(half_angle);
  add_beam(scene, half_angle, kHeatNm);
  const Survey survey = run_survey(scene);
  const BodyFindings& body = only_body(survey);
  ASSERT_EQ(body.places.size(), 18u);
  const double on_axis = 500 * (n + 1) / (2 * 3.14159265358979);  // W/sr of cos^n that integrates to 500 W
  const auto expected = [&](double x, double down) {
    const double high = kHigh + down, cosine = high / std::hypot(high, x);
    return on_axis * std::pow(cosine, n + 3) / (high * high);
  };
  for (const BodyPlace& place : body.places) {
    const double value = expected(place.along, place.flank ? 0.06 : 0);
    for (const Quantity quantity : {Quantity::infrared, Quantity::irradiance})
      EXPECT_NEAR(place.values.at(quantity).value, value, kExact * value) << place.along;
    EXPECT_EQ(place.values.at(Quantity::lux).value, 0);
  }
  const Spread& spread = body.spread.at(Quantity::infrared);
  const double ratio = expected(0, 0) / expected(0.1, 0.06);
  EXPECT_NEAR(*spread.peak_to_edge, ratio, 2 * kExact * ratio);
  EXPECT_EQ(body.direction, Vec3(Vec3::UnitZ()));
}

TEST(Body, BeamsOfPointLampsFallToHalfWhereTheCosineLawSays) {
  Scene scene = black_box();
  // I cos^n of a point over a line and a sensor facing up: E = E0 cos^(n + 3), half at
  // cos = 2^(-1/(n + 3)); with n = 1 (60 degrees) the cosine to the fourth of the lighting handbooks.
  const std::map<Quantity, double> half_angles = {
      {Quantity::infrared, 20 * kDegree}, {Quantity::uvi, 40 * kDegree}, {Quantity::lux, 60 * kDegree}};
  add_beam(scene, half_angles.at(Quantity::infrared), kHeatNm);
  add_beam(scene, half_angles.at(Quantity::uvi), kit::kUvNm);
  add_beam(scene, half_angles.at(Quantity::lux), kLightNm);
  const Survey survey = run_survey(scene);
  const BodyFindings& body = only_body(survey);
  for (const auto& [quantity, half_angle] : half_angles) {
    const double half = kHigh * std::tan(std::acos(std::pow(2.0, -1 / (exponent(half_angle) + 3))));
    const Beam& beam = body.beams.at(quantity);
    // Straight lines between places 1.25 cm apart.
    EXPECT_NEAR(beam.from, -half, 4e-4) << info(quantity).name;
    EXPECT_NEAR(beam.to, half, 4e-4) << info(quantity).name;
    EXPECT_FALSE(beam.open_from || beam.open_to);
  }
  EXPECT_NEAR(body.beams.at(Quantity::lux).width() / 2, kHigh * std::tan(std::acos(std::pow(2.0, -0.25))),
              4e-4);
  EXPECT_EQ(body.nested, true);
  EXPECT_TRUE(body.for_basking);
  EXPECT_FALSE(has_caution(survey, "nested-beams"));
  EXPECT_TRUE(has_caution(survey, "hot-cone") ==
              (body.beams.at(Quantity::infrared).width() < scene.animal->body->first));
}

TEST(Body, HeatWiderThanTheUltravioletIsNotNestedAndIsACaution) {
  Scene scene = black_box();
  add_beam(scene, 50 * kDegree, kHeatNm);
  add_beam(scene, 40 * kDegree, kit::kUvNm);
  add_beam(scene, 60 * kDegree, kLightNm);
  const Survey survey = run_survey(scene);
  EXPECT_EQ(only_body(survey).nested, false);
  EXPECT_TRUE(has_caution(survey, "nested-beams"));
  // Crossing is not nesting: of equal width, 5 cm apart.
  Scene apart = black_box();
  add_beam(apart, 40 * kDegree, kHeatNm, kAboveThePerch + Vec3(0.05, 0, 0));
  add_beam(apart, 41 * kDegree, kit::kUvNm);
  add_beam(apart, 60 * kDegree, kLightNm);
  EXPECT_EQ(only_body(run_survey(apart)).nested, false);
}

TEST(Body, AConeNarrowerThanTheBodyIsACaution) {
  for (const double half_angle : {8 * kDegree, 45 * kDegree}) {
    Scene scene = black_box();
    add_beam(scene, half_angle, kHeatNm);
    add_beam(scene, 60 * kDegree, kit::kUvNm);
    const Survey survey = run_survey(scene);
    const double width = 2 * kHigh * std::tan(std::acos(std::pow(2.0, -1 / (exponent(half_angle) + 3))));
    EXPECT_NEAR(only_body(survey).beams.at(Quantity::infrared).width(), width, 1e-3);
    EXPECT_EQ(has_caution(survey, "hot-cone"), width < 0.2) << width;
    EXPECT_EQ(has_caution(survey, "peak-to-edge"), half_angle < 20 * kDegree);
  }
}

TEST(Body, APerchThatIsNotForBaskingRaisesNoAlarm) {
  Scene scene = black_box();
  add_beam(scene, 8 * kDegree, kHeatNm, kAboveThePerch, 0.5);  // lukewarm: some 36 W/m2
  add_beam(scene, 60 * kDegree, kit::kUvNm);
  const Survey survey = run_survey(scene);
  EXPECT_FALSE(only_body(survey).for_basking);
  EXPECT_FALSE(has_caution(survey, "hot-cone"));
}

TEST(Body, SharesOfItsLengthWhereAllWantsHold) {
  Scene scene = black_box();
  const double half_angle = 50 * kDegree, n = exponent(half_angle);
  add_beam(scene, half_angle, kHeatNm);
  // From 6 cm off the axis on it is too little: five of nine places of the back hold, and the flank, 6 cm
  // further from the lamp, gets less than that everywhere.
  const double cosine = kHigh / std::hypot(kHigh, 0.06);
  const double least = 500 * (n + 1) / (2 * 3.14159265358979) * std::pow(cosine, n + 3) / (kHigh * kHigh);
  scene.perches[0].wants = {kit::want(Quantity::irradiance, least, std::nullopt)};
  const Survey survey = run_survey(scene);
  EXPECT_NEAR(*only_body(survey).wants_share, 5.0 / 9, 1e-12);
  EXPECT_EQ(*only_body(survey).flank_wants_share, 0);
  EXPECT_EQ(survey.verdict, WholeVerdict::met) << "the verdict goes by the perch's own reading";
}

TEST(Body, EveryPlaceHasItsOwnShadow) {
  Scene scene = black_box();
  add_beam(scene, 50 * kDegree, kHeatNm);
  add_beam(scene, 60 * kDegree, kit::kUvNm);
  // Half way up to the lamp, from x = 0.725 on: the shadow's edge falls 5 cm right of the perch.
  scene.boards = {{"shade", {0.725, 0.1, 0.5 + kHigh / 2}, {0.4, 0, 0}, {0, 0.4, 0}, 0}};
  const Survey survey = run_survey(scene);
  for (const BodyPlace& place : only_body(survey).places) {
    if (place.flank || std::abs(place.along - 0.05) < 1e-9) continue;
    const bool lit = place.along < 0.05;
    EXPECT_EQ(place.values.at(Quantity::infrared).value > 0, lit) << place.along;
  }
  EXPECT_EQ(only_body(survey).spread.at(Quantity::infrared).least, 0);
  EXPECT_FALSE(only_body(survey).spread.at(Quantity::infrared).peak_to_edge);
  EXPECT_TRUE(has_caution(survey, "peak-to-edge"));
  EXPECT_NEAR(only_body(survey).beams.at(Quantity::infrared).to, 0.05, 0.0125);
}

TEST(Body, ReflectedLightIsThatOfTheRoomEverywhereInTheOpen) {
  Scene scene = black_box();
  scene.boxes[0].face.fill(-1);
  kit::add_room(scene, 2);  // 2 W/m2 on a flat sensor in any orientation
  const Survey survey = run_survey(scene);
  for (const BodyPlace& place : only_body(survey).places) {
    const Figure& figure = place.values.at(Quantity::irradiance);
    EXPECT_NEAR(figure.value, 2, 5 * figure.se + 1e-6);
    EXPECT_LT(figure.se, 0.05);
  }
}

TEST(Body, TheFlankGetsTheReflectedLightOfItsOwnPlace) {
  // Below a branch in a pale box, which hides from it part of what the back gets. Sensors at the same places,
  // known better, say what is there.
  Scene scene = black_box();
  scene.animal->body = {0.2, 0.09};
  scene.materials[0].reflectance.setConstant(0.85);
  add_beam(scene, 60 * kDegree, kit::kUvNm);
  scene.branches.push_back({});
  scene.branches.back().name = "bough";
  scene.branches.back().path = {{0.2, 0.3, 0.44}, {1.2, 0.3, 0.44}};
  scene.branches.back().diameter = 0.02;
  scene.branches.back().material = 0;
  const Survey survey = run_survey(scene);
  const BodyFindings& body = only_body(survey);
  for (const BodyPlace& place : body.places)
    if (place.flank) kit::add_point(scene, "flank " + std::to_string(place.along), place.at, body.direction);
  const Survey again = run_survey(scene);
  // All share their random numbers, so their errors add up.
  double all = 0, all_there = 0, doubt = 0;
  std::size_t next = scene.perches.size();
  for (const BodyPlace& place : body.places) {
    if (!place.flank) continue;
    const Figure &found = place.values.at(Quantity::irradiance),
                 &there = again.readings[next++].values.at(Quantity::irradiance);
    all += found.value, all_there += there.value;
    doubt += std::hypot(found.se, there.se);
  }
  ASSERT_GT(all_there, 0);
  EXPECT_LT(doubt, 0.1 * all_there);
  EXPECT_NEAR(all, all_there, 3 * doubt);
}

TEST(Body, IsLeftOutWithoutABody) {
  Scene scene = black_box();
  scene.animal->body.reset();
  add_beam(scene, 50 * kDegree, kHeatNm);
  EXPECT_TRUE(run_survey(scene).animal.bodies.empty());
}

}  // namespace
}  // namespace boughlight
