// Lamps and meshes found from synthetic readings of a scene whose truth is known.
#include "plan/fit.h"

#include <algorithm>

#include "plan/fit_places.h"
#include "scene/stand_ins.h"

namespace boughlight {
namespace {

constexpr const char* kGlow = R"(fixture: 1
title: glow
emitter: {shape: disc, diameter: 6 cm}
distribution: {form: lambert}
emission:
  - part: ultraviolet
    spectrum: {bands: [{at: 305 nm, width: 15 nm, from: 290 nm}]}
    output: {uvi: 6, at: 30 cm}
  - part: visible
    spectrum: {bands: [{at: 550 nm, width: 60 nm, from: 450 nm}]}
    output: {lux: 8000, at: 30 cm}
)";

// A meshed cage under two lamps, with points inside, outside on the wire, and under each lamp.
const std::string kMeshedCage =
    "boughlight: 1\nlength_unit: cm\n"
    "enclosure: [{box: cage, size: [60, 50, 60], faces: {floor: dark, front: dark, back: dark, left: dark, "
    "right: dark, "
    "top: net}}]\n"
    "materials:\n  dark: {surface: matte, reflectance: 0.1}\n"
    "  net: {surface: mesh, wire: 0.6 mm, pitch: 3 mm, reflectance: 0.3}\n"
    "points:\n"
    "  - {name: left, at: [15, 25, 45]}\n  - {name: right, at: [45, 25, 45]}\n  - {name: middle, at: [30, "
    "25, 25]}\n"
    "  - {name: on the wire, at: [15, 25, 61]}\n  - {name: low, at: [25, 20, 10], wants: {uvi: {max: 2}}}\n"
    "lamps:\n  - {name: one, fixture: glow.yaml, at: [15, 25, 80]}\n  - {name: two, fixture: glow.yaml, at: "
    "[45, 25, 80]}\n"
    "survey: {tolerance: 1 %}\n";

class FitToReadings : public testing::Test {
 protected:
  FitToReadings() { folder_.write("glow.yaml", kGlow); }

