// Sound lamps: each output scales its part to what it declares.
#include "scene_files.h"

namespace boughlight {
namespace {

std::shared_ptr<const Fixture> load(const std::string& emitter, const std::string& distribution,
                                    const std::string& spectrum, const std::string& output) {
  const TempFolder folder;
  folder.write("own.csv", "# nm, relative power\n400, 0\n500, 2\n600, 0\n");
  folder.write("lamp.yaml", "fixture: 1\nemitter: " + emitter + "\ndistribution: " + distribution +
                                "\nemission: [{part: light, spectrum: " + spectrum + ", output: " + output +
                                ", ageing: [[0 h, 1], [1000 h, 0.5]]}]\n");
  return load_fixture("lamp.yaml", folder.path());
}

TEST(LoadFixture, GivesTheReadingThatItWasAnchoredBy) {
  // Linear tube, bare disc, ball, panel and point; each reading with its unit and without.
  const std::string spectrum =
      "{bands: [{at: 320 nm, width: 30 nm, from: 292 nm}], blackbody: {temperature: 2900 K, "
      "weight: 3}}";
  const std::pair<std::string, std::string> shapes[] = {
      {"{shape: tube, length: 53 cm, diameter: 16 mm}", "{form: trough, cutoff: 70 deg}"},
      {"{shape: tube, length: 53 cm, diameter: 16 mm}", "lambert"},
      {"{shape: disc, diameter: 9 cm}", "lambert"},
      {"{shape: sphere, diameter: 9 cm}", "lambert"},
      {"{shape: rectangle, length: 30 cm, width: 20 cm}", "{form: cosine-power, half_angle: 35 deg}"},
      {"{shape: point}", "{form: table, intensity: [[0 deg, 1], [30 deg, 0.5], [60 deg, 0]]}"},
  };
  const std::tuple<const char*, Quantity, double> readings[] = {
      {"{uvi: 4.0, at: 30 cm}", Quantity::uvi, 4},
      {"{uvb: 50 uW/cm2, at: 30 cm}", Quantity::uvb, 0.5},
      {"{uva: 9 W/m2, at: 1 ft}", Quantity::uva, 9},
      {"{lux: 1.2 klx, at: 1 ft}", Quantity::lux, 1200},
      {"{ppfd: 90, at: 30 cm}", Quantity::ppfd, 90},
      {"{irradiance: 5 mW/cm2, at: 300 mm}", Quantity::irradiance, 50}};
  for (const auto& [emitter, distribution] : shapes) {
    for (const auto& [output, quantity, value] : readings) {
      const auto lamp = load(emitter, distribution, spectrum, output);
      const LampPart& part = lamp->parts.at(0);
      const double distance = std::string(output).find("ft") != std::string::npos ? 0.3048 : 0.3;
      // A flat sensor facing the lamp there reads flux x weighting per watt x irradiance per watt.
      const double reading =
          part.radiant_flux_w * part.per_watt.total(quantity) * lamp->emitter->on_axis(distance);
      EXPECT_NEAR(reading, value, 1e-9 * value) << emitter << " " << output;  // rounding only
    }
  }
}

TEST(LoadFixture, PointSourceAnchorFollowsTheInverseSquareLaw) {
  // An isotropic point of flux F gives F / (4 pi d^2): 10 W/m2 at 0.5 m take 10 pi W.
  const auto lamp = load("{shape: point}", "isotropic", "{blackbody: 2900 K}", "{irradiance: 10, at: 50 cm}");
  EXPECT_NEAR(lamp->parts[0].radiant_flux_w, 31.41592653589793, 1e-8);
  // A Lambertian point to one side: F cos / (pi d^2), so a quarter of it.
  const auto lambert =
      load("{shape: point}", "lambert", "{blackbody: 2900 K}", "{irradiance: 10, at: 50 cm}");
  EXPECT_NEAR(lambert->parts[0].radiant_flux_w, 7.853981633974483, 1e-8);
}

TEST(LoadFixture, ABandOfUltravioletIsAllOfItAlikeAndNothingElse) {
  // 1 W in three equal lines, one each of UV-B, UV-A and light: a third of it lies within a band, whatever
  // its wavelength there. 50 uW/cm2 = 0.5 W/m2 at 0.3 m take 4 pi 0.3^2 0.5 W of the band: thrice that in
  // all.
  const std::string lines = "{lines: [[300 nm, 1], [350 nm, 1], [550 nm, 1]]}";
  for (const char* output : {"{uvb: 50 uW/cm2, at: 30 cm}", "{uva: 50 uW/cm2, at: 30 cm}"}) {
    const LampPart part = load("{shape: point}", "isotropic", lines, output)->parts[0];
    EXPECT_NEAR(part.radiant_flux_w, 3 * 4 * 3.141592653589793 * 0.09 * 0.5, 1e-9) << output;
    EXPECT_EQ(part.anchor_m, 0.3) << output;
  }
}

TEST(LoadFixture, FluxesAreWholeNotPerDirection) {
  const std::string disc = "{shape: disc, diameter: 9 cm}";
  EXPECT_EQ(load(disc, "lambert", "{blackbody: 2900 K}", "{radiant_flux: 500 mW}")->parts[0].radiant_flux_w,
            0.5);
  // At 555 nm a watt is 683.002 lm x V(555 nm) = 1 (CIE 1931 photopic peak); 6830.02 lm are 10 W.
  const auto lumens = load(disc, "lambert", "{lines: [[555 nm, 1]]}", "{luminous_flux: 6830.02 lm}");
  EXPECT_NEAR(lumens->parts[0].radiant_flux_w, 10, 1e-6);
  // A mole of photons of 500 nm holds N_A h c / 500 nm = 239 254 J (CODATA 2018), 1 umol/s is 0.239254 W.
  const auto photons = load(disc, "lambert", "{lines: [[500 nm, 1]]}", "{photon_flux: 1 umol/s}");
  EXPECT_NEAR(photons->parts[0].radiant_flux_w, 0.239254, 1e-6);
}

TEST(LoadFixture, ZeroOutputIsADarkPart) {
  const auto lamp = load("{shape: point}", "lambert", "{blackbody: 2900 K}", "{lux: 0, at: 30 cm}");
  EXPECT_EQ(lamp->parts[0].radiant_flux_w, 0);
}

TEST(LoadFixture, ComponentsShareByTheirWeights) {
  const auto lamp =
      load("{shape: point}", "lambert", "{lines: [[300 nm, 1], [600 nm, 3]]}", "{radiant_flux: 1 W}");
  const SpectralD& power = lamp->parts[0].per_watt.power;
  EXPECT_NEAR(power[bin_of(300)], 0.25, 1e-12);
  EXPECT_NEAR(power[bin_of(600)], 0.75, 1e-12);
}

TEST(LoadFixture, TablesAndFilesGiveTheSameSpectrum) {
  const std::string inline_table = "{table: [[400 nm, 0], [500 nm, 2], [600 nm, 0]]}";
  const auto a = load("{shape: point}", "lambert", inline_table, "{radiant_flux: 1 W}");
  for (const char* other : {"{file: own.csv}", "{file: {name: own.csv, weight: 2}}",
                            "{table: {points: [[400 nm, 0], [500 nm, 2], [600 nm, 0]], weight: 0.1}}"}) {
    const auto b = load("{shape: point}", "lambert", other, "{radiant_flux: 1 W}");
    EXPECT_TRUE(a->parts[0].per_watt.power.isApprox(b->parts[0].per_watt.power)) << other;
  }
  // A triangle: half its power lies below its peak.
  EXPECT_NEAR(a->parts[0].per_watt.power.segment(bin_of(400), bin_of(500) - bin_of(400)).sum(), 0.5, 1e-6);
}

TEST(LoadFixture, TellsAGuessedSpectrumFromADeclaredOne) {
  for (const auto& [basis, guessed] :
       {std::pair{"declared", false}, {"measured", false}, {"guessed", true}}) {
    const auto lamp =
        load("{shape: point}", "lambert", std::string("{blackbody: 2900 K}, spectrum_basis: ") + basis,
             "{radiant_flux: 1 W}");
    EXPECT_EQ(lamp->parts[0].guessed, guessed) << basis;
  }
  EXPECT_FALSE(
      load("{shape: point}", "lambert", "{blackbody: 2900 K}", "{radiant_flux: 1 W}")->parts[0].guessed);
}

TEST(LoadFixture, AgeingIsLinearAndHoldsItsEnds) {
  const auto lamp = load("{shape: point}", "lambert", "{blackbody: 2900 K}", "{radiant_flux: 1 W}");
  const Table& ageing = lamp->parts[0].ageing;
  EXPECT_EQ(ageing.at(0), 1);
  EXPECT_EQ(ageing.at(500), 0.75);
  EXPECT_EQ(ageing.at(9000), 0.5);
}

TEST(LoadFixture, SaysItsDistributionInWords) {
  const auto words = [](const std::string& distribution) {
    return load("{shape: tube, length: 53 cm, diameter: 16 mm}", distribution, "{blackbody: 2900 K}",
                "{radiant_flux: 1 W}")
        ->distribution;
  };
  EXPECT_EQ(words("lambert"), "Lambert's cosine law");
  EXPECT_EQ(words("isotropic"), "equal in all directions");
  EXPECT_EQ(words("{form: trough, cutoff: 70 deg}"), "trough, cut off at 70 deg");
  EXPECT_EQ(words("{form: cosine-power, half_angle: 12.5 deg}"), "cosine power, half at 12.5 deg");
  EXPECT_EQ(words("{form: table, intensity: [[0 deg, 1], [30 deg, 0]]}"), "intensity table of 2 angles");
}

}  // namespace
}  // namespace boughlight
