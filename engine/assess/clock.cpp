#include "assess/clock.h"

#include <algorithm>
#include <map>

#include "assess/output.h"

namespace boughlight {
namespace {

using FiveRows = Eigen::Array<double, static_cast<int>(kClockQuantities.size()), kBins>;

FiveRows clock_rows(const QuantityBins& output) {
  FiveRows rows;
  for (std::size_t q = 0; q < kClockQuantities.size(); ++q)
    rows.row(static_cast<int>(q)) = output.row(static_cast<int>(kClockQuantities[q]));
  return rows;
}

std::vector<double> shares_of(const std::optional<std::vector<ClockSpan>>& lit, double ramp_h) {
  std::vector<double> shares(kClockMoments, 0.0);
  if (!lit) return shares;
  for (std::size_t i = 0; i < kClockMoments; ++i)
    // From the moment's number: 13 steps of 1/12 h are 65 minutes, not a little less.
    shares[i] = lit_share(*lit, ramp_h, static_cast<double>(i) * 24 / kClockMoments);
  return shares;
}

// Whether a source gives any perch (any reading, without perches) a lux or more at its setting; moonlight is
// some 0.2 lx.
bool gives_light(const Survey& survey, const std::string& source) {
  constexpr double kLight = 1;
  const bool perches = std::any_of(survey.readings.begin(), survey.readings.end(),
                                   [](const Reading& r) { return r.kind == ReadingKind::perch; });
  return std::any_of(survey.readings.begin(), survey.readings.end(), [&](const Reading& reading) {
    if (perches && reading.kind != ReadingKind::perch) return false;
    return reading.by_lamp.at(source).at(Quantity::lux) >= kLight;
  });
}

// The longest stretch round the clock that lies in no lit span of a source that gives light.
std::optional<ClockSpan> longest_dark(const Survey& survey) {
  const Scene& scene = survey.scene;
  std::vector<ClockSpan> light;
  const auto add = [&](const std::string& name, const std::optional<std::vector<ClockSpan>>& lit) {
    if (lit && gives_light(survey, name)) light.insert(light.end(), lit->begin(), lit->end());
  };
  for (const Lamp& lamp : scene.lamps) add(lamp.name, lamp.lit);
  if (scene.has_room_light()) add("room", scene.room->lit);
  if (light.empty()) return std::nullopt;
  std::sort(light.begin(), light.end(),
            [](const ClockSpan& a, const ClockSpan& b) { return a.from_h < b.from_h; });
  light.push_back({light.front().from_h + 24, light.front().to_h + 24});
  ClockSpan longest;
  double lit_until = light.front().to_h;
  for (const ClockSpan& span : light) {
    if (span.from_h - lit_until > longest.to_h - longest.from_h) longest = {lit_until, span.from_h};
    lit_until = std::max(lit_until, span.to_h);
  }
  return longest;
}

}  // namespace

ClockFindings follow_the_clock(const Survey& survey) {
  const Scene& scene = survey.scene;
  ClockFindings found;
  if (!survey.has_day || scene.source_count() == 0) return found;
  for (const Lamp& lamp : scene.lamps) found.sources.push_back(shares_of(lamp.lit, lamp.ramp_h));
  if (scene.has_room_light()) found.sources.push_back(shares_of(scene.room->lit, 0));

  const std::vector<QuantityBins> declared = source_outputs(scene, Power::as_declared);
  found.readings.resize(survey.readings.size());
  for (ClockReadings& readings : found.readings) readings.fill(std::vector<double>(kClockMoments, 0.0));
  for (std::size_t source = 0; source < found.sources.size(); ++source) {
    // A lamp passes through few different settings in a day.
    std::map<double, FiveRows> rows_at;
    const auto rows = [&](double share) -> const FiveRows& {
      const auto [at, fresh] = rows_at.try_emplace(share);
      if (fresh) {
        const bool ramping = source < scene.lamps.size() && share < 1;
        at->second = clock_rows(ramping ? lamp_output(scene.lamps[source], share * scene.lamps[source].dim)
                                        : declared[source]);
      }
      return at->second;
    };
    for (std::size_t reading = 0; reading < survey.readings.size(); ++reading) {
      const SpectralD mean = survey.responses[reading].mean(source);
      std::map<double, Eigen::Array<double, static_cast<int>(kClockQuantities.size()), 1>> values_at;
      for (std::size_t i = 0; i < kClockMoments; ++i) {
        const double share = found.sources[source][i];
        if (!(share > 0)) continue;
        const auto [at, fresh] = values_at.try_emplace(share);
        if (fresh) at->second = (rows(share).matrix() * mean.matrix()).array();
        for (std::size_t q = 0; q < kClockQuantities.size(); ++q)
          found.readings[reading][q][i] += at->second[static_cast<int>(q)];
      }
    }
  }
  found.longest_dark = longest_dark(survey);
  return found;
}

}  // namespace boughlight