  PlannedScene scene(const std::string& more = "") {
    return load_planned_scene(folder_.write("cage.yaml", kMeshedCage + more));
  }
  // What a perfect meter says in a scene with these factors.
  std::string sheet(const std::string& measured, const std::vector<std::pair<std::string, Quantity>>& what) {
    FitPlaces places(scene(measured).scene);
    std::string text = "place,quantity,reading\n";
    for (const auto& [name, quantity] : what)
      for (const Reading& reading : places.readings())
        if (reading.name == name)
          text += name + "," + std::string(info(quantity).name) + "," +
                  std::to_string(reading.values.at(quantity).value) + "\n";
    return text;
  }
  Fit fit(const std::string& text, FitControl control = {}) {
    const PlannedScene declared = scene();
    return fit_readings(declared.scene,
                        read_meter_readings(folder_.write("readings.csv", text), declared.scene), control);
  }
  TempFolder folder_;
};

const std::vector<std::pair<std::string, Quantity>> kEverywhere = {
    {"left", Quantity::uvi},        {"right", Quantity::uvi},      {"middle", Quantity::uvi},
    {"on the wire", Quantity::uvi}, {"left", Quantity::lux},       {"right", Quantity::lux},
    {"middle", Quantity::lux},      {"on the wire", Quantity::lux}};

TEST_F(FitToReadings, AWeakLampIsFoundAndNamed) {
  const std::string truth = "measured: {lamps: {one: {factor: {ultraviolet: 0.6, visible: 0.6}}}}\n";
  const Fit found = fit(sheet(truth, kEverywhere));
  ASSERT_EQ(found.lamps.size(), 4U);
  for (const FitFactor& factor : found.lamps) {
    const double expected = factor.name == "one" ? 0.6 : 1;
    EXPECT_LE(factor.low, expected) << factor.name << ", " << factor.part;
    EXPECT_GE(factor.high, expected) << factor.name << ", " << factor.part;
    if (factor.name == "two") {
      EXPECT_LT(factor.sd_after, 0.8 * factor.sd_before) << factor.part;
    }
  }
  EXPECT_LT(found.lamps[0].factor, 0.75) << "far beyond the usual spread, and still believed";
  ASSERT_FALSE(found.causes.empty());
  EXPECT_EQ(found.causes[0].kind, FitKind::lamp);
  EXPECT_EQ(found.causes[0].name, "one");
  EXPECT_LT(found.miss_after, found.miss_before);
}

TEST_F(FitToReadings, AFouledMeshIsToldFromWeakLamps) {
  const Fit found = fit(sheet("measured: {meshes: {net: {factor: 0.6}}}\n", kEverywhere));
  ASSERT_FALSE(found.causes.empty());
  EXPECT_EQ(found.causes[0].kind, FitKind::mesh);
  ASSERT_EQ(found.meshes.size(), 1U);
  EXPECT_NEAR(found.meshes[0].factor, 0.6, 0.12);
  EXPECT_LE(found.meshes[0].low, 0.6);
}

TEST_F(FitToReadings, AReadingAtTheWrongPlaceIsAnOutlierAndItsPlaceGuessed) {
  std::string text = sheet("", kEverywhere);
  const std::string elsewhere = sheet("", {{"low", Quantity::uvi}});
  const std::string value = elsewhere.substr(elsewhere.rfind(',') + 1);
  text += "right,uvi," + value;
  const Fit found = fit(text);
  const FitReading& wrong = found.readings.back();
  EXPECT_TRUE(wrong.outlier);
  EXPECT_TRUE(std::any_of(wrong.guesses.begin(), wrong.guesses.end(), [](const FitGuess& guess) {
    return guess.kind == FitGuess::Kind::place && guess.name == "low";
  }));
  EXPECT_EQ(std::count_if(found.readings.begin(), found.readings.end(),
                          [](const FitReading& r) { return r.outlier; }),
            1);
}

// All that is known of a lamp's ultraviolet is this reading: no other contradicts it.
TEST_F(FitToReadings, TheOnlyReadingOfALampsUltravioletIsBelievedAndTold) {
  const std::string lux =
      sheet("", {{"left", Quantity::lux}, {"right", Quantity::lux}, {"middle", Quantity::lux}});
  const std::string left = sheet("", {{"left", Quantity::uvi}});
  const double value = std::stod(left.substr(left.rfind(',') + 1));
  for (const double times : {0.45, 2.2}) {
    const Fit found = fit(lux + "left,uvi," + std::to_string(times * value) + "\n");
    const FitReading& reading = found.readings.back();
    EXPECT_TRUE(reading.used) << times;
    EXPECT_TRUE(reading.at_odds) << times;
    EXPECT_NEAR(reading.expected / value, 1, 0.01) << "by all others";
    // The scene that comes of it reads what the meter read, but for the meter's own doubt.
    EXPECT_NEAR(reading.fitted / (times * value), 1, 0.1) << times;
    // Beside what the other lamp gives there.
    EXPECT_GT(std::log(found.lamp_factors[0][0]) / std::log(times), 0.8);
    EXPECT_GT(found.lamp_spreads[0], 0.1);
  }
  // Ten times as much is a slip of the decimal point.
  EXPECT_TRUE(fit(lux + "left,uvi," + std::to_string(10 * value) + "\n").readings.back().outlier);
}

TEST_F(FitToReadings, TwoReadingsThatAgreeOnAStrongLampAreBelieved) {
  const std::string truth = "measured: {lamps: {one: {factor: {ultraviolet: 3.5, visible: 3.5}}}}\n";
  const Fit found = fit(sheet(truth, {{"left", Quantity::uvi}, {"on the wire", Quantity::uvi}}));
  for (const FitReading& reading : found.readings) {
    EXPECT_TRUE(reading.used);
    EXPECT_FALSE(reading.at_odds) << reading.miss;
    EXPECT_NEAR(reading.fitted / reading.reading.value, 1, 0.1);
  }
  EXPECT_TRUE(found.lamps[0].learned);
  EXPECT_NEAR(found.lamp_factors[0][0], 3.5, 0.4);
}

TEST_F(FitToReadings, AWetSensorReadsLowWhereOthersFit) {
  std::string text = sheet("", kEverywhere);
  const std::string right = sheet("", {{"right", Quantity::uvi}});
  const double value = std::stod(right.substr(right.rfind(',') + 1));
  text += "right,uvi," + std::to_string(0.37 * value) + "\n";
  const FitReading wet = fit(text).readings.back();
  EXPECT_TRUE(wet.outlier);
  ASSERT_FALSE(wet.guesses.empty());
  EXPECT_EQ(wet.guesses.back().kind, FitGuess::Kind::low_alone);
}

TEST_F(FitToReadings, ColdLampsHaveNoSay) {
  std::string text = sheet("", {{"left", Quantity::uvi}, {"right", Quantity::uvi}});
  std::string cold = "place,quantity,reading,warm\n";
  cold += text.substr(text.find('\n') + 1);
  cold += "middle,uvi,0.01,no\n";
  const Fit found = fit(cold);
  EXPECT_FALSE(found.readings.back().used);
  EXPECT_FALSE(found.readings.back().outlier);
  for (const FitFactor& factor : found.lamps) EXPECT_NEAR(factor.factor, 1, 0.03);
}

TEST_F(FitToReadings, AReadingWithoutTheScreenIsReadSo) {
  // Straight down the middle of the disc the net lets (1 - 0.2)^2 = 0.64 through; a little less at a slant.
  const std::string under = sheet("", {{"left", Quantity::uvi}});
  const double value = std::stod(under.substr(under.rfind(',') + 1));
  const Fit off = fit("place,quantity,reading,screen\nleft,uvi," + std::to_string(value / 0.63) + ",no\n");
  EXPECT_NEAR(off.readings[0].declared, value / 0.63, 0.05 * value / 0.63);
  EXPECT_NEAR(off.lamps[0].factor, 1, 0.03);
}

TEST_F(FitToReadings, ARaisedLampIsFoundWhereHeightsAreAskedFor) {
  const PlannedScene declared = scene("doubt: {lamp: 2 %, position: 4 cm, mesh: 2 %, surfaces: 2 %}\n");
  PlannedScene truth = declared;
  truth.scene.lamps[0].at.z() += 0.05;
  FitPlaces places(truth.scene);
  std::string text = "place,quantity,reading\n";
  for (const Reading& reading : places.readings())
    for (int times = 0; times < 4; ++times)
      text += reading.name + ",uvi," + std::to_string(reading.values.at(Quantity::uvi).value) + "\n";
  FitControl control;
  control.heights = true;
  control.meter = 0.02;
  const Fit found = fit_readings(
      declared.scene, read_meter_readings(folder_.write("readings.csv", text), declared.scene), control);
  ASSERT_FALSE(found.heights.empty());
  const FitHeight& lamp = found.heights[0];
  EXPECT_TRUE(lamp.of_lamp);
  EXPECT_EQ(lamp.name, "one");
  EXPECT_GT(lamp.shift, 0.01);
  EXPECT_LT(std::abs(lamp.shift - 0.05), 2.5 * lamp.sd_after);
  const std::string text_after = fitted_scene_text(declared, found);
  EXPECT_EQ(text_after.find("fixture: glow.yaml, at: [15, 25, 80]"), std::string::npos) << text_after;
  EXPECT_NE(text_after.find("on the wire"), std::string::npos);
}

TEST_F(FitToReadings, TheCalibratedSceneReadsAsFitted) {
  const std::string truth = "measured: {lamps: {one: {factor: 0.65}, two: {factor: 1.2}}}\n";
  const Fit found = fit(sheet(truth, kEverywhere));
  const PlannedScene declared = scene();
  const std::string text = fitted_scene_text(declared, found);
  FitPlaces places(load_scene(folder_.write("fitted.yaml", text)));
  for (const FitReading& reading : found.readings)
    for (const Reading& now : places.readings())
      if (now.name == reading.reading.place) {
        // Both are traced to 1 %; the mesh's factor also changes what is scattered at it.
        EXPECT_NEAR(now.values.at(reading.reading.quantity).value, reading.fitted, 0.04 * reading.fitted)
            << now.name;
      }
}

}  // namespace
}  // namespace boughlight
