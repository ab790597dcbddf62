// Responses as plain numbers, for tests.
#pragma once

#include <gtest/gtest.h>

#include <cmath>

#include "scene_kit.h"
#include "transport/cells.h"
#include "transport/gather.h"

namespace boughlight::kit {

inline Importance flat_importance() {
  return {{Spectral::Constant(1.0f / kBins)}};
}

struct Measured {
  double value = 0, error = 0;
};

inline Measured summarize(const std::vector<double>& replicates) {
  Measured m;
  for (const double v : replicates) m.value += v / static_cast<double>(replicates.size());
  double spread = 0;
  for (const double v : replicates) spread += (v - m.value) * (v - m.value);
  const auto n = static_cast<double>(replicates.size());
  m.error = std::sqrt(spread / (n * (n - 1)));
  return m;
}

// Irradiance per watt of source 0 in bin `bin` (a bin in the visible unless said), on a sensor at `place`.
inline Measured irradiance(const LightField& field, const Vec3& place, const Vec3& normal,
                           GatherEffort effort = {1024, 1024}, int bin = 36, std::size_t source = 0) {
  const auto receiver = fixed_receiver(place.cast<float>(), normal.normalized().cast<float>(),
                                       99 + static_cast<std::uint64_t>(bin));
  const Response r = gather(field, {receiver}, {effort}).front();
  std::vector<double> values;
  for (int k = 0; k < kReplicates; ++k)
    values.push_back(static_cast<double>(r.direct[r.at(k, source)][bin]) +
                     static_cast<double>(r.indirect[r.at(k, source)][bin]));
  return summarize(values);
}

// Within five standard errors (one chance in some ten thousand with 16 replicates), and those small.
// Positions in single precision put another 1e-4 on what has almost no variance.
inline void expect_close(const Measured& measured, double expected, double most_relative_error) {
  EXPECT_LE(measured.error, most_relative_error * std::abs(expected)) << "value " << measured.value;
  EXPECT_NEAR(measured.value, expected, 5 * measured.error + 1e-4 * std::abs(expected))
      << "standard error " << measured.error;
}

}  // namespace boughlight::kit
