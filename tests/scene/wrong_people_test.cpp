// What a scene must not say about the room's air, workplaces, ramps and needs in steps; and what it may.
#include "scene_files.h"

namespace boughlight {
namespace {

std::string lamp_with(const std::string& more) {
  return "lamps: [{name: tube, fixture: tube-uv-55, at: [45, 24, 120], " + more + "}]\n";
}

TEST(WrongAir, IsTold) {
  expect_mistakes(
      TempFolder(),
      {{"air: {day: 24 C, night: 18 C, hot: 30 C, cold: 16 C, warm_from: \"09:30\"}\n", {}},
       {"air: {day: 24}\n", {"scene.yaml:3:12: air.day: '24' needs a unit: air temperatures take C or F"}},
       {"air: {day: 297 K}\n",
        {"scene.yaml:3:12: air.day: '297 K' has an unknown unit; air temperatures take C or F"}},
       {"air: {day: 90 C}\n",
        {"scene.yaml:3:12: air.day: '90 C' is not allowed: it must be from -40 C to 60 C"}},
       {"air: {day: [24 C]}\n",
        {"scene.yaml:3:12: air.day: is a list; a temperature such as 24 C is needed here"}},
       {"air: {night: 18 C}\n",
        {"scene.yaml:3:6: air: 'day' is missing: the room's air by day, such as 24 C"}},
       {"air: {day: 24 C, night: 26 C, hot: 70 F, cold: 25 C}\n",
        {"scene.yaml:3:25: air.night: 26 C is above the day's 24 C: the night is no warmer than the day",
         "scene.yaml:3:36: air.hot: 21.11 C is below the day's 24 C: 'hot' is the hottest day that is "
         "expected",
         "scene.yaml:3:48: air.cold: 25 C is above the day's 24 C: 'cold' is the coldest day that is "
         "expected"}},
       {"air: {day: 24 C, warm_from: half past nine}\n",
        {"scene.yaml:3:29: air.warm_from: 'half past nine' is not a time of day: write it as in \"09:30\""}},
       {"air: {day: 24 C, humidity: 80 %}\n",
        {"scene.yaml:3:18: air.humidity: is an unknown key; allowed: day, night, hot, cold or warm_from"}}});
}

TEST(WrongWorkplaces, AreTold) {
  const auto place = [](const std::string& more) {
    return "workplaces: [{name: feeding, at: [45, -5, 80]" + more + "}]\n";
  };
  expect_mistakes(
      TempFolder(),
      {{place(", facing: up, open: {cabinet: [top, back]}, daily: 10 min"), {}},
       {place(", open: {cabinet: back}"), {}},
       {"workplaces: [{name: a}]\n",
        {"scene.yaml:3:14: workplaces[0]: 'at' is missing: the place [x, y, z] of face or hands"}},
       {"workplaces:\n  - {name: a, at: [1, 1, 1]}\n  - {name: a, at: [1, 1, 1]}\n",
        {"scene.yaml:5:12: workplaces[1].name: the name 'a' is used twice: first in line 4 "
         "(workplaces[0].name)"}},
       {place(", open: [back]"),
        {"scene.yaml:3:54: workplaces[0].open: is a list; a mapping of boxes to faces, {cage: [front]}, is "
         "needed "
         "here"}},
       {place(", open: {cabinett: [back]}"),
        {"scene.yaml:3:55: workplaces[0].open.cabinett: is no box of the enclosure (did you mean "
         "'cabinet'?); "
         "allowed: cabinet"}},
       {place(", open: {cabinet: [door]}"),
        {"scene.yaml:3:65: workplaces[0].open.cabinet[0]: is 'door'; floor, top, front, back, left or right "
         "is "
         "allowed"}},
       {place(", open: {cabinet: [front]}"),
        {"scene.yaml:3:65: workplaces[0].open.cabinet[0]: is open already: leave it out"}},
       {place(", open: {cabinet: [back, back]}"),
        {"scene.yaml:3:71: workplaces[0].open.cabinet[1]: is named twice: leave it out"}},
       {place(", daily: 10"),
        {"scene.yaml:3:55: workplaces[0].daily: '10' needs a unit: durations take h, min, d or s"}},
       {place(", daily: 25 h"),
        {"scene.yaml:3:55: workplaces[0].daily: '25 h' is not allowed: it must be from 0 to 24 h"}}});
}

TEST(WrongWorkplaces, CannotOpenASideThatAnotherBoxCovers) {
  const TempFolder folder;
  const std::string sides = "front: cork, back: cork, left: cork, right: cork";
  const std::string scene = "boughlight: 1\nenclosure:\n  - {box: a, size: [9, 9, 9], faces: {floor: cork, " +
                            sides + "}}\n  - {box: b, size: [9, 9, 9], faces: {top: cork, " + sides +
                            "}}\nworkplaces: [{name: w, at: [1, 1, 1], open: {a: [top]}}]\n";
  EXPECT_EQ(
      folder.mistakes(scene),
      (std::vector<std::string>{"scene.yaml:5:50: workplaces[0].open.a[0]: another box covers this side "
                                "wholly: it cannot be opened"}));
}

TEST(WrongRamps, AreTold) {
  expect_mistakes(
      TempFolder(),
      {{lamp_with("lit: \"08:00-18:00\", ramp: 30 min"), {}},
       {lamp_with("lit: \"08:00-12:00\", ramp: 2 h"), {}},
       {lamp_with("lit: \"20:00-01:00\", ramp: 2.5 h"), {}},
       {lamp_with("ramp: 30 min"),
        {"scene.yaml:3:68: lamps[0].ramp: needs the lamp's hours, 'lit': it comes up at their start and goes "
         "down "
         "at their end"}},
       {lamp_with("lit: \"08:00-12:00, 14:00-15:00\", ramp: 40 min"),
        {"scene.yaml:3:101: lamps[0].ramp: '40 min' is longer than half of 14:00-15:00: at most 30 min is "
         "allowed"}},
       {lamp_with("lit: \"22:00-02:00\", ramp: 3 h"),
        {"scene.yaml:3:88: lamps[0].ramp: '3 h' is longer than half of 22:00-02:00: at most 120 min is "
         "allowed"}},
       {lamp_with("lit: \"00:00-24:00\", ramp: 10 min"),
        {"scene.yaml:3:88: lamps[0].ramp: the lamp is lit all day, so there is no start or end to ramp at: "
         "leave it "
         "out"}},
       {lamp_with("lit: \"08:00-18:00\", ramp: 30"),
        {"scene.yaml:3:88: lamps[0].ramp: '30' needs a unit: durations take h, min, d or s"}}});
}

std::string plant(const std::string& needs) {
  return "plants:\n  - name: fern\n    crown: {at: [45, 25, 50], radii: [9, 9, 9], leaf_area: 0.1 m2}\n"
         "    leaf: {length: 6, width: 3, material: fern-leaf}\n    needs: " +
         needs + "\n";
}

TEST(WrongSteps, AreTold) {
  expect_mistakes(
      TempFolder(),
      {{plant("{dli: {survive: [0.2, 20], hold: [0.6, 15], grow: [2, 10]}}"), {}},
       {plant("{dli: {survive: {min: 0.2}, grow: [2, 10]}, ppfd: [1, 500]}"), {}},
       {plant("{dli: {hold: [0.6, 15], grow: [2, 20]}}"),
        {"scene.yaml:7:42: plants[0].needs.dli.grow: 2 to 20 reaches outside of 'hold', 0.6 to 15: survive, "
         "hold and "
         "grow lie each within the one before"}},
       {plant("{dli: {survive: [1, 20], hold: {max: 15}}}"),
        {"scene.yaml:7:43: plants[0].needs.dli.hold: at most 15 reaches outside of 'survive', 1 to 20: "
         "survive, hold "
         "and grow lie each within the one before"}},
       {plant("{dli: {survive: [1, 20], min: 3}}"),
        {"scene.yaml:7:37: plants[0].needs.dli.min: is an unknown key; allowed: survive, hold or grow"}},
       {plant("{dli: {survive: 3}}"),
        {"scene.yaml:7:28: plants[0].needs.dli.survive: is '3'; limits are needed here: [min, max], {min: "
         "...}, "
         "{max: ...} or {min: ..., max: ...}"}},
       {plant("{dli: {hold: [3, 1]}}"),
        {"scene.yaml:7:25: plants[0].needs.dli.hold: the lower limit 3 is above the upper limit 1"}}});
}

TEST(NeedsInSteps, HoldIsJudgedElseSurviveElseGrow) {
  const TempFolder folder;
  const auto judged = [&](const std::string& steps) {
    const Scene scene = load_scene(folder.write("scene.yaml", kCabinet + plant("{dli: {" + steps + "}}")));
    EXPECT_EQ(scene.plants[0].needs.size(), 1u);
    EXPECT_EQ(scene.plants[0].bands.size(), 1u);
    return scene.plants[0].needs[0].limits.min.value_or(-1);
  };
  EXPECT_EQ(judged("survive: [0.2, 20], hold: [0.6, 15], grow: [2, 10]"), 0.6);
  EXPECT_EQ(judged("survive: [0.2, 20], grow: [2, 10]"), 0.2);
  EXPECT_EQ(judged("grow: [2, 10]"), 2);
}

TEST(PeopleAndAir, AreReadInSiUnits) {
  const TempFolder folder;
  const Scene scene = load_scene(folder.write(
      "scene.yaml",
      kCabinet + lamp_with("lit: \"08:00-18:00\", ramp: 30 min") +
          "air: {day: 77 F, night: 18 C, warm_from: 9:30}\n"
          "workplaces: [{name: feeding, at: [45, -5, 80], open: {cabinet: [top]}, daily: 10 min}]\n"));
  EXPECT_DOUBLE_EQ(scene.lamps[0].ramp_h, 0.5);
  ASSERT_TRUE(scene.air);
  EXPECT_DOUBLE_EQ(scene.air->day_c, 25);
  EXPECT_EQ(scene.air->night_c, 18);
  EXPECT_FALSE(scene.air->hot_c);
  EXPECT_EQ(scene.air->warm_from_h, 9.5);
  const Workplace& workplace = scene.workplaces.at(0);
  EXPECT_TRUE(workplace.at.isApprox(Vec3(0.45, -0.05, 0.8)));
  EXPECT_TRUE(workplace.facing.brightest);
  EXPECT_EQ(workplace.open, (std::vector<std::pair<std::size_t, Side>>{{0, Side::top}}));
  EXPECT_DOUBLE_EQ(workplace.hours_a_day, 1.0 / 6);
}

}  // namespace
}  // namespace boughlight
