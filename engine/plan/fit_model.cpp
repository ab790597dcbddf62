#include "plan/fit_model.h"

#include <algorithm>
#include <cmath>
#include <nlopt.hpp>

namespace boughlight {

std::string_view fit_kind_name(FitKind kind) {
  switch (kind) {
    case FitKind::lamp:
      return "lamp";
    case FitKind::part:
      return "part";
    case FitKind::mesh:
      return "mesh";
    case FitKind::reflected:
      return "reflected";
    case FitKind::room:
      return "room";
    case FitKind::lamp_height:
      return "lamp_height";
    case FitKind::height:
      return "height";
    case FitKind::meter:
      return "meter";
  }
  return "";
}

namespace {

// Something that strikes the eye is off by so many of its usual deviations.
constexpr double kStriking = 3;

// A term's two kinds of light at a state.
struct TermValue {
  double straight = 0, rest = 0;
};

TermValue value_of(const FitTerm& term, const Eigen::VectorXd& state) {
  double log_straight = 0, log_rest = 0;
  for (const std::size_t factor : term.factors) {
    log_straight += state[static_cast<Eigen::Index>(factor)];
    log_rest += state[static_cast<Eigen::Index>(factor)];
  }
  if (term.reflected) log_rest += state[static_cast<Eigen::Index>(*term.reflected)];
  for (const FitTerm::Crossed& crossed : term.meshes) {
    log_straight += crossed.straight * state[static_cast<Eigen::Index>(crossed.mesh)];
    log_rest += crossed.rest * state[static_cast<Eigen::Index>(crossed.mesh)];
  }
  for (const FitTerm::Raised& raised : term.heights)
    log_straight += raised.slope * state[static_cast<Eigen::Index>(raised.height)];
  return {term.straight * std::exp(log_straight), term.rest * std::exp(log_rest)};
}

Eigen::VectorXd deviations(const std::vector<FitParameter>& parameters) {
  Eigen::VectorXd sd(static_cast<Eigen::Index>(parameters.size()));
  for (std::size_t i = 0; i < parameters.size(); ++i) sd[static_cast<Eigen::Index>(i)] = parameters[i].sd;
  return sd;
}

// What NLopt minimises, over states in units of their standard deviations.
struct FitProblem {
  const std::vector<FitDatum>& data;
  const std::vector<bool>& used;
  Eigen::VectorXd sd;
};

double half_chi_square(const std::vector<double>& x, std::vector<double>& gradient, void* about) {
  const FitProblem& problem = *static_cast<const FitProblem*>(about);
  const Eigen::Map<const Eigen::VectorXd> z(x.data(), static_cast<Eigen::Index>(x.size()));
  const Eigen::VectorXd state = z.cwiseProduct(problem.sd);
  double sum = 0.5 * z.squaredNorm();
  Eigen::VectorXd slope = z;
  for (std::size_t i = 0; i < problem.data.size(); ++i) {
    if (!problem.used[i]) continue;
    const FitDatum& datum = problem.data[i];
    const double miss = (datum.log_value(state) - std::log(datum.reading)) / datum.noise;
    sum += 0.5 * miss * miss;
    slope += miss / datum.noise * datum.log_gradient(state).cwiseProduct(problem.sd);
  }
  for (std::size_t i = 0; i < gradient.size(); ++i) gradient[i] = slope[static_cast<Eigen::Index>(i)];
  return sum;
}

}  // namespace

double FitFigure::value(const Eigen::VectorXd& state) const {
  double sum = 0;
  for (const FitTerm& term : terms) {
    const TermValue value = value_of(term, state);
    sum += value.straight + value.rest;
  }
  return sum;
}

Eigen::VectorXd FitFigure::log_gradient(const Eigen::VectorXd& state) const {
  Eigen::VectorXd gradient = Eigen::VectorXd::Zero(state.size());
  double sum = 0;
  for (const FitTerm& term : terms) {
    const auto [straight, rest] = value_of(term, state);
    sum += straight + rest;
    for (const std::size_t factor : term.factors)
      gradient[static_cast<Eigen::Index>(factor)] += straight + rest;
    if (term.reflected) gradient[static_cast<Eigen::Index>(*term.reflected)] += rest;
    for (const FitTerm::Crossed& crossed : term.meshes)
      gradient[static_cast<Eigen::Index>(crossed.mesh)] += crossed.straight * straight + crossed.rest * rest;
    for (const FitTerm::Raised& raised : term.heights)
      gradient[static_cast<Eigen::Index>(raised.height)] += raised.slope * straight;
  }
  if (!(sum > 0)) return Eigen::VectorXd::Zero(state.size());
  return gradient / sum;
}

double FitDatum::log_value(const Eigen::VectorXd& state) const {
  return std::log(figure.value(state)) + (meter ? state[static_cast<Eigen::Index>(*meter)] : 0.0);
}

Eigen::VectorXd FitDatum::log_gradient(const Eigen::VectorXd& state) const {
  Eigen::VectorXd gradient = figure.log_gradient(state);
  if (meter) gradient[static_cast<Eigen::Index>(*meter)] += 1;
  return gradient;
}

FitState most_likely(const std::vector<FitParameter>& parameters, const std::vector<FitDatum>& data,
                     const std::vector<bool>& used) {
  const auto count = static_cast<Eigen::Index>(parameters.size());
  FitState fit{Eigen::VectorXd::Zero(count), Eigen::MatrixXd::Zero(count, count)};
  if (parameters.empty()) return fit;
  FitProblem problem{data, used, deviations(parameters)};
  nlopt::opt solver(nlopt::LD_SLSQP, static_cast<unsigned>(parameters.size()));
  std::vector<double> low, high;
  for (const FitParameter& parameter : parameters) {
    low.push_back(parameter.low / parameter.sd);
    high.push_back(parameter.high / parameter.sd);
  }
  solver.set_lower_bounds(low);
  solver.set_upper_bounds(high);
  solver.set_min_objective(half_chi_square, &problem);
  // In standard deviations: far finer than anybody reads.
  solver.set_xtol_abs(1e-7);
  solver.set_maxeval(2000);
  std::vector<double> z(parameters.size(), 0.0);
  double least = 0;
  try {
    solver.optimize(z, least);
  } catch (const nlopt::roundoff_limited&) {
    // As near as numbers get.
  }
  fit.state = Eigen::Map<const Eigen::VectorXd>(z.data(), count).cwiseProduct(problem.sd);

  Eigen::MatrixXd precision = Eigen::MatrixXd::Identity(count, count);
  for (std::size_t i = 0; i < data.size(); ++i) {
    if (!used[i]) continue;
    const Eigen::VectorXd row = data[i].log_gradient(fit.state).cwiseProduct(problem.sd) / data[i].noise;
    precision += row * row.transpose();
  }
  const Eigen::MatrixXd inverse = precision.ldlt().solve(Eigen::MatrixXd::Identity(count, count));
  fit.covariance = problem.sd.asDiagonal() * inverse * problem.sd.asDiagonal();
  return fit;
}

std::vector<double> standardised_misses(const std::vector<FitDatum>& data, const std::vector<bool>& used,
                                        const FitState& fit) {
  std::vector<double> misses;
  for (std::size_t i = 0; i < data.size(); ++i) {
    const FitDatum& datum = data[i];
    const double miss = std::log(datum.reading) - datum.log_value(fit.state);
    const Eigen::VectorXd gradient = datum.log_gradient(fit.state);
    const double spread = gradient.dot(fit.covariance * gradient), noise = datum.noise * datum.noise;
    // A reading that had its say pulls the fit towards itself: what the others say of it is miss / (1 -
    // leverage), with the variance noise / (1 - leverage).
    const double variance = used[i] ? std::max(noise - spread, 1e-9 * noise) : noise + spread;
    misses.push_back(miss / std::sqrt(variance));
  }
  return misses;
}

RobustFit fit_without_outliers(const std::vector<FitParameter>& parameters, const std::vector<FitDatum>& data,
                               double limit) {
  std::vector<FitParameter> loose = parameters;
  for (FitParameter& parameter : loose)
    if (parameter.kind == FitKind::lamp || parameter.kind == FitKind::part || parameter.kind == FitKind::mesh)
      parameter.sd *= kStriking;
  RobustFit robust{{}, std::vector<bool>(data.size(), true)};
  for (std::size_t out = 0;; ++out) {
    robust.fit = most_likely(parameters, data, robust.used);
    if (2 * (out + 1) >= data.size()) return robust;
    const std::vector<double> misses = standardised_misses(data, robust.used, robust.fit);
    std::vector<std::size_t> doubtful;
    for (std::size_t i = 0; i < data.size(); ++i)
      if (robust.used[i] && std::abs(misses[i]) > limit) doubtful.push_back(i);
    if (doubtful.empty()) return robust;
    const std::vector<double> by_readings =
        standardised_misses(data, robust.used, most_likely(loose, data, robust.used));
    std::erase_if(doubtful, [&](std::size_t i) { return std::abs(by_readings[i]) <= limit; });
    if (doubtful.empty()) return robust;
    robust.used[*std::max_element(doubtful.begin(), doubtful.end(), [&](std::size_t a, std::size_t b) {
      return std::abs(misses[a]) < std::abs(misses[b]);
    })] = false;
  }
}

std::vector<Explanation> single_causes(const std::vector<FitParameter>& parameters,
                                       const std::vector<FitDatum>& data, const std::vector<bool>& used) {
  std::vector<const FitDatum*> read;
  for (std::size_t i = 0; i < data.size(); ++i)
    if (used[i]) read.push_back(&data[i]);
  const auto count = static_cast<Eigen::Index>(read.size());
  const auto size = static_cast<Eigen::Index>(parameters.size());
  const Eigen::VectorXd declared = Eigen::VectorXd::Zero(size);
  Eigen::VectorXd miss(count);
  Eigen::MatrixXd base = Eigen::MatrixXd::Zero(count, count), slopes(count, size);
  for (Eigen::Index i = 0; i < count; ++i) {
    const FitDatum& datum = *read[static_cast<std::size_t>(i)];
    miss[i] = std::log(datum.reading) - datum.log_value(declared);
    base(i, i) = datum.noise * datum.noise;
    slopes.row(i) = datum.log_gradient(declared).transpose();
  }
  // The meter's own scale is in doubt in every explanation.
  for (Eigen::Index k = 0; k < size; ++k) {
    const FitParameter& parameter = parameters[static_cast<std::size_t>(k)];
    if (parameter.kind == FitKind::meter)
      base += parameter.sd * parameter.sd * slopes.col(k) * slopes.col(k).transpose();
  }
  const auto explain = [&](std::optional<Eigen::Index> k) {
    Explanation explanation;
    Eigen::MatrixXd covariance = base;
    double wide = 0;
    if (k) {
      const auto at = static_cast<std::size_t>(*k);
      explanation.parameter = at;
      wide = kStriking * parameters[at].sd;
      covariance += wide * wide * slopes.col(*k) * slopes.col(*k).transpose();
    }
    const Eigen::LDLT<Eigen::MatrixXd> solved(covariance);
    explanation.log_evidence = -0.5 * (miss.dot(solved.solve(miss)) + solved.vectorD().array().log().sum());
    Eigen::VectorXd left = miss;
    if (k) {
      explanation.shift = wide * wide * slopes.col(*k).dot(solved.solve(miss));
      left -= explanation.shift * slopes.col(*k);
    }
    const Eigen::LDLT<Eigen::MatrixXd> meter(base);
    explanation.miss = count > 0 ? std::sqrt(left.dot(meter.solve(left)) / static_cast<double>(count)) : 0;
    return explanation;
  };
  std::vector<Explanation> explanations = {explain(std::nullopt)};
  for (Eigen::Index k = 0; k < size; ++k)
    if (slopes.col(k).cwiseAbs().maxCoeff() > 0) explanations.push_back(explain(k));
  double greatest = explanations.front().log_evidence, sum = 0;
  for (const Explanation& one : explanations) greatest = std::max(greatest, one.log_evidence);
  for (const Explanation& one : explanations) sum += std::exp(one.log_evidence - greatest);
  for (Explanation& one : explanations) one.share = std::exp(one.log_evidence - greatest) / sum;
  std::stable_sort(explanations.begin(), explanations.end(), [](const Explanation& a, const Explanation& b) {
    return a.log_evidence > b.log_evidence;
  });
  return explanations;
}

std::optional<StandsOut> stands_out(const std::vector<FitParameter>& parameters,
                                    const std::vector<Explanation>& explanations) {
  if (explanations.empty() || !explanations.front().parameter) return std::nullopt;
  const Explanation& best = explanations.front();
  const FitParameter& culprit = parameters[*best.parameter];
  const auto is_of_lamp = [](const FitParameter& p) {
    return p.kind == FitKind::lamp || p.kind == FitKind::part;
  };
  // A lamp as a whole and its parts are no rivals: either way it is that lamp.
  double share = 0;
  for (const Explanation& one : explanations) {
    if (!one.parameter) continue;
    const FitParameter& other = parameters[*one.parameter];
    const bool same_lamp = is_of_lamp(culprit) && is_of_lamp(other) && other.index == culprit.index;
    if (one.parameter == best.parameter || same_lamp) share += one.share;
  }
  if (share < 0.5 || std::abs(best.shift) < 2 * culprit.sd) return std::nullopt;
  return StandsOut{*best.parameter, std::abs(best.shift)};
}

}  // namespace boughlight
