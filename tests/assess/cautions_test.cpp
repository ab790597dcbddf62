#include "assess/cautions.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "assess/clock.h"
#include "assess/survey.h"
#include "assess/survey_kit.h"

namespace boughlight {
namespace {

using enum Quantity;

// A survey made by hand: a perch under a daylight lamp, a tube and a flood, as their shares say.
Survey perch_survey() {
  Survey survey;
  Scene& scene = survey.scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.9}, 20).name = "daylight";
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.9}, 1).name = "tube";
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.9}, 20).name = "flood";
  for (Lamp& lamp : scene.lamps) lamp.lit = {{8, 18}};
  scene.lamps[0].lit = {{7, 19}};
  scene.perches.push_back({"perch", {0.5, 0.5, 0.3}, {}, {}, {}, {}});
  Reading reading;
  reading.name = "perch";
  reading.kind = ReadingKind::perch;
  const auto give = [&](const std::string& lamp, double uvi_given, double lux_given, double ppfd_given,
                        double irradiance_given, double infrared_given) {
    reading.by_lamp[lamp] = {{uvi, uvi_given},
                             {lux, lux_given},
                             {ppfd, ppfd_given},
                             {irradiance, irradiance_given},
                             {infrared, infrared_given}};
  };
  give("daylight", 0, 6000, 100, 30, 5);
  give("tube", 2, 300, 5, 4, 1);
  give("flood", 0, 2000, 40, 200, 170);
  for (const auto& [lamp, shares] : reading.by_lamp)
    for (const auto& [quantity, value] : shares) reading.values[quantity].value += value;
  survey.readings = {reading};
  survey.has_day = true;
  return survey;
}

// Follows the clock as the survey does: what the perch gets is in each lamp's share alone.
void set_clock(Survey& survey) {
  ClockFindings& clock = survey.day.clock;
  const Scene& scene = survey.scene;
  clock.readings.resize(1);
  clock.readings[0].fill(std::vector<double>(kClockMoments, 0.0));
  std::vector<ClockSpan> lit;
  for (const Lamp& lamp : scene.lamps) {
    clock.sources.emplace_back(kClockMoments, 0.0);
    for (std::size_t k = 0; k < kClockMoments; ++k) {
      clock.sources.back()[k] = lit_share(*lamp.lit, lamp.ramp_h, static_cast<double>(k) / 12);
      for (std::size_t q = 0; q < kClockQuantities.size(); ++q)
        clock.readings[0][q][k] +=
            clock.sources.back()[k] * survey.readings[0].by_lamp.at(lamp.name).at(kClockQuantities[q]);
    }
  }
}

std::vector<std::string> texts(const Survey& survey, const std::string& kind) {
  std::vector<std::string> found;
  for (const Caution& caution : cautions_of(survey))
    if (caution.kind == kind) found.push_back(caution.text);
  return found;
}

using Texts = std::vector<std::string>;

TEST(Cautions, EachHasAReason) {
  Survey survey = perch_survey();
  set_clock(survey);
  survey.scene.notes = {"the scene has no lamps"};
  survey.leaf_count = 1;
  for (const Caution& caution : cautions_of(survey)) {
    EXPECT_FALSE(caution.text.empty()) << caution.kind;
    EXPECT_FALSE(caution.reason.empty()) << caution.kind;
    EXPECT_EQ(caution.reason.back(), '.') << caution.kind;
  }
}

TEST(Cautions, ThatAlwaysShowAreThere) {
  Survey survey = perch_survey();
  for (const char* kind : {"estimate", "drift", "eyes", "heat", "fire", "mains", "retreat", "veterinarian"})
    EXPECT_EQ(texts(survey, kind).size(), 1u) << kind;
  EXPECT_EQ(texts(survey, "leaves").size(), 0u);
}

TEST(Cautions, UltravioletWithoutBrightLightIsToldByTheClock) {
  Survey survey = perch_survey();
  set_clock(survey);
  EXPECT_EQ(texts(survey, "uv-without-light"), Texts{});
  survey.scene.lamps[0].lit = {{7, 13}};
  survey.day = {};
  set_clock(survey);
  // Flood and tube give 2300 lx at UVI 2: more than 1000 lx a unit.
  EXPECT_EQ(texts(survey, "uv-without-light"), Texts{});
  survey.scene.lamps[2].lit = {{9, 12}};
  survey.day = {};
  set_clock(survey);
  EXPECT_EQ(
      texts(survey, "uv-without-light"),
      (Texts{"'perch' gets ultraviolet without bright light at times between 13:00 and 18:00: 300 lx at a UV "
             "index of 2."}));
}

