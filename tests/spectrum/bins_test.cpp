#include "spectrum/bins.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace boughlight {
namespace {

TEST(Bins, EdgesRiseFrom250NmTo25Um) {
  EXPECT_EQ(kFirstNm, 250);
  EXPECT_EQ(kLastNm, 25000);
  for (int i = 0; i < kBins; ++i) EXPECT_LT(kBinEdgesNm[i], kBinEdgesNm[i + 1]) << i;
}

TEST(Bins, WidthsAreAtMost5NmInTheUltravioletAnd25NmInTheVisible) {
  for (int i = 0; i < kBins; ++i) {
    const double width = kBinEdgesNm[i + 1] - kBinEdgesNm[i];
    if (kBinEdgesNm[i + 1] <= 400) {
      EXPECT_LE(width, 5) << kBinEdgesNm[i];
    } else if (kBinEdgesNm[i + 1] <= 700) {
      EXPECT_LE(width, 25) << kBinEdgesNm[i];
    }
  }
}

TEST(Bins, AWavelengthOnAnEdgeBelongsToTheBinAbove) {
  for (int i = 0; i < kBins; ++i) {
    EXPECT_EQ(bin_of(kBinEdgesNm[i]), i);
    EXPECT_EQ(bin_of(std::nextafter(kBinEdgesNm[i + 1], 0)), i);
  }
}

TEST(Bins, LimitsOfTheNamedRangesAreEdges) {
  for (double edge : {280.0, 315.0, 400.0, 700.0}) EXPECT_EQ(kBinEdgesNm[bin_of(edge)], edge);
}

TEST(Bins, TheLastEdgeBelongsToTheLastBin) {
  EXPECT_EQ(bin_of(25000), kBins - 1);
}

TEST(Bins, OutsideTheRangeThereIsNoBin) {
  EXPECT_EQ(bin_of(std::nextafter(250.0, 0)), -1);
  EXPECT_EQ(bin_of(std::nextafter(25000.0, 1e9)), -1);
  EXPECT_EQ(bin_of(0), -1);
  EXPECT_EQ(bin_of(std::numeric_limits<double>::quiet_NaN()), -1);
}

}  // namespace
}  // namespace boughlight
