#include "report/packed.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "read_back.h"

namespace boughlight {
namespace {

// IEEE 754 binary16 by its definition.
double half_at(const std::string& bytes, std::size_t i) {
  const unsigned bits = static_cast<unsigned char>(bytes[2 * i]) |
                        static_cast<unsigned>(static_cast<unsigned char>(bytes[2 * i + 1])) << 8;
  const int exponent = static_cast<int>(bits >> 10), mantissa = static_cast<int>(bits & 1023);
  return exponent ? std::ldexp(1024 + mantissa, exponent - 25) : std::ldexp(mantissa, -24);
}

// RFC 4648, section 10.
TEST(Base64, GivesThePublishedExamples) {
  const std::vector<std::pair<std::string, std::string>> examples = {{"", ""},
                                                                     {"f", "Zg=="},
                                                                     {"fo", "Zm8="},
                                                                     {"foo", "Zm9v"},
                                                                     {"foob", "Zm9vYg=="},
                                                                     {"fooba", "Zm9vYmE="},
                                                                     {"foobar", "Zm9vYmFy"}};
  for (const auto& [plain, coded] : examples) EXPECT_EQ(base64(plain), coded);
}

TEST(PackedHalves, KeepElevenSignificantBitsOverEightDecades) {
  std::vector<float> values;
  for (double value = 37; value > 37e-8; value /= 1.7) values.push_back(static_cast<float>(value));
  values.push_back(0);
  const auto packed = packed_halves(values, "a test");
  const std::string bytes = bytes_of_base64(packed["half"]);
  ASSERT_EQ(bytes.size(), 2 * values.size());
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double value = packed["scale"].get<double>() * half_at(bytes, i);
    EXPECT_NEAR(value, values[i], values[i] * (std::ldexp(1, -11) + 1e-6)) << i;
  }
}

TEST(PackedHalves, DarknessIsZeroAndNothingElseIsRefusedButWhatIsNoFigure) {
  EXPECT_EQ(half_at(bytes_of_base64(packed_halves(std::vector<float>{0, 0}, "dark")["half"]), 1), 0);
  for (const float bad :
       {std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity(), -1.0f})
    EXPECT_THROW(packed_halves(std::vector<float>{1, bad}, "bad"), std::runtime_error) << bad;
}

TEST(PackedShares, ReachBothEndsAndAreEvenBetween) {
  const std::string bytes = bytes_of_base64(packed_shares(std::vector<float>{-1, 0, 3}, -1, 3));
  const auto share = [&](std::size_t i) {
    return static_cast<unsigned char>(bytes[2 * i]) + 256 * static_cast<unsigned char>(bytes[2 * i + 1]);
  };
  EXPECT_EQ(share(0), 0);
  EXPECT_NEAR(share(1), 65535 / 4.0, 0.5);
  EXPECT_EQ(share(2), 65535);
}

}  // namespace
}  // namespace boughlight