TEST(Cautions, AShortOrAbsentNightIsTold) {
  Survey survey = perch_survey();
  set_clock(survey);
  survey.day.clock.longest_dark = ClockSpan{20, 30};
  EXPECT_EQ(texts(survey, "night"), Texts{});
  survey.day.clock.longest_dark = ClockSpan{23, 31};
  EXPECT_EQ(texts(survey, "night"), (Texts{"The longest dark is 8 h, from 23:00 to 07:00."}));
  survey.day.clock.longest_dark = ClockSpan{0, 0};
  EXPECT_EQ(texts(survey, "night"), (Texts{"It is never dark."}));
}

TEST(Cautions, LampsThatLeadOrOutlastTheMainLightAreTold) {
  Survey survey = perch_survey();
  survey.scene.lamps[1].lit = {{6.5, 18}};
  survey.scene.lamps[2].lit = {{9, 19.5}};
  set_clock(survey);
  survey.day.clock.longest_dark = ClockSpan{19.5, 30.5};
  EXPECT_EQ(texts(survey, "lamp-order"),
            (Texts{"'tube' comes on at 06:30, before the main light, 'daylight', at 07:00.",
                   "'flood' stays on until 19:30, when the main light, 'daylight', is off from 19:00."}));
}

TEST(Cautions, AColouredMainLightIsTold) {
  Survey survey = perch_survey();
  EXPECT_EQ(texts(survey, "colour"), Texts{});
  survey.readings[0].by_lamp["daylight"][ppfd] = 400;
  EXPECT_EQ(texts(survey, "colour"),
            (Texts{"The main light, 'daylight', is coloured: 15 lx for each umol/(m2 s)."}));
}

TEST(Cautions, HeatBeforeTheRoomIsWarmIsTold) {
  Survey survey = perch_survey();
  survey.scene.air = Air{};
  survey.scene.air->warm_from_h = 9;
  EXPECT_EQ(
      texts(survey, "cold-heat"),
      (Texts{"'flood' comes on at 08:00, at once and without a ramp, before the room is warm at 09:00."}));
  survey.scene.lamps[2].ramp_h = 0.5;
  EXPECT_EQ(texts(survey, "cold-heat"),
            (Texts{"'flood' comes on at 08:00, before the room is warm at 09:00."}));
  survey.scene.lamps[2].lit = {{9, 18}};
  EXPECT_EQ(texts(survey, "cold-heat"), Texts{});
  // Through the night is another matter than a cold morning.
  survey.scene.lamps[2].lit = {{0, 6}, {20, 24}};
  EXPECT_EQ(texts(survey, "cold-heat"), Texts{});
}

TEST(Cautions, AWarmBackIsToldWithItsBand) {
  Survey survey = perch_survey();
  survey.day.warmth = {{0, {{"day", 24, false, 300, {38, 30, 42.9}}}}};
  EXPECT_EQ(texts(survey, "warmth"), Texts{});
  survey.day.warmth[0].cases.push_back({"hot", 30, true, 350, {47, 38, 55}});
  EXPECT_EQ(
      texts(survey, "warmth"),
      (Texts{
          "On 'perch' a dry, dark back may get as warm as 47 C (38 to 55 C), with every dimmer at full in a "
          "room of 30 C: an estimate, a probe there decides."}));
}

TEST(Cautions, ShortWavesAreToldBesideAGoodIndex) {
  Survey survey = perch_survey();
  survey.readings[0].wants = {{kit::want(uvi, 1, 3), {2, 0.01, true}, Verdict::met}};
  EXPECT_EQ(texts(survey, "short-wave"), Texts{});
  auto fixture = std::make_shared<Fixture>(*survey.scene.lamps[1].fixture);
  fixture->parts[0].components = {{SpectralLine{254}, 1}, {SpectralLine{287}, 1}, {SpectralLine{310}, 8}};
  fixture->parts[0].per_watt = integrate_spectrum(fixture->parts[0].components);
  survey.scene.lamps[1].fixture = fixture;
  EXPECT_EQ(
      texts(survey, "short-wave"),
      (Texts{"'tube' sends 20 % of its ultraviolet below 290 nm (10 % below 280 nm, UVC): a good UV index at "
             "'perch' does not make it safe."}));
  EXPECT_EQ(texts(survey, "unseen"),
            (Texts{"'tube' sends ultraviolet and hardly any visible light: nobody sees that it is on."}));
}

TEST(Cautions, AGuessedSpectrumIsToldBesideAGoodIndex) {
  Survey survey = perch_survey();
  survey.readings[0].wants = {{kit::want(uvi, 1, 3), {2, 0.01, true}, Verdict::met}};
  EXPECT_EQ(texts(survey, "no-spectrum"), Texts{});
  auto fixture = std::make_shared<Fixture>(*survey.scene.lamps[1].fixture);
  fixture->parts[0].guessed = true;
  survey.scene.lamps[1].fixture = fixture;
  EXPECT_EQ(texts(survey, "no-spectrum"),
            (Texts{"Nobody has declared the spectrum of 'tube': a guess stands in for it. A good UV index at "
                   "'perch' does not show that the lamp is safe."}));
}

