// What meter readings say, as arithmetic: closed forms, and how often the bands hold the truth.
#include "plan/fit_model.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace boughlight {
namespace {

constexpr double kNormal95 = 1.959964;

FitParameter parameter(FitKind kind, const std::string& name, double sd) {
  return {kind, name, "", 0, sd, -2, 2};
}

FitTerm term(double straight, double rest, std::vector<std::size_t> factors) {
  FitTerm term;
  term.straight = straight, term.rest = rest;
  term.factors = std::move(factors);
  return term;
}

FitDatum datum(FitFigure figure, double reading, double noise) {
  return {std::move(figure), std::nullopt, reading, noise};
}

TEST(FitModel, OneReadingOfOneLampIsAWeightedMean) {
  // Prior ln factor ~ N(0, 0.2^2), the reading says ln 1.3 with noise 0.1: mean ln 1.3 x 0.04 / 0.05.
  const std::vector<FitParameter> parameters = {parameter(FitKind::lamp, "a", 0.2)};
  const std::vector<FitDatum> data = {datum({{term(3, 1, {0})}}, 4 * 1.3, 0.1)};
  const FitState fit = most_likely(parameters, data, {true});
  EXPECT_NEAR(fit.state[0], std::log(1.3) * 0.8, 1e-6);
  EXPECT_NEAR(fit.covariance(0, 0), 1 / (1 / 0.04 + 1 / 0.01), 1e-9);
}

TEST(FitModel, WithoutReadingsAllIsAsDeclared) {
  const std::vector<FitParameter> parameters = {parameter(FitKind::lamp, "a", 0.2),
                                                parameter(FitKind::mesh, "m", 0.1)};
  const FitState fit = most_likely(parameters, {}, {});
  EXPECT_NEAR(fit.state.norm(), 0, 1e-9);
  EXPECT_NEAR(fit.covariance(1, 1), 0.01, 1e-12);
}

TEST(FitModel, BoundsHold) {
  std::vector<FitParameter> parameters = {parameter(FitKind::mesh, "m", 0.5)};
  parameters[0].high = 0.05;
  FitTerm through = term(1, 0, {});
  through.meshes = {{0, 1, 1}};
  const FitState fit = most_likely(parameters, {datum({{through}}, 2, 0.05)}, {true});
  EXPECT_NEAR(fit.state[0], 0.05, 1e-9);
}

TEST(FitModel, ValueAndGradientFollowTheFormula) {
  // Lamp, mesh (2 layers straight, 1 for the rest), reflected, height.
  FitTerm one = term(5, 2, {0});
  one.meshes = {{1, 2, 1}};
  one.reflected = 2;
  one.heights = {{3, -8}};
  const FitFigure figure{{one, term(1, 0.5, {})}};
  Eigen::VectorXd state(4);
  state << 0.1, -0.2, 0.3, 0.02;
  const double straight = 5 * std::exp(0.1 - 0.4 - 0.16), rest = 2 * std::exp(0.1 - 0.2 + 0.3);
  EXPECT_NEAR(figure.value(state), straight + rest + 1.5, 1e-12);
  const Eigen::VectorXd gradient = figure.log_gradient(state);
  for (int i = 0; i < 4; ++i) {
    Eigen::VectorXd step = Eigen::VectorXd::Zero(4);
    step[i] = 1e-5;
    const double slope = (std::log(figure.value(state + step)) - std::log(figure.value(state - step))) / 2e-5;
    EXPECT_NEAR(gradient[i], slope, 1e-8) << i;
  }
}

// A small cage: two lamps of two parts, two meshes, reflected light, a lamp's height, two meters.
struct Cage {
  std::vector<FitParameter> parameters = {
      parameter(FitKind::lamp, "tube", 0.11),       parameter(FitKind::part, "tube uv", 0.11),
      parameter(FitKind::part, "tube light", 0.11), parameter(FitKind::lamp, "flood", 0.15),
      parameter(FitKind::mesh, "top", 0.10),        parameter(FitKind::mesh, "side", 0.10),
      parameter(FitKind::reflected, "", 0.15),      parameter(FitKind::lamp_height, "tube", 0.01),
      parameter(FitKind::meter, "uvi", 0.08),       parameter(FitKind::meter, "lux", 0.08)};

