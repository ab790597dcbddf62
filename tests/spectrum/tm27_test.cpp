// Spectra in the XML of IES TM-27.
#include "spectrum/tm27.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <ctime>
#include <filesystem>
#include <fstream>

#include "units/problem.h"

namespace boughlight {
namespace {

class Tm27 : public testing::Test {
 protected:
  ~Tm27() override { std::filesystem::remove(file_); }

  Table read(const std::string& text, SpectrumUse use = SpectrumUse::emission) {
    std::ofstream(file_, std::ios::binary) << text;
    return read_tm27_file(file_, use, Beyond::zero);
  }
  std::string mistake(const std::string& text, SpectrumUse use = SpectrumUse::emission) {
    try {
      read(text, use);
    } catch (const InputError& error) {
      return std::string(error.what()).substr(file_.size());
    }
    return "no mistake found";
  }

  std::string file_ =
      (std::filesystem::temp_directory_path() / ("boughlight-" + std::to_string(getpid()) + ".spdx"));
};

std::string with(const std::string& quantity, const std::string& data) {
  return "<?xml version=\"1.0\"?>\n<IESTM2714 xmlns=\"http://www.ies.org/iestm2714\" version=\"1.0\">\n"
         "<Header><Description>invented &amp; even</Description></Header>\n<SpectralDistribution>\n"
         "<SpectralQuantity>" +
         quantity + "</SpectralQuantity>\n<BandwidthFWHM>2.0</BandwidthFWHM>\n" + data +
         "</SpectralDistribution>\n</IESTM2714>\n";
}

const std::string kThree =
    "<SpectralData wavelength=\"400\">0</SpectralData>\n<SpectralData wavelength=\"500.5\"> 2e-3 "
    "</SpectralData>\n"
    "<SpectralData wavelength=\"600\">0.001</SpectralData>\n";

TEST_F(Tm27, ValuesAreReadAsTheyStandAndLieOnLinesBetween) {
  const Table table = read(with("relative", kThree));
  EXPECT_EQ(table.x(), (std::vector<double>{400, 500.5, 600}));
  EXPECT_EQ(table.y(), (std::vector<double>{0, 2e-3, 1e-3}));
  EXPECT_DOUBLE_EQ(table.at(450.25), 1e-3);
  EXPECT_EQ(table.at(399), 0);
}

TEST_F(Tm27, ElementsMayCarryAPrefix) {
  std::string text = with("flux", kThree);
  for (const char* name : {"IESTM2714", "SpectralDistribution", "SpectralData", "SpectralQuantity"})
    for (const std::string start : {"<", "</"})
      for (std::size_t at = 0; (at = text.find(start + name, at)) != std::string::npos; at += 4)
        text.insert(at + start.size(), "t:");
  EXPECT_EQ(read(text).x().size(), 3u);
}

TEST_F(Tm27, RatiosAreForMaterialsAndPowersForLamps) {
  EXPECT_EQ(read(with("transmittance", kThree), SpectrumUse::ratio).y()[1], 2e-3);
  EXPECT_EQ(
      mistake(with("transmittance", kThree)),
      ":5:1: its quantity is 'transmittance'; flux, intensity, irradiance, radiance, exitance or relative is "
      "allowed here");
  EXPECT_EQ(mistake(with("flux", kThree), SpectrumUse::ratio),
            ":5:1: its quantity is 'flux'; reflectance, transmittance, R-Factor or T-Factor is allowed here");
  EXPECT_EQ(mistake(with("reflectance",
                         "<SpectralData wavelength='400'>0.5</SpectralData>\n"
                         "<SpectralData wavelength='500'>1.2</SpectralData>"),
                    SpectrumUse::ratio),
            ":8:1: a ratio of more than 1 is not allowed");
}

TEST_F(Tm27, MistakesAreToldWithTheirLines) {
  EXPECT_EQ(mistake("<a><b></a>").substr(0, 24), ":1:1: is no valid XML: S");
  EXPECT_EQ(mistake("<plant/>\n"), ":1:1: is no IES TM-27 file: its outermost element is 'plant'");
  EXPECT_EQ(mistake("<IESTM2714></IESTM2714>"), ":1:1: holds no element 'SpectralDistribution'");
  EXPECT_EQ(mistake(with("flux", "")), ":4:1: holds fewer than two entries 'SpectralData'");
  EXPECT_EQ(mistake(with("flux", kThree + "<SpectralData wavelength=\"600\">1</SpectralData>")),
            ":10:1: the wavelengths must rise from entry to entry");
  EXPECT_EQ(mistake(with("flux", kThree + "<SpectralData wavelength=\"610\">much</SpectralData>")),
            ":10:1: 'much' is not a number");
  EXPECT_EQ(mistake(with("flux", kThree + "<SpectralData wavelength=\"610\">-1</SpectralData>")),
            ":10:1: a value must not be negative");
  EXPECT_EQ(mistake(with("flux", kThree + "<SpectralData wavelength=\"610\">1e308</SpectralData>")),
            ":10:1: a number beyond 1e30 is not allowed: no spectrum holds that");
  EXPECT_EQ(mistake(with("flux", kThree + "<SpectralData>1</SpectralData>")),
            ":10:1: its wavelength '' is no number above 0");
}

TEST_F(Tm27, AHundredThousandEntriesAreReadAtOnce) {
  std::string data;
  for (int i = 0; i < 100'000; ++i)
    data += "<SpectralData wavelength=\"" + std::to_string(300 + 0.01 * i) + "\">1</SpectralData>\n";
  const std::clock_t begin = std::clock();
  EXPECT_EQ(read(with("relative", data)).x().size(), 100'000U);
  EXPECT_LT(static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC, 2) << "s of the processor";
}

TEST(Tm27Names, GoByTheEnding) {
  EXPECT_TRUE(is_tm27_name("lamps/uv.spdx"));
  EXPECT_TRUE(is_tm27_name("UV.XML"));
  EXPECT_FALSE(is_tm27_name("uv.csv"));
  EXPECT_FALSE(is_tm27_name("uv"));
}

}  // namespace
}  // namespace boughlight
