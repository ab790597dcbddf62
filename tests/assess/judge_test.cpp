#include "assess/judge.h"

#include <gtest/gtest.h>

#include <cmath>

#include "assess/precision.h"

namespace boughlight {
namespace {

Figure known(double value, double se = 0) {
  return {value, se, std::nullopt};
}

TEST(Judge, LimitsAreInclusive) {
  EXPECT_EQ(judge(known(2.5), {2.5, 4.5}), Verdict::met);
  EXPECT_EQ(judge(known(4.5), {2.5, 4.5}), Verdict::met);
  // What rounding in single precision leaves is no difference; what a meter could ever show is.
  EXPECT_EQ(judge(known(2.5F * (1 - 3e-7F), 2e-7), {2.5, 4.5}), Verdict::met);
  EXPECT_EQ(judge(known(4.5F * (1 + 3e-7F), 2e-7), {2.5, 4.5}), Verdict::met);
  EXPECT_EQ(judge(known(2.5 * (1 - 1e-5)), {2.5, 4.5}), Verdict::below);
  EXPECT_EQ(judge(known(4.5 * (1 + 1e-5)), {2.5, 4.5}), Verdict::above);
  EXPECT_EQ(judge(known(1e-9), {std::nullopt, 0.0}), Verdict::above);
  EXPECT_EQ(judge(known(0), {std::nullopt, 0.0}), Verdict::met);
}

TEST(Judge, LowerLimitOfZeroIsNoLimit) {
  EXPECT_EQ(judge(known(0, 0.1), {0.0, std::nullopt}), Verdict::met);
  EXPECT_EQ(judge(known(0, 0.1), {0.0, 3.0}), Verdict::met);
  EXPECT_EQ(judge(known(0, 0.1), {}), Verdict::met);
}

TEST(Judge, IsUnsureWhereALimitLiesInTheInterval) {
  // Half the interval: 2.1314 x 0.1 (Student's t, 15 degrees of freedom).
  const Limits limits{2.0, 4.0};
  EXPECT_EQ(judge(known(2.2, 0.1), limits), Verdict::unsure);
  EXPECT_EQ(judge(known(1.8, 0.1), limits), Verdict::unsure);
  EXPECT_EQ(judge(known(3.8, 0.1), limits), Verdict::unsure);
  EXPECT_EQ(judge(known(4.2, 0.1), limits), Verdict::unsure);
  EXPECT_EQ(judge(known(2.0, 0.1), limits), Verdict::unsure);
  EXPECT_EQ(judge(known(2.22, 0.1), limits), Verdict::met);
  EXPECT_EQ(judge(known(1.78, 0.1), limits), Verdict::below);
  EXPECT_EQ(judge(known(4.22, 0.1), limits), Verdict::above);
}

TEST(Judge, IntervalIsThatOfStudentsT) {
  // P(|t| < x) for 15 degrees of freedom, by Simpson's rule over its density.
  const double nu = kReplicates - 1;
  const double scale = std::tgamma((nu + 1) / 2) / (std::sqrt(nu * M_PI) * std::tgamma(nu / 2));
  const auto density = [&](double t) { return scale * std::pow(1 + t * t / nu, -(nu + 1) / 2); };
  constexpr int kSteps = 1000;
  double inside = 0;
  for (int i = 0; i <= kSteps; ++i)
    inside += (i == 0 || i == kSteps ? 1 : i % 2 == 1 ? 4 : 2) * density(kIntervalFactor * i / kSteps);
  EXPECT_NEAR(2 * inside * kIntervalFactor / kSteps / 3, 0.95, 1e-5);
}

TEST(FigureOf, GivesMeanAndItsStandardError) {
  // Mean 3; squared deviations 4 + 1 + 0 + 1 + 4 = 10; 10 / (5 x 4) = 0.5.
  const Figure figure = figure_of({1, 2, 3, 4, 5});
  EXPECT_DOUBLE_EQ(figure.value, 3);
  EXPECT_DOUBLE_EQ(figure.se, std::sqrt(0.5));
  EXPECT_FALSE(figure.converged);
  EXPECT_EQ(figure_of({7, 7, 7}).se, 0);
}

TEST(NearestLimit, IsTheOneThatMattersMost) {
  EXPECT_EQ(nearest_limit({2.0, 5.0}, 2.5), 2);
  EXPECT_EQ(nearest_limit({2.0, 5.0}, 4.5), 5);
  EXPECT_EQ(nearest_limit({2.0, 5.0}, 0), 2);
  EXPECT_EQ(nearest_limit({0.0, 5.0}, 0.1), 5) << "0 is no limit";
  EXPECT_EQ(nearest_limit({std::nullopt, 5.0}, 100), 5);
  EXPECT_EQ(nearest_limit({}, 100), 0);
}

TEST(Goal, AllowsTheToleranceOfValueOrNearestLimit) {
  const Goal goal{{}, {std::nullopt, 4.0}, 0.5};
  EXPECT_DOUBLE_EQ(goal.allowed_error(0.02, 0.1), 0.08);
  EXPECT_DOUBLE_EQ(goal.allowed_error(0.02, 10), 0.2);
  EXPECT_DOUBLE_EQ((Goal{{}, {}, 0.5}.allowed_error(0.02, 0.1)), 0.01);
  EXPECT_DOUBLE_EQ((Goal{{}, {}, 0.5, 2.5}.allowed_error(0.02, 0.1)), 0.025);
}

TEST(Worse, UnmetBeatsUnsureBeatsMet) {
  EXPECT_EQ(worse(WholeVerdict::met, Verdict::met), WholeVerdict::met);
  EXPECT_EQ(worse(WholeVerdict::met, Verdict::unsure), WholeVerdict::unsure);
  EXPECT_EQ(worse(WholeVerdict::unsure, Verdict::met), WholeVerdict::unsure);
  EXPECT_EQ(worse(WholeVerdict::unsure, Verdict::below), WholeVerdict::unmet);
  EXPECT_EQ(worse(WholeVerdict::met, Verdict::above), WholeVerdict::unmet);
  EXPECT_EQ(worse(WholeVerdict::unmet, Verdict::unsure), WholeVerdict::unmet);
}

TEST(Names, AreThoseOfTheResultFiles) {
  EXPECT_EQ(verdict_name(Verdict::met), "met");
  EXPECT_EQ(verdict_name(Verdict::unsure), "unsure");
  EXPECT_EQ(verdict_name(Verdict::below), "below");
  EXPECT_EQ(verdict_name(Verdict::above), "above");
  EXPECT_EQ(whole_verdict_name(WholeVerdict::unmet), "unmet");
  EXPECT_EQ(reading_kind_name(ReadingKind::perch), "perch");
  EXPECT_EQ(reading_kind_name(ReadingKind::plant), "plant");
  EXPECT_EQ(reading_kind_name(ReadingKind::point), "point");
}

}  // namespace
}  // namespace boughlight