  FitDatum reading(double uv, double light, double flood, double straight, double top, double side,
                   bool lux) const {
    FitDatum datum;
    const auto add = [&](double size, std::vector<std::size_t> factors, double slope) {
      if (size == 0) return;
      FitTerm one = term(size * straight, size * (1 - straight), std::move(factors));
      one.meshes = {{4, top, top}, {5, side, side}};
      one.reflected = 6;
      if (slope != 0) one.heights = {{7, slope}};
      datum.figure.terms.push_back(one);
    };
    add(uv, {0, 1}, -6);
    add(light, {0, 2}, -6);
    add(flood, {3}, 0);
    datum.meter = lux ? 9 : 8;
    datum.noise = 0.07;
    return datum;
  }
  std::vector<FitDatum> sheet() const {
    return {reading(3, 0, 0.1, 0.95, 1, 0, false),  reading(1, 0, 0.02, 0.7, 1, 0, false),
            reading(6, 0, 0, 0.98, 0, 0, false),    reading(0, 900, 4000, 0.9, 1, 0, true),
            reading(0, 900, 0, 0.85, 1, 0, true),   reading(0, 2000, 0, 0.98, 0, 0, true),
            reading(0, 100, 2500, 0.5, 1, 1, true), reading(0.2, 0, 0, 0.4, 1, 1, false)};
  }
};

// Where everything is drawn as assumed, a band that promises 95 % holds the truth in 95 % of cases. Each
// parameter is one binomial count of 400: within 4 standard deviations (17), so that 12 looks fail by chance
// once in a thousand.
TEST(FitModel, BandsHoldTheTruthAsOftenAsTheyPromise) {
  const Cage cage;
  constexpr int kTruths = 400;
  std::mt19937 random(20240612);
  std::normal_distribution<double> normal;
  std::vector<int> held(cage.parameters.size() + 2, 0);
  for (int truth = 0; truth < kTruths; ++truth) {
    Eigen::VectorXd state(static_cast<Eigen::Index>(cage.parameters.size()));
    for (std::size_t i = 0; i < cage.parameters.size(); ++i)
      state[static_cast<Eigen::Index>(i)] = cage.parameters[i].sd * normal(random);
    std::vector<FitDatum> data = cage.sheet();
    for (FitDatum& one : data) one.reading = std::exp(one.log_value(state) + one.noise * normal(random));
    const FitState fit = most_likely(cage.parameters, data, std::vector<bool>(data.size(), true));
    const auto holds = [&](const Eigen::VectorXd& sum) {
      return std::abs(sum.dot(fit.state - state)) <= kNormal95 * std::sqrt(sum.dot(fit.covariance * sum));
    };
    for (Eigen::Index i = 0; i < state.size(); ++i)
      held[static_cast<std::size_t>(i)] += holds(Eigen::VectorXd::Unit(state.size(), i));
    // The ultraviolet of the tube as a whole, and a figure that nobody read.
    held[cage.parameters.size()] += holds(Eigen::VectorXd::Unit(10, 0) + Eigen::VectorXd::Unit(10, 1));
    const FitFigure unread = cage.reading(2, 0, 0.1, 0.8, 1, 0, false).figure;
    const Eigen::VectorXd gradient = unread.log_gradient(fit.state);
    held[cage.parameters.size() + 1] += std::abs(std::log(unread.value(fit.state) / unread.value(state))) <=
                                        kNormal95 * std::sqrt(gradient.dot(fit.covariance * gradient));
  }
  for (std::size_t i = 0; i < held.size(); ++i) EXPECT_NEAR(held[i], 0.95 * kTruths, 17.5) << i;
}

TEST(FitModel, KnownTruthIsFound) {
  const Cage cage;
  Eigen::VectorXd truth = Eigen::VectorXd::Zero(10);
  truth << 0, -0.25, 0, 0.2, -0.2, 0, 0, 0, 0, 0;
  std::vector<FitDatum> data = cage.sheet();
  for (FitDatum& one : data) {
    one.reading = std::exp(one.log_value(truth));
    one.noise = 1e-3, one.meter.reset();
  }
  const FitState fit = most_likely(cage.parameters, data, std::vector<bool>(data.size(), true));
  // Nearly noiseless readings pin what they see: the whole tube in the ultraviolet, the flood, the top mesh.
  EXPECT_NEAR(fit.state[0] + fit.state[1], -0.25, 0.01);
  EXPECT_NEAR(fit.state[3], 0.2, 0.01);
  EXPECT_NEAR(fit.state[4], -0.2, 0.01);
}

TEST(FitModel, AnOutlierIsTakenOutAndNoOther) {
  const Cage cage;
  std::vector<FitDatum> data = cage.sheet();
  const Eigen::VectorXd declared = Eigen::VectorXd::Zero(10);
  for (std::size_t i = 0; i < data.size(); ++i)
    data[i].reading = std::exp(data[i].log_value(declared) + (i % 2 ? 0.05 : -0.05));
  data[1].reading *= 0.4;
  const RobustFit robust = fit_without_outliers(cage.parameters, data, 3.5);
  for (std::size_t i = 0; i < data.size(); ++i) EXPECT_EQ(robust.used[i], i != 1) << i;
  EXPECT_LT(standardised_misses(data, robust.used, robust.fit)[1], -3.5);
}

// A standardised miss is what it says: normal with deviation 1. Mean square over 200 x 8 within 5 standard
// errors (of a chi-square, as if independent: 5 x sqrt(2 / 1600) = 0.18).
TEST(FitModel, MissesOfHonestReadingsHaveDeviationOne) {
  const Cage cage;
  std::mt19937 random(7);
  std::normal_distribution<double> normal;
  double sum = 0;
  for (int truth = 0; truth < 200; ++truth) {
    Eigen::VectorXd state(10);
    for (std::size_t i = 0; i < 10; ++i)
      state[static_cast<Eigen::Index>(i)] = cage.parameters[i].sd * normal(random);
    std::vector<FitDatum> data = cage.sheet();
    for (FitDatum& one : data) one.reading = std::exp(one.log_value(state) + one.noise * normal(random));
    const std::vector<bool> used(data.size(), true);
    for (const double miss : standardised_misses(data, used, most_likely(cage.parameters, data, used)))
      sum += miss * miss;
  }
  EXPECT_NEAR(sum / 1600, 1, 0.18);
}

TEST(FitModel, TheCauseBehindItIsNamed) {
  const Cage cage;
  const auto best = [&](std::size_t cause, double shift) {
    Eigen::VectorXd state = Eigen::VectorXd::Zero(10);
    state[static_cast<Eigen::Index>(cause)] = shift;
    std::vector<FitDatum> data = cage.sheet();
    for (FitDatum& one : data) one.reading = std::exp(one.log_value(state));
    return single_causes(cage.parameters, data, std::vector<bool>(data.size(), true));
  };
  for (const std::size_t cause : {0U, 3U, 4U}) {
    const std::vector<Explanation> found = best(cause, -0.4);
    ASSERT_TRUE(found.front().parameter);
    EXPECT_EQ(*found.front().parameter, cause);
    EXPECT_NEAR(found.front().shift, -0.4, 0.15);
    EXPECT_GT(found.front().share, 0.5);
    double sum = 0;
    for (const Explanation& one : found) sum += one.share;
    EXPECT_NEAR(sum, 1, 1e-12);
  }
  EXPECT_FALSE(best(0, 0).front().parameter) << "nothing is off";
}

}  // namespace
}  // namespace boughlight
