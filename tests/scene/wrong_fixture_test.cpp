// What a lamp's file must not say.
#include "scene_files.h"

namespace boughlight {
namespace {

// Line 1 the version, line 2 the emitter, line 3 the distribution, line 4 the part.
std::string fixture(const std::string& emitter, const std::string& distribution, const std::string& spectrum,
                    const std::string& output, const std::string& ageing = "[[0 h, 1]]") {
  return "fixture: 1\nemitter: " + emitter + "\ndistribution: " + distribution +
         "\nemission: [{part: light, spectrum: " + spectrum + ", output: " + output + ", ageing: " + ageing +
         "}]\n";
}
const std::string kDisc = "{shape: disc, diameter: 4 cm}";
const std::string kTubeShape = "{shape: tube, length: 53 cm, diameter: 16 mm}";
const std::string kBlackbody = "{blackbody: 2900 K}";
const std::string kFlux = "{radiant_flux: 10 W}";

void expect(const std::vector<WrongCase>& cases) {
  const TempFolder folder;
  folder.write("dark.csv", "300, 0\n400, 0\n");
  for (const WrongCase& wrong : cases) {
    EXPECT_EQ(folder.lamp_mistakes(wrong.yaml), wrong.mistakes) << wrong.yaml;
  }
}

TEST(WrongEmitter, IsTold) {
  const auto emitter = [](const std::string& text) { return fixture(text, "lambert", kBlackbody, kFlux); };
  expect({
      {emitter(kDisc), {}},
      {emitter("{shape: disc, diameter: 4}"),
       {"lamp.yaml:2:34: emitter.diameter: '4' needs a unit: lengths take m, cm, mm, um, in, inch or ft"}},
      {emitter("{shape: disc, diameter: 0 cm}"),
       {"lamp.yaml:2:34: emitter.diameter: '0 cm' is not allowed: it must be from 0.1 mm to 10 m"}},
      {emitter("{shape: disc, radius: 4 cm}"),
       {"lamp.yaml:2:10: emitter: 'diameter' is missing: its diameter",
        "lamp.yaml:2:24: emitter.radius: is an unknown key; allowed: shape or diameter"}},
      {emitter("{shape: cube}"),
       {"lamp.yaml:2:18: emitter.shape: is 'cube' (did you mean 'tube'?); tube, disc, rectangle, sphere or "
        "point is "
        "allowed"}},
      {emitter("{length: 4 cm}"),
       {"lamp.yaml:2:10: emitter: 'shape' is missing: tube, disc, rectangle, sphere or point"}},
  });
}

TEST(WrongDistribution, IsTold) {
  const auto disc = [](const std::string& text) { return fixture(kDisc, text, kBlackbody, kFlux); };
  expect({
      {disc("isotropic"), {}},
      {disc("{form: isotropic}"), {}},
      {disc("{form: lambert}"), {}},
      {disc("lambertian"),
       {"lamp.yaml:3:15: distribution: is 'lambertian' (did you mean 'lambert'?); lambert, isotropic, "
        "cosine-power, "
        "trough, table or ies is allowed"}},
      {disc("cosine-power"),
       {"lamp.yaml:3:15: distribution: the form cosine-power needs a figure: {form: cosine-power, "
        "half_angle: ...} "
        "(where the intensity has halved)"}},
      {disc("{form: cosine-power, half_angle: 90 deg}"),
       {"lamp.yaml:3:48: distribution.half_angle: '90 deg' is not allowed: it must be 0.1 deg or more and "
        "less than "
        "90 deg"}},
      {disc("{form: cosine-power, half_angle: 12}"),
       {"lamp.yaml:3:48: distribution.half_angle: '12' needs a unit: angles take rad or deg"}},
      {disc("{form: cosine-power, beam: 12 deg}"),
       {"lamp.yaml:3:15: distribution: 'half_angle' is missing: where the intensity has halved",
        "lamp.yaml:3:36: distribution.beam: is an unknown key; allowed: form or half_angle"}},
      {disc("{form: trough, cutoff: 70 deg}"),
       {"lamp.yaml:3:15: distribution: a trough holds a tube, but the emitter is of shape disc"}},
      {fixture(kTubeShape, "{form: trough, cutoff: 190 deg}", kBlackbody, kFlux),
       {"lamp.yaml:3:38: distribution.cutoff: '190 deg' is not allowed: it must be from 0.1 deg to 180 deg"}},
      {fixture(kTubeShape, "{form: trough, cutoff: 180 deg}", kBlackbody, kFlux), {}},
      {disc("{form: table, intensity: [[0 deg, 0], [30 deg, 0]]}"),
       {"lamp.yaml:3:40: distribution.intensity: holds no intensity above 0"}},
      {disc("{form: table, intensity: [[0 deg, 1]]}"),
       {"lamp.yaml:3:40: distribution.intensity: holds 1 entries; at least 2 are needed"}},
      {disc("{form: table, intensity: [[0 deg, 1], [181 deg, 0]]}"),
       {"lamp.yaml:3:54: distribution.intensity[1][0]: '181 deg' is not allowed: it must be from 0 to 180 "
        "deg"}},
      {disc("{form: ies, file: a.ies}"), {"lamp.yaml:3:33: distribution.file: there is no file 'a.ies'"}},
      {disc("ies"),
       {"lamp.yaml:3:15: distribution: the form ies needs a figure: {form: ies, file: ...} (the name of an "
        "LM-63 file)"}},
      {disc("{cutoff: 70 deg}"),
       {"lamp.yaml:3:15: distribution: 'form' is missing: lambert, isotropic, cosine-power, trough, table or "
        "ies"}},
  });
}

TEST(WrongSpectrum, IsTold) {
  const auto disc = [](const std::string& text) { return fixture(kDisc, "lambert", text, kFlux); };
  const std::string at = "lamp.yaml:4:36: emission[0].spectrum";
  expect({
      {disc("{blackbody: 2900 K}, spectrum_basis: seen"),
       {"lamp.yaml:4:73: emission[0].spectrum_basis: is 'seen'; declared, measured or guessed is allowed"}},
      {disc("{}"),
       {at + ": holds no component with a weight above 0: give bands, lines, blackbody, table or file"}},
      {disc("{lines: [[400 nm, 0]]}"),
       {at + ": holds no component with a weight above 0: give bands, lines, blackbody, table or file"}},
      {disc("{bands: [{at: 320, width: 10 nm}]}"),
       {"lamp.yaml:4:50: emission[0].spectrum.bands[0].at: '320' needs a unit: wavelengths take nm or um"}},
      {disc("{bands: [{at: 320 mm, width: 10 nm}]}"),
       {"lamp.yaml:4:50: emission[0].spectrum.bands[0].at: '320 mm' has an unknown unit; wavelengths take nm "
        "or "
        "um"}},
      {disc("{bands: [{at: 320 nm}]}"),
       {"lamp.yaml:4:45: emission[0].spectrum.bands[0]: 'width' is missing: the full width at half the "
        "peak"}},
      {disc("{bands: [{at: 320 nm, width: 0 nm}]}"),
       {"lamp.yaml:4:65: emission[0].spectrum.bands[0].width: '0 nm' is not allowed: it must be from 0.1 nm "
        "to 25 "
        "um"}},
      {disc("{bands: [{at: 320 nm, width: 9 nm, from: 400 nm, to: 300 nm}]}"),
       {"lamp.yaml:4:45: emission[0].spectrum.bands[0]: nothing is left between 'from', 400 nm, and 'to', "
        "300 nm"}},
      {disc("{bands: [{at: 320 nm, width: 9 nm, weight: -1}]}"),
       {"lamp.yaml:4:79: emission[0].spectrum.bands[0].weight: '-1' is not allowed: it must be 0 or more"}},
      {disc("{lines: [[240 nm, 1]]}"),
       {"lamp.yaml:4:46: emission[0].spectrum.lines[0][0]: '240 nm' is not allowed: it must be from 250 nm "
        "to 25 "
        "um"}},
      {disc("{lines: [[400 nm]]}"),
       {"lamp.yaml:4:45: emission[0].spectrum.lines[0]: is a list of 1; a line [wavelength, weight] is "
        "needed "
        "here"}},
      {disc("{blackbody: 2900}"),
       {"lamp.yaml:4:48: emission[0].spectrum.blackbody: '2900' needs a unit: temperatures take K, C or F"}},
      {disc("{blackbody: -300 C}"),
       {"lamp.yaml:4:48: emission[0].spectrum.blackbody: '-300 C' is not allowed: it must be from 200 K to "
        "30 000 "
        "K"}},
      {disc("{table: [[300 nm, 0], [400 nm, 0]]}"),
       {"lamp.yaml:4:44: emission[0].spectrum.table: holds no power: at least two wavelengths are needed, "
        "and one "
        "value above 0"}},
      {disc("{table: [[300 nm, 1]]}"),
       {"lamp.yaml:4:44: emission[0].spectrum.table: holds 1 entries; at least 2 are needed"}},
      {disc("{file: none.csv}"), {"lamp.yaml:4:43: emission[0].spectrum.file: there is no file 'none.csv'"}},
      {disc("{file: dark.csv}"),
       {"lamp.yaml:4:43: emission[0].spectrum.file: holds no power: at least two wavelengths are needed, and "
        "one "
        "value above 0"}},
      {disc("{line: [[400 nm, 1]]}"),
       {"lamp.yaml:4:37: emission[0].spectrum.line: is an unknown key (did you mean 'lines'?); allowed: "
        "bands, lines, "
        "blackbody, table or file"}},
  });
}

TEST(WrongSpectrum, EmissionBelow250NanometresIsAMistakeNotACut) {
  const TempFolder folder;
  const auto mistakes =
      folder.lamp_mistakes(fixture(kDisc, "lambert", "{bands: [{at: 254 nm, width: 10 nm}]}", kFlux));
  ASSERT_EQ(mistakes.size(), 1u);
  EXPECT_NE(mistakes[0].find("lamp.yaml:4:36: emission[0].spectrum: "), std::string::npos) << mistakes[0];
  EXPECT_NE(mistakes[0].find("below 250 nm"), std::string::npos) << mistakes[0];
  const auto table =
      folder.lamp_mistakes(fixture(kDisc, "lambert", "{table: [[200 nm, 1], [400 nm, 1]]}", kFlux));
  ASSERT_EQ(table.size(), 1u);
  EXPECT_NE(table[0].find("below 250 nm"), std::string::npos) << table[0];
}

TEST(WrongOutput, IsTold) {
  const auto disc = [](const std::string& text, const std::string& spectrum = kBlackbody) {
    return fixture(kDisc, "lambert", spectrum, text);
  };
  const std::string names =
      "uvi, uvb, uva, lux, ppfd, irradiance, luminous_flux, photon_flux or radiant_flux";
  expect({
      {disc("{}"),
       {"lamp.yaml:4:65: emission[0].output: holds none of " + names + "; exactly one scales the part"}},
      {disc("{lux: 100, uvi: 1, at: 3 cm}"),
       {"lamp.yaml:4:65: emission[0].output: holds more than one of " + names +
        "; exactly one scales the part"}},
      {disc("{uvi: 4}"),
       {"lamp.yaml:4:65: emission[0].output: 'at' is missing: the distance on the axis at which uvi is "
        "read"}},
      {disc("{lux: 400, at: 30}"),
       {"lamp.yaml:4:80: emission[0].output.at: '30' needs a unit: lengths take m, cm, mm, um, in, inch or "
        "ft"}},
      {disc("{lux: 400, at: 0 cm}"),
       {"lamp.yaml:4:80: emission[0].output.at: '0 cm' is not allowed: it must be more than 0 and at most "
        "100 m"}},
      {disc("{lux: -4, at: 3 cm}"),
       {"lamp.yaml:4:71: emission[0].output.lux: '-4' is not allowed: it must be 0 or more"}},
      {disc("{radiant_flux: 4 W, at: 3 cm}"),
       {"lamp.yaml:4:89: emission[0].output.at: goes with uvi, uvb, uva, lux, ppfd or irradiance only, not "
        "with "
        "radiant_flux"}},
      {disc("{uvb: 50, at: 30 cm}"),
       {"lamp.yaml:4:71: emission[0].output.uvb: '50' needs a unit: irradiances take W/m2, mW/m2, uW/m2, "
        "mW/cm2, uW/cm2 or W/cm2"}},
      {disc("{uvb: 50 uW/cm2}"),
       {"lamp.yaml:4:65: emission[0].output: 'at' is missing: the distance on the axis at which uvb is "
        "read"}},
      {disc("{uvb: 50 uW/cm2, at: 30 cm}", "{lines: [[320 nm, 1]]}"),
       {"lamp.yaml:4:74: emission[0].output.uvb: the spectrum holds nothing that counts as UV-B, so it "
        "cannot "
        "be scaled by uvb"}},
      // The nearest name would be another quantity.
      {disc("{uvc: 50 uW/cm2, at: 30 cm}"),
       {"lamp.yaml:4:66: emission[0].output.uvc: is an unknown key; allowed: uvi, uvb, uva, lux, ppfd, "
        "irradiance, luminous_flux, photon_flux, radiant_flux or at"}},
      {disc("{luxx: 50, at: 30 cm}"),
       {"lamp.yaml:4:66: emission[0].output.luxx: is an unknown key (did you mean 'lux'?); allowed: uvi, "
        "uvb, "
        "uva, lux, ppfd, irradiance, luminous_flux, photon_flux, radiant_flux or at"}},
      {disc("{radiant_flux: 4 lm}"),
       {"lamp.yaml:4:80: emission[0].output.radiant_flux: '4 lm' has an unknown unit; powers take W, mW or "
        "uW"}},
      {disc("{uvi: 4, at: 30 cm}", "{lines: [[600 nm, 1]]}"),
       {"lamp.yaml:4:74: emission[0].output.uvi: the spectrum holds nothing that counts as UV index, so it "
        "cannot be "
        "scaled by uvi"}},
      {disc("{luminous_flux: 4 klm}", "{lines: [[320 nm, 1]]}"),
       {"lamp.yaml:4:84: emission[0].output.luminous_flux: the spectrum holds nothing that counts as "
        "illuminance, so "
        "it cannot be scaled by luminous_flux"}},
      {disc("{luminous_flux: 1e-300}", "{blackbody: 2800 K}"),
       {"lamp.yaml:4:81: emission[0].output.luminous_flux: would take 6.7e-302 W of this spectrum; 0 or at "
        "least 1e-12 W "
        "are allowed"}},
      {disc("{luminous_flux: 4 klm}", "{blackbody: 400 K}"),
       {"lamp.yaml:4:80: emission[0].output.luminous_flux: would take 1.27e+20 W of this spectrum; at most "
        "100 000 W "
        "are allowed"}},
      {fixture("{shape: sphere, diameter: 10 cm}", "lambert", kBlackbody, "{lux: 10, at: 5 cm}"),
       {"lamp.yaml:4:79: emission[0].output.at: the sensor would be inside the lamp: its surface lies 5 cm "
        "from its "
        "centre"}},
      {fixture(kTubeShape, "lambert", kBlackbody, "{lux: 10, at: 8 mm}"),
       {"lamp.yaml:4:79: emission[0].output.at: the sensor would be inside the lamp: its surface lies 0.8 cm "
        "from its "
        "centre"}},
      {fixture("{shape: point}", "{form: table, intensity: [[0 deg, 0], [10 deg, 0], [60 deg, 1]]}",
               kBlackbody, "{lux: 10, at: 30 cm}"),
       {"lamp.yaml:4:65: emission[0].output: this distribution sends no light along the axis, so lux cannot "
        "be read "
        "there"}},
  });
}

TEST(WrongAgeing, IsTold) {
  const auto aged = [](const std::string& ageing) {
    return fixture(kDisc, "lambert", kBlackbody, kFlux, ageing);
  };
  expect({
      {aged("[]"), {"lamp.yaml:4:95: emission[0].ageing: holds 0 entries; at least 1 are needed"}},
      {aged("[[500 h, 1], [200 h, 0.9]]"),
       {"lamp.yaml:4:109: emission[0].ageing[1][0]: '200 h' does not come after 500 h: entries must rise"}},
      {aged("[[0, 1]]"),
       {"lamp.yaml:4:97: emission[0].ageing[0][0]: '0' needs a unit: durations take h, min, d or s"}},
      {aged("[[0 h, 2.5]]"),
       {"lamp.yaml:4:102: emission[0].ageing[0][1]: '2.5' is not allowed: it must be from 0 to 2 (1 is 100 "
        "%)"}},
  });
}

TEST(WrongFixture, MissingAndRepeatedPartsAreTold) {
  const TempFolder folder;
  EXPECT_EQ(folder.lamp_mistakes("fixture: 1\ntitle: a\n"),
            (std::vector<std::string>{"lamp.yaml:1:1: 'emitter' is missing: the shape that radiates",
                                      "lamp.yaml:1:1: 'emission' is missing: the parts of its light"}));
  const std::string part = "{part: light, spectrum: {blackbody: 2900 K}, output: {radiant_flux: 1 W}}";
  EXPECT_EQ(folder.lamp_mistakes("fixture: 1\nemitter: {shape: point}\nemission:\n  - " + part + "\n  - " +
                                 part + "\n"),
            (std::vector<std::string>{
                "lamp.yaml:5:5: emission[1]: the name 'light' is used twice: first in line 4"}));
}

TEST(WrongFixture, NamesNotInTheLibraryAreTold) {
  const auto text_of = [](const std::string& name) -> std::string {
    try {
      load_fixture(name, ".");
    } catch (const InputError& error) {
      return error.what();
    }
    return "";
  };
  EXPECT_EQ(text_of("tube-uv-5"),
            "there is no lamp 'tube-uv-5' in the library (did you mean 'tube-uv-55'?); 'boughlight library' "
            "lists them, "
            "and a file of your own is named with its .yaml ending");
  EXPECT_EQ(text_of("none.yaml"), "there is no file 'none.yaml'");
  EXPECT_THROW(load_library_material("corc"), InputError);
  EXPECT_THROW(load_library_material("../lamps/tube-uv-55"), InputError);
}

TEST(WrongDimming, IsTold) {
  const auto dimmed = [](const std::string& dimming, const std::string& spectrum) {
    return "fixture: 1\nemitter: " + kDisc + "\nemission: [{part: light, spectrum: " + spectrum +
           ", output: " + kFlux + ",\n dimming: " + dimming + "}]\n";
  };
  const std::string bands = "{bands: [{at: 550 nm, width: 30 nm}]}";
  expect(
      {{dimmed("even", bands), {}},
       {dimmed("{filament: 2900 K}", kBlackbody), {}},
       {dimmed("filament", kBlackbody),
        {"lamp.yaml:4:11: emission[0].dimming: is 'filament'; even or {filament: 2900 K} is allowed"}},
       {dimmed("{filament: 2900}", kBlackbody),
        {"lamp.yaml:4:22: emission[0].dimming.filament: '2900' needs a unit: temperatures take K, C or F"}},
       {dimmed("{filament: 500 K}", kBlackbody),
        {"lamp.yaml:4:22: emission[0].dimming.filament: '500 K' is not allowed: it must be from 1000 K to "
         "3600 K"}},
       {dimmed("{}", kBlackbody),
        {"lamp.yaml:4:11: emission[0].dimming: 'filament' is missing: its colour temperature at 100 %, such "
         "as 2900 K"}},
       {dimmed("{filament: 2900 K}", bands),
        {"lamp.yaml:4:11: emission[0].dimming: a filament's light is one blackbody, table or file"}}});
}

}  // namespace
}  // namespace boughlight
