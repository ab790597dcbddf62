// What a scene may say of its lamps and of the room's light, and what a lamp's own file may hold.
#include "scene/format.h"
#include "scene/format_forms.h"

namespace boughlight::format {

namespace {

// Below this a beam is narrower than the arithmetic can integrate.
constexpr double kNarrowest = 0.1 * kPi / 180;
constexpr double kBrightestRoomLux = 200'000;

const Form kAnyPlace = length_form(Range::between(-kLongest, kLongest));
const Form kLampSize = length_form(Range::between(1e-4, 10));
const Form kHousing = length_form(Range::between(1e-3, 10));
const Form kInBins = number_form(Dimension::wavelength, Range::between(kFirstNm, kLastNm));
const Form kPositive = number_form(Dimension::number, Range::at_least(0));
const Form kWavelength = number_form(Dimension::wavelength, Range::above(0, 1e6));

const Key kLength{"length", true, "its lit length", {kLampSize}};
const Key kDiameter{"diameter", true, "its diameter", {kLampSize}};
const Key kWidth{"width", true, "its width", {kLampSize}};
const Key kWeight{"weight", false, "its share of the part's power, 1 if not given", {kPositive}, "1"};

Form reading(Dimension dimension) {
  return number_form(dimension, Range::at_least(0), base_unit(dimension));
}
// Boxes and meters give a band of ultraviolet in uW/cm2: a bare figure would be taken for a hundred times as
// much.
Form band_reading() {
  return number_form(Dimension::irradiance, Range::at_least(0));
}

}  // namespace

const Mapping lamp{
    .name = "lamp",
    .meaning = "a lamp where it hangs",
    .keys =
        {{"name", true, "what it is called", {name_form()}},
         {"fixture", true, "a lamp of the library, or the path of a file", {{.kind = Form::Kind::lamp}}},
         {"at", false, "the centre [x, y, z] of the part that shines", {place_form()}, {}, "give `over`"},
         {"over", false, "{x, y, gap}: above the top at that place", {mapping_form(over)}, {}, "give `at`"},
         {"aim",
          false,
          "the direction [x, y, z] it shines, [0, 0, -1] if not given",
          {direction_form()},
          "[0, 0, -1]"},
         {"along",
          false,
          "the direction of its length",
          {word_form({"x", "y", "z"}), direction_form()},
          {},
          "the direction nearest to x that is at right angles to `aim`"},
         {"dim", false, "the dimmer, 100 % if not given", {ratio_form()}, "100 %"},
         {"lit",
          false,
          "the hours, such as \"08:00-18:00\"",
          {clock_spans_form()},
          {},
          "the lamp has no quantities of the day"},
         {"ramp",
          false,
          "how long it takes to come up and to go down, such as 30 min",
          {number_form(Dimension::duration, Range::between(0, 12))},
          "0 min"},
         {"burned",
          false,
          "the hours it has burned, such as 500 h",
          {number_form(Dimension::duration, Range::between(0, 1e6))},
          "0 h"},
         {"spread",
          false,
          "the doubt in its output, one standard deviation",
          {ratio_form()},
          {},
          "the fixture's, else doubt.lamp"},
         {"choose",
          false,
          "other fixtures that may hang in its stead",
          {list_form("a list of fixtures", {{.kind = Form::Kind::lamp}})},
          {},
          "only its own"}},
    .exactly_one = {"at", "over"}};

const Mapping over{.name = "over",
                   .meaning = "a place above the top of the enclosure",
                   .keys = {{"x", true, "the place from the left", {kAnyPlace}},
                            {"y", true, "the place from the front", {kAnyPlace}},
                            {"gap",
                             true,
                             "from the top up to the lowest part that shines",
                             {length_form(Range::between(0, kLongest))}}}};

const Mapping room{
    .name = "room",
    .meaning = "even light from outside, which comes in by panes, mesh and open faces",
    .keys = {{"lux",
              true,
              "on a flat sensor outside, whichever way it looks",
              {number_form(Dimension::illuminance, Range::between(0, kBrightestRoomLux), "lx")}},
             {"spectrum",
              false,
              "D65, A, or as in a lamp's part",
              {word_form({"D65", "A"}), mapping_form(spectrum)},
              "D65"},
             {"lit",
              false,
              "the hours, such as \"08:00-18:00\"",
              {clock_spans_form()},
              {},
              "the room's light is in no quantity of the day"}}};

const Mapping fixture{
    .name = "fixture",
    .meaning = "a lamp: the part that shines, its beam and its light",
    .keys = {{"fixture", true, "the version of the format: 1", {word_form({"1"})}},
             {"title", false, "what it is, for people", {name_form("a title", 200)}, {}, "none"},
             {"emitter", true, "the shape that radiates", {mapping_form(emitter)}},
             {"distribution",
              false,
              "the directions in which it radiates",
              {word_form({"lambert", "isotropic"}), mapping_form(distribution)},
              "lambert"},
             {"emission",
              true,
              "the parts of its light",
              {list_form("a list of parts", {mapping_form(part)}, 1)}},
             {"body",
              false,
              "the housing behind the emitter, where it is to stop light",
              {mapping_form(lamp_body)},
              {},
              "it stops no light"},
             {"power",
              false,
              "electrical, such as 24 W",
              {number_form(Dimension::power, Range::between(0, 1e5))},
              {},
              "not told"},
             {"spread",
              false,
              "how much lamps of this type differ, one standard deviation",
              {ratio_form()},
              {},
              "doubt.lamp of the scene"},
             {"source", false, "where the figures come from", {text_form("a source")}, {}, "not told"}},
    .some_required = true};

const Mapping emitter{.name = "emitter",
                      .meaning = "the part of the lamp that shines, not its housing",
                      .keys = {{"shape",
                                true,
                                "tube, disc, rectangle, sphere or point",
                                {word_form({"tube", "disc", "rectangle", "sphere", "point"})}}},
                      .by = "shape",
                      .kinds = {{"tube", {kLength, kDiameter}},
                                {"disc", {kDiameter}},
                                {"rectangle", {kLength, kWidth}},
                                {"sphere", {kDiameter}},
                                {"point", {}}}};

const Mapping distribution{
    .name = "distribution",
    .meaning = "how each element of the emitter radiates",
    .keys = {{"form",
              true,
              "lambert, isotropic, cosine-power, trough, table or ies",
              {word_form({"lambert", "isotropic", "cosine-power", "trough", "table", "ies"})}}},
    .by = "form",
    .kinds = {
        {"lambert", {}},
        {"isotropic", {}},
        {"cosine-power",
         {{"half_angle",
           true,
           "where the intensity has halved",
           {number_form(Dimension::angle, {kNarrowest, kPi / 2, false, true})}}}},
        {"trough",
         {{"cutoff",
           true,
           "how far either side of aim the light goes",
           {number_form(Dimension::angle, Range::between(kNarrowest, kPi))}}}},
        {"table",
         {{"intensity",
           true,
           "entries [angle, relative intensity]",
           {entries_form("[angle, relative intensity]", number_form(Dimension::angle, Range::between(0, kPi)),
                         kPositive, 2)}}}},
        {"ies", {{"file", true, "the name of an LM-63 file", {file_form("the name of an LM-63 file")}}}}}};

const Mapping part{
    .name = "part",
    .meaning = "a part of the lamp's light, scaled by itself",
    .keys = {{"part", true, "its name, such as ultraviolet, visible or heat", {name_form()}},
             {"spectrum", true, "bands, lines, blackbody, table or file", {mapping_form(spectrum)}},
             {"spectrum_basis",
              false,
              "where the spectrum comes from: the maker, a measurement, or a guess where nobody declares one",
              {word_form({"declared", "measured", "guessed"})},
              "declared"},
             {"output", true, "what it is scaled by, such as {uvi: 4.0, at: 30 cm}", {mapping_form(output)}},
             {"ageing",
              false,
              "entries [hours, factor]",
              {entries_form("[hours, factor]", number_form(Dimension::duration, Range::between(0, 1e6)),
                            ratio_form(Range::between(0, 2)))},
              {},
              "it does not age"},
             {"dimming",
              false,
              "even (the default), or {filament: 2900 K}: its light reddens",
              {word_form({"even"}), mapping_form(filament)},
              "even"}}};

const Mapping filament{.name = "filament",
                       .meaning = "a glowing wire, whose light reddens as it is dimmed",
                       .keys = {{"filament",
                                 true,
                                 "its colour temperature at 100 %, such as 2900 K",
                                 {number_form(Dimension::temperature, Range::between(1000, 3600))}}}};

const Mapping lamp_body{
    .name = "housing",
    .meaning = "the lamp's housing: an opaque, matte box just behind the part that shines",
    .keys = {
        {"length", true, "along the emitter", {kHousing}},
        {"width", true, "across it", {kHousing}},
        {"height", true, "from its front backwards, against the aim", {kHousing}},
        {"reflectance", true, "a ratio such as 0.6, or a table against wavelength", spectral_ratio_forms()}}};

const Mapping output{
    .name = "output",
    .meaning = "what a part of the light is scaled by: a reading on the axis, or a flux",
    .keys = {{"uvi", false, "UV index on the axis", {reading(Dimension::number)}},
             {"uvb",
              false,
              "UV-B on the axis, all of 280 to 315 nm alike; with its unit, such as 50 uW/cm2",
              {band_reading()}},
             {"uva",
              false,
              "UV-A on the axis, all of 315 to 400 nm alike; with its unit, such as 900 uW/cm2",
              {band_reading()}},
             {"lux", false, "illuminance on the axis", {reading(Dimension::illuminance)}},
             {"ppfd", false, "PPFD on the axis", {reading(Dimension::photon_flux_density)}},
             {"irradiance", false, "irradiance on the axis", {reading(Dimension::irradiance)}},
             {"luminous_flux", false, "lumens in all directions", {reading(Dimension::luminous_flux)}},
             {"photon_flux",
              false,
              "photons of 400 to 700 nm in all directions",
              {reading(Dimension::photon_flux)}},
             {"radiant_flux", false, "watts radiated in all directions", {reading(Dimension::power)}},
             {"at",
              false,
              "the distance on the axis",
              {length_form(Range::above(0, kLongest))},
              {},
              "only with a flux"}},
    .exactly_one = {"uvi", "uvb", "uva", "lux", "ppfd", "irradiance", "luminous_flux", "photon_flux",
                    "radiant_flux"}};

const Mapping spectrum{
    .name = "spectrum",
    .meaning = "what light is made of; its components share the power by their weights",
    .keys = {{"bands", false, "Gaussian bands", {list_form("a list of bands", {mapping_form(band)})}},
             {"lines",
              false,
              "lines of no width",
              {list_form("a list of lines [wavelength, weight]",
                         {tuple_form("a line [wavelength, weight]", {kInBins, kPositive})})}},
             {"blackbody",
              false,
              "a glowing body of one temperature",
              {number_form(Dimension::temperature, Range::between(200, 30'000)), mapping_form(blackbody)}},
             {"table",
              false,
              "relative power against wavelength",
              {entries_form("[wavelength, relative power]", kWavelength, kPositive, 2),
               mapping_form(spectrum_table)}},
             {"file",
              false,
              "the same in a CSV file, or one of IES TM-27",
              {file_form("the name of a CSV file"), mapping_form(spectrum_file)}}},
    .not_empty = true};

const Mapping band{.name = "band",
                   .meaning = "a Gaussian band",
                   .keys = {{"at", true, "the wavelength of the peak", {kInBins}},
                            {"width",
                             true,
                             "the full width at half the peak",
                             {number_form(Dimension::wavelength, Range::between(0.1, kLastNm))}},
                            {"from", false, "where it is cut off below", {kInBins}, {}, "not cut off"},
                            {"to", false, "where it is cut off above", {kInBins}, {}, "not cut off"},
                            kWeight}};

const Mapping blackbody{.name = "blackbody",
                        .meaning = "the light of a black body",
                        .keys = {{"temperature",
                                  true,
                                  "the body's temperature, such as 2900 K",
                                  {number_form(Dimension::temperature, Range::between(200, 30'000))}},
                                 kWeight}};

const Mapping spectrum_table{
    .name = "spectrum-table",
    .meaning = "a table with a weight",
    .keys = {{"points",
              true,
              "the entries [wavelength, relative power]",
              {entries_form("[wavelength, relative power]", kWavelength, kPositive, 2)}},
             kWeight}};

const Mapping spectrum_file{
    .name = "spectrum-file",
    .meaning = "a file with a weight",
    .keys = {{"name", true, "the name of the CSV file", {file_form("the name of a CSV file")}}, kWeight}};

}  // namespace boughlight::format
