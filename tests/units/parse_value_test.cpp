#include <gtest/gtest.h>

#include <clocale>
#include <cmath>
#include <numbers>

#include "units/units.h"

namespace boughlight {
namespace {

double value_of(std::string_view text, Dimension dimension, std::string_view bare_unit = "") {
  std::string why;
  const auto parsed = parse_value(text, dimension, bare_unit, why);
  EXPECT_TRUE(parsed) << text << ": " << why;
  return parsed ? parsed->value : std::nan("");
}

std::string refusal_of(std::string_view text, Dimension dimension, std::string_view bare_unit = "") {
  std::string why;
  const auto parsed = parse_value(text, dimension, bare_unit, why);
  EXPECT_FALSE(parsed) << text;
  return why;
}

TEST(ParseValue, ReadsEveryUnitIntoTheBaseUnit) {
  struct Case {
    const char* text;
    Dimension dimension;
    double base;
  };
  // Inch and foot: exact by the international yard and pound agreement of 1959 (from memory).
  const Case cases[] = {
      {"3 m", Dimension::length, 3},
      {"70 cm", Dimension::length, 0.7},
      {"2.5 mm", Dimension::length, 0.0025},
      {"250 um", Dimension::length, 0.00025},
      {"18 in", Dimension::length, 0.4572},
      {"18 inch", Dimension::length, 0.4572},
      {"2 ft", Dimension::length, 0.6096},
      {"0.35 m2", Dimension::area, 0.35},
      {"3500 cm2", Dimension::area, 0.35},
      {"350000 mm2", Dimension::area, 0.35},
      {"1 in2", Dimension::area, 0.00064516},
      {"1 ft2", Dimension::area, 0.09290304},
      {"302.2 nm", Dimension::wavelength, 302.2},
      {"1.5 um", Dimension::wavelength, 1500},
      {"180 deg", Dimension::angle, std::numbers::pi},
      {"1 rad", Dimension::angle, 1},
      {"500 h", Dimension::duration, 500},
      {"90 min", Dimension::duration, 1.5},
      {"2 d", Dimension::duration, 48},
      {"1800 s", Dimension::duration, 0.5},
      {"2900 K", Dimension::temperature, 2900},
      {"28 C", Dimension::temperature, 301.15},
      {"32 F", Dimension::temperature, 273.15},
      {"24 C", Dimension::air_temperature, 24},
      {"24 \xC2\xB0"
       "C",
       Dimension::air_temperature, 24},
      {"77 F", Dimension::air_temperature, 25},
      {"-40 F", Dimension::air_temperature, -40},
      {"1.5 kWh/m2", Dimension::radiant_exposure, 1.5},
      {"900 Wh/m2", Dimension::radiant_exposure, 0.9},
      {"3.6 MJ/m2", Dimension::radiant_exposure, 1},
      {"3600 kJ/m2", Dimension::radiant_exposure, 1},
      {"3.6e6 J/m2", Dimension::radiant_exposure, 1},
      {"24 W", Dimension::power, 24},
      {"500 mW", Dimension::power, 0.5},
      {"500 uW", Dimension::power, 0.0005},
      {"3 W/m2", Dimension::irradiance, 3},
      {"50 uW/cm2", Dimension::irradiance, 0.5},
      {"50 mW/m2", Dimension::irradiance, 0.05},
      {"50 uW/m2", Dimension::irradiance, 5e-5},
      {"2 mW/cm2", Dimension::irradiance, 20},
      {"0.1 W/cm2", Dimension::irradiance, 1000},
      {"150 lx", Dimension::illuminance, 150},
      {"150 lux", Dimension::illuminance, 150},
      {"1.5 klx", Dimension::illuminance, 1500},
      {"10 fc", Dimension::illuminance, 107.6391041670972},
      {"200 umol/m2/s", Dimension::photon_flux_density, 200},
      {"200 umol/(m2 s)", Dimension::photon_flux_density, 200},
      {"200 umol m-2 s-1", Dimension::photon_flux_density, 200},
      {"5 mol/m2/d", Dimension::photon_dose, 5},
      {"5 mol/(m2 d)", Dimension::photon_dose, 5},
      {"5 mol m-2 d-1", Dimension::photon_dose, 5},
      {"800 lm", Dimension::luminous_flux, 800},
      {"2 klm", Dimension::luminous_flux, 2000},
      {"12 umol/s", Dimension::photon_flux, 12},
      {"0.2 m/s", Dimension::speed, 0.2},
      {"30 %", Dimension::ratio, 0.3},
      {"0.3", Dimension::ratio, 0.3},
      {"7.5", Dimension::number, 7.5},
  };
  // 4 ulp: one rounding each in reading, shifting, multiplying and dividing.
  for (const Case& c : cases) EXPECT_DOUBLE_EQ(value_of(c.text, c.dimension), c.base) << c.text;
}

TEST(ParseValue, RoundsDecimalCentimetresAndPercentAsTheirDecimalFraction) {
  for (int i = 1; i <= 100; ++i) {
    EXPECT_EQ(value_of(std::to_string(i) + " cm", Dimension::length), i / 100.0);
    EXPECT_EQ(value_of(std::to_string(i) + " %", Dimension::ratio), i / 100.0);
  }
}

TEST(ParseValue, NeedsNoBlankAndBearsSeveral) {
  EXPECT_EQ(value_of("12.5cm", Dimension::length), 0.125);
  EXPECT_EQ(value_of("  12.5 \t cm ", Dimension::length), 0.125);
  EXPECT_EQ(value_of("30%", Dimension::ratio), 0.3);
  EXPECT_EQ(value_of("+1.25e1 cm", Dimension::length), 0.125);
  EXPECT_EQ(value_of(".5 m", Dimension::length), 0.5);
  EXPECT_EQ(value_of("-4 cm", Dimension::length), -0.04);
}

TEST(ParseValue, ReadsTheSignsOfDataSheets) {
  EXPECT_EQ(value_of("50 µW/cm²", Dimension::irradiance), 0.5);
  EXPECT_EQ(value_of("50 μW/cm2", Dimension::irradiance), 0.5);
  EXPECT_EQ(value_of("200 µmol m⁻² s⁻¹", Dimension::photon_flux_density), 200);
  EXPECT_EQ(value_of("50 uW/cm^2", Dimension::irradiance), 0.5);
  EXPECT_EQ(value_of("200 µmol·m^-2·s^-1", Dimension::photon_flux_density), 200);
  EXPECT_EQ(value_of("200 µmol/(m²⋅s)", Dimension::photon_flux_density), 200);
  EXPECT_EQ(refusal_of("10^3 lx", Dimension::illuminance),
            "'10^3 lx' has an unknown unit; illuminances take lx, lux, klx or fc");
  EXPECT_EQ(value_of("28 °C", Dimension::temperature), 301.15);
  EXPECT_DOUBLE_EQ(value_of("90°", Dimension::angle), std::numbers::pi / 2);
}

TEST(ParseValue, GivesABareNumberTheCallersUnit) {
  std::string why;
  const auto bare = parse_value("18", Dimension::length, "in", why);
  ASSERT_TRUE(bare);
  EXPECT_DOUBLE_EQ(bare->value, 0.4572);
  EXPECT_FALSE(bare->had_unit);
  const auto own = parse_value("18 cm", Dimension::length, "in", why);
  ASSERT_TRUE(own);
  EXPECT_EQ(own->value, 0.18);
  EXPECT_TRUE(own->had_unit);
}

TEST(ParseValue, KeepsThePointDecimalInEveryLocale) {
  const char* set = std::setlocale(LC_ALL, "de_DE.UTF-8");
  EXPECT_EQ(value_of("12.5 cm", Dimension::length), 0.125) << (set ? set : "no such locale here");
  std::setlocale(LC_ALL, "C");
}

TEST(ParseValue, SaysWhatIsWrongAndWhatIsAllowed) {
  struct Case {
    const char* text;
    Dimension dimension;
    const char* why;
  };
  const Case cases[] = {
      {"12 parsecs", Dimension::length,
       "'12 parsecs' has an unknown unit; lengths take m, cm, mm, um, in, inch or ft"},
      {"0.3 mm", Dimension::wavelength, "'0.3 mm' has an unknown unit; wavelengths take nm or um"},
      {"12 cm", Dimension::angle, "'12 cm' has an unknown unit; angles take rad or deg"},
      {"3 cm", Dimension::ratio, "'3 cm' has an unknown unit; ratios take % or no unit"},
      {"3 %", Dimension::number, "'3 %' must be a plain number, without a unit"},
      {"12", Dimension::length, "'12' needs a unit: lengths take m, cm, mm, um, in, inch or ft"},
      {"", Dimension::length, "there is nothing here: a number is needed"},
      {"   ", Dimension::length, "there is nothing here: a number is needed"},
      {"wide", Dimension::length, "'wide' is not a number"},
      {"-", Dimension::number, "'-' is not a number"},
      {".", Dimension::number, "'.' is not a number"},
      {"cm", Dimension::length, "'cm' is not a number"},
      {"nan", Dimension::number, "'nan' is not a finite number"},
      {".inf", Dimension::number, "'.inf' is not a finite number"},
      {"-.INF", Dimension::number, "'-.INF' is not a finite number"},
      {"Infinity", Dimension::number, "'Infinity' is not a finite number"},
      {"1e999", Dimension::number, "'1e999' is too large or too small a number"},
      {"1e-999", Dimension::number, "'1e-999' is too large or too small a number"},
      {"1e308 ft2", Dimension::duration, "'1e308 ft2' has an unknown unit; durations take h, min, d or s"},
      {"1e31", Dimension::number, "'1e31' is too large or too small a number"},
      {"-1e31 cm", Dimension::length, "'-1e31 cm' is too large or too small a number"},
      {"1e308 d", Dimension::duration, "'1e308 d' is too large or too small a number"},
      {"010", Dimension::number,
       "'010' starts with a zero, which some programs read as octal: leave the zero out"},
      {"-007", Dimension::number,
       "'-007' starts with a zero, which some programs read as octal: leave the zero out"},
      {"0o17", Dimension::number, "'0o17' must be a plain number, without a unit"},
      {"0x1F", Dimension::number, "'0x1F' looks hexadecimal: write a decimal number"},
      {"1,5 cm", Dimension::length,
       "'1,5 cm' has a comma: write a decimal point, and nothing between thousands"},
      {"1 000 cm", Dimension::length,
       "'1 000 cm' has an unknown unit; lengths take m, cm, mm, um, in, inch or ft"},
  };
  for (const Case& c : cases) EXPECT_EQ(refusal_of(c.text, c.dimension), c.why);
}

TEST(ParseValue, ShowsLongAndUnprintableInputShortened) {
  const std::string why = refusal_of(std::string(5000, 'y') + "\x01", Dimension::length);
  EXPECT_EQ(why, "'" + std::string(60, 'y') + "...' is not a number");
  EXPECT_EQ(refusal_of("a\x01z", Dimension::length), "'a z' is not a number");
}

TEST(Units, EveryAcceptedUnitOfEveryDimensionParses) {
  for (int i = 0; i <= static_cast<int>(Dimension::speed); ++i) {
    const auto dimension = static_cast<Dimension>(i);
    const auto names = accepted_units(dimension);
    if (!base_unit(dimension).empty()) {
      ASSERT_FALSE(names.empty());
      EXPECT_EQ(names.front(), base_unit(dimension));
      EXPECT_EQ(value_of("2 " + names.front(), dimension), 2);
    }
    for (const std::string& name : names) value_of("1 " + name, dimension);
  }
}

TEST(Units, SizeOfUnitIsAPlainFactor) {
  EXPECT_EQ(size_of_unit("cm", Dimension::length), 0.01);
  EXPECT_EQ(size_of_unit("uW/cm2", Dimension::irradiance), 0.01);
  EXPECT_EQ(size_of_unit("", Dimension::number), 1);
  EXPECT_THROW(size_of_unit("C", Dimension::temperature), std::logic_error);
  EXPECT_THROW(size_of_unit("cm", Dimension::angle), std::logic_error);
}

}  // namespace
}  // namespace boughlight
