// What a meter reading says about the lamps and meshes, as arithmetic: how a figure depends on everything
// that may be off, and the most likely state of it all. No rays: figures are built elsewhere.
#pragma once

#include <Eigen/Dense>
#include <optional>
#include <string>
#include <vector>

namespace boughlight {

// What may be off. Each is a normal variable about 0 of its own standard deviation, independent of the
// others: the natural logarithm of a factor, or for heights metres.
enum class FitKind {
  lamp,         // a lamp's output as a whole
  part,         // one part of a lamp's spectrum beside that
  mesh,         // what one layer of a mesh lets through
  reflected,    // all light that does not come straight
  room,         // the room's light
  lamp_height,  // how high a lamp hangs
  height,       // how high a perch or point is
  meter         // what a meter says too much of one quantity
};
std::string_view fit_kind_name(FitKind kind);  // "lamp", "part", "mesh", ...

struct FitParameter {
  FitKind kind = FitKind::lamp;
  std::string name;          // of the lamp, mesh, reading or quantity
  std::string part;          // part: of the lamp's spectrum
  std::size_t index = 0;     // of the lamp, mesh, reading or quantity
  double sd = 0;             // > 0
  double low = 0, high = 0;  // bounds, low < 0 < high
};

// One lamp part's light on one sensor. Positions are those of parameters; nothing where it is in no doubt.
struct FitTerm {
  double straight = 0, rest = 0;         // in the quantity's unit, as declared
  std::vector<std::size_t> factors;      // on both
  std::optional<std::size_t> reflected;  // on the rest
  struct Crossed {
    std::size_t mesh;       // parameter
    double straight, rest;  // layers crossed
  };
  std::vector<Crossed> meshes;
  struct Raised {
    std::size_t height;  // parameter
    double slope;        // change of the straight light's natural logarithm, 1/m
  };
  std::vector<Raised> heights;
};

// A figure: the sum of its terms.
struct FitFigure {
  std::vector<FitTerm> terms;

  double value(const Eigen::VectorXd& state) const;
  // Of the natural logarithm, by parameter; 0 where the value is 0.
  Eigen::VectorXd log_gradient(const Eigen::VectorXd& state) const;
};

// A figure and what a meter said of it: reading = figure x exp(meter) x exp(noise).
struct FitDatum {
  FitFigure figure;
  std::optional<std::size_t> meter;  // parameter
  double reading = 0;                // > 0
  double noise = 0;                  // standard deviation of its natural logarithm, > 0

  double log_value(const Eigen::VectorXd& state) const;
  Eigen::VectorXd log_gradient(const Eigen::VectorXd& state) const;
};

struct FitState {
  Eigen::VectorXd state;       // by parameter
  Eigen::MatrixXd covariance;  // as the linear least squares about it have it
};

// The most likely state within the bounds: the least sum of squares of misses over their noise and of
// parameters over their standard deviations (NLopt's sequential quadratic programming). Data whose `used` is
// false have no say.
FitState most_likely(const std::vector<FitParameter>& parameters, const std::vector<FitDatum>& data,
                     const std::vector<bool>& used);

// Of a reading beside what all the others and what was declared say of it: the standardised difference of the
// logarithms (normal with deviation 1 where all is as assumed). For unused ones against the fit as it is.
std::vector<double> standardised_misses(const std::vector<FitDatum>& data, const std::vector<bool>& used,
                                        const FitState& fit);

// Takes the reading that agrees least with all others out, as long as it is off by more than `limit` and
// fewer than half are out, and fits anew. Only readings contradict a reading: what is off from the declared
// lamps and meshes alone, three times as much in doubt as they are, stays.
struct RobustFit {
  FitState fit;
  std::vector<bool> used;
};
RobustFit fit_without_outliers(const std::vector<FitParameter>& parameters, const std::vector<FitDatum>& data,
                               double limit);

// Only one thing is off, everything else as declared but for what the meter itself may be off.
struct Explanation {
  std::optional<std::size_t> parameter;  // nothing: nothing is off
  double shift = 0;                      // of the parameter, most likely
  double log_evidence = 0;               // natural logarithm of the readings' probability density
  double share = 0;                      // of the evidence of all explanations
  double miss = 0;                       // root mean square of the standardised misses that it leaves
};
// Most likely first. Before the readings each is thought of as equally likely, its shift as normal about 0
// with three times its standard deviation: something that strikes the eye. The parts of a lamp are left out
// where the whole of it is all that they have. Data that are not used have no say.
std::vector<Explanation> single_causes(const std::vector<FitParameter>& parameters,
                                       const std::vector<FitDatum>& data, const std::vector<bool>& used);

// A single cause that stands out (more than half of all explanations, a lamp's parts and the whole of it
// taken together, beyond twice its standard deviation) is
// no longer one of the usual spread: its position, and the standard deviation to think of it with instead,
// the shift itself.
struct StandsOut {
  std::size_t parameter = 0;
  double sd = 0;
};
std::optional<StandsOut> stands_out(const std::vector<FitParameter>& parameters,
                                    const std::vector<Explanation>& explanations);

}  // namespace boughlight
