#include "assess/judge.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace boughlight {

std::string_view verdict_name(Verdict verdict) {
  switch (verdict) {
    case Verdict::met:
      return "met";
    case Verdict::unsure:
      return "unsure";
    case Verdict::below:
      return "below";
    case Verdict::above:
      return "above";
  }
  return "";
}

std::string_view whole_verdict_name(WholeVerdict verdict) {
  switch (verdict) {
    case WholeVerdict::met:
      return "met";
    case WholeVerdict::unsure:
      return "unsure";
    case WholeVerdict::unmet:
      return "unmet";
  }
  return "";
}

std::string_view reading_kind_name(ReadingKind kind) {
  switch (kind) {
    case ReadingKind::perch:
      return "perch";
    case ReadingKind::plant:
      return "plant";
    case ReadingKind::point:
      return "point";
  }
  return "";
}

Figure figure_of(const std::vector<double>& replicates) {
  const auto count = static_cast<double>(replicates.size());
  double mean = 0;
  for (const double value : replicates) mean += value / count;
  double spread = 0;
  for (const double value : replicates) spread += (value - mean) * (value - mean);
  return {mean, std::sqrt(spread / (count * (count - 1))), std::nullopt};
}

double nearest_limit(const Limits& limits, double value) {
  double nearest = 0;
  double distance = 0;
  const auto consider = [&](double limit) {
    if (nearest == 0 || std::abs(value - limit) < distance)
      nearest = std::abs(limit), distance = std::abs(value - limit);
  };
  if (limits.min && *limits.min > 0) consider(*limits.min);
  if (limits.max) consider(*limits.max);
  return nearest;
}

namespace {

// Light is followed in single precision: what is off a limit by less than that leaves is at the limit.
constexpr double kRounding = 1e-6;
bool under(double value, double min) {
  return value < (1 - kRounding) * min;
}
bool over(double value, double max) {
  return value > (1 + kRounding) * max;
}

}  // namespace

bool within(const Limits& limits, double value) {
  return !(limits.min && *limits.min > 0 && under(value, *limits.min)) &&
         !(limits.max && over(value, *limits.max));
}

Verdict judge(const Figure& figure, const Limits& limits) {
  if (!std::isfinite(figure.value) || !std::isfinite(figure.se))
    throw std::logic_error("a figure that is not finite cannot be judged");
  const double half = kIntervalFactor * figure.se;
  const bool has_min = limits.min && *limits.min > 0;
  if (has_min && under(figure.value + half, *limits.min)) return Verdict::below;
  if (limits.max && over(figure.value - half, *limits.max)) return Verdict::above;
  if (has_min && under(figure.value - half, *limits.min)) return Verdict::unsure;
  if (limits.max && over(figure.value + half, *limits.max)) return Verdict::unsure;
  return Verdict::met;
}

WholeVerdict worse(WholeVerdict a, Verdict b) {
  const WholeVerdict other = b == Verdict::met      ? WholeVerdict::met
                             : b == Verdict::unsure ? WholeVerdict::unsure
                                                    : WholeVerdict::unmet;
  return std::max(a, other);
}

}  // namespace boughlight