Survey plant_survey(double top_dli, double top_infrared, double top_z) {
  Survey survey = perch_survey();
  Plant& plant = kit::add_plant(survey.scene, {0.5, 0.5, top_z - 0.1}, {0.1, 0.1, 0.1}, 0.1, 0.02, 0.01,
                                kit::add_material(survey.scene, kit::grey(0.1, 0.1)));
  plant.needs = {kit::want(dli, 1, 10)};
  Reading reading;
  reading.name = plant.name;
  reading.kind = ReadingKind::plant;
  reading.top_at = Vec3(0.5, 0.5, top_z);
  reading.top[dli].value = top_dli;
  reading.top[infrared].value = top_infrared;
  survey.readings.push_back(reading);
  survey.day.plants = {{1, {}, {}, {}}};
  return survey;
}

TEST(Cautions, TopsOfPlantsThatGetTooMuchAreTold) {
  EXPECT_EQ(texts(plant_survey(9, 90, 0.6), "leaf-light"), Texts{});
  EXPECT_EQ(texts(plant_survey(12, 90, 0.6), "leaf-light"),
            (Texts{"The top of 'bush' gets 12 mol/(m2 d), more than the 10 that it bears."}));
  Survey stepped = plant_survey(12, 90, 0.6);
  stepped.scene.plants[0].bands = {{dli, Limits{0.2, 15}, Limits{1, 10}, {}, {}}};
  EXPECT_EQ(texts(stepped, "leaf-light"), Texts{}) << "it bears as much as it survives";
  EXPECT_EQ(texts(plant_survey(9, 200, 0.6), "leaf-heat"), Texts{});
  EXPECT_EQ(texts(plant_survey(9, 300, 0.6), "leaf-heat"),
            (Texts{"The top of 'bush' gets 300 W/m2 of infrared: keep it trimmed."}));
  EXPECT_EQ(
      texts(plant_survey(9, 200, 0.97), "leaf-heat"),
      (Texts{"The top of 'bush' gets 200 W/m2 of infrared, 3 cm below the top of the enclosure: keep it "
             "trimmed."}));
}

TEST(Cautions, AKeeperOverTheDailyLimitIsTold) {
  Survey survey = perch_survey();
  Workplace place;
  place.name = "feeding";
  place.hours_a_day = 0.5;
  survey.scene.workplaces = {place};
  WorkplaceFindings found;
  found.skin_share = 0.9;
  survey.day.people = {found};
  EXPECT_EQ(texts(survey, "people"), Texts{});
  survey.day.people[0].skin_share = 1.6;
  EXPECT_EQ(
      texts(survey, "people"),
      (Texts{
          "30 min a day at 'feeding' are 160 % of the daily limit for bare skin and eyes of people at work: "
          "switch the lamps off, or cover up and wear goggles."}));
}

TEST(Cautions, WhereTheAnimalGetsNowhereNeverIsNotJudged) {
  Scene scene;
  kit::add_box(scene, {0.3, 0.3, 0.3}, -1);
  scene.animal = Animal{};
  scene.animal->reach = 0.2;
  scene.animal->never = {kit::want(uvi, std::nullopt, 3)};
  scene.survey.spacing = 0.1;
  const Survey survey = run_survey(scene);
  EXPECT_EQ(survey.verdict, WholeVerdict::unsure);
  const auto found = std::find_if(survey.cautions.begin(), survey.cautions.end(),
                                  [](const Caution& caution) { return caution.kind == "no-reach"; });
  ASSERT_NE(found, survey.cautions.end());
  EXPECT_EQ(found->text,
            "With a reach of 20 cm the animal gets to no place at all, so no limit under 'never' is judged.");
}

TEST(Cautions, HeatInReachThatNobodyLimitsIsTold) {
  const auto told = [](double now, double full, std::optional<double> limit) {
    Survey survey = perch_survey();
    survey.hottest = Hottest{};
    survey.hottest->irradiance.figure.value = now;
    survey.hottest->irradiance_at_full.figure.value = full;
    survey.hottest->irradiance.limit = limit;
    const std::vector<Caution> all = cautions_of(survey);
    const auto at = std::find_if(all.begin(), all.end(),
                                 [](const Caution& caution) { return caution.kind == "unlimited-heat"; });
    return at == all.end() ? std::string() : at->text;
  };
  EXPECT_EQ(told(900, 900, std::nullopt), "");
  EXPECT_EQ(told(4720, 4720, 600), "") << "judged";
  EXPECT_EQ(
      told(4720, 4720, std::nullopt),
      "The closest reachable place gets 4720 W/m2, and no limit in 'animal.never' says whether that is too "
      "much.");
  EXPECT_NE(told(459, 1520, std::nullopt).find("459 W/m2 (1520 W/m2 with every dimmer at full)"),
            std::string::npos);
}

}  // namespace
}  // namespace boughlight
