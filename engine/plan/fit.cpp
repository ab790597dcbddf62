#include "plan/fit.h"

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <cmath>

#include "plan/fit_places.h"
#include "scene/rewrite.h"

namespace boughlight {
namespace {

// A reading further than this from what all others say is an outlier: one honest reading in two thousand.
constexpr double kOutlier = 3.5;
// A guess is told where it brings a reading to within so many standard deviations.
constexpr double kFits = 2;

// Shares of a meter's whole doubt: its own scale, and from one reading to the next (see kMeterScale).
constexpr double kScaleShare = 0.8, kRepeatShare = 0.6;

class Fitter {
 public:
  Fitter(const Scene& scene, const MeterReadings& sheet, const FitControl& control)
      : scene_(scene),
        sheet_(sheet),
        control_(control),
        places_(scene),
        layout_(scene, places_.meshes(), places_.readings(), kScaleShare * control.meter) {}

  Fit find();

 private:
  void trace();
  void require_possible() const;
  FitDatum datum_of(std::size_t place, const MeterReading& reading);
  double deviation(const FitDatum& datum, const FitState& state, bool with_noise) const;
  void put_readings();
  // By a fit, which may leave the reading out.
  std::vector<FitGuess> guesses(std::size_t i, const FitState& state) const;
  // The fit of the others that are used.
  FitState without(std::size_t i) const;
  // Readings in use that may be at odds with the others, the furthest off first.
  std::vector<std::size_t> doubtful(const std::vector<double>& misses) const;
  void put_factors();
  void put_bands();
  void put_causes();
  void put_scene();

  Eigen::VectorXd declared() const {
    return Eigen::VectorXd::Zero(static_cast<Eigen::Index>(layout_.parameters().size()));
  }
  // The state that a calibrated scene can hold.
  Eigen::VectorXd written() const {
    Eigen::VectorXd state = state_.state;
    for (std::size_t i = 0; i < layout_.parameters().size(); ++i) {
      const FitKind kind = layout_.parameters()[i].kind;
      const bool height = kind == FitKind::height || kind == FitKind::lamp_height;
      if ((height && !control_.heights) || kind == FitKind::reflected || kind == FitKind::room)
        state[static_cast<Eigen::Index>(i)] = 0;
    }
    return state;
  }
  // What is found of a sum of parameters: its value, and its standard deviation as declared and after.
  struct Sum {
    double shift = 0, before = 0, after = 0;
    double thought = 0;  // before, in the fit: what stands out is in more doubt than declared
    bool learned() const {
      constexpr double kLearned = 0.97;
      return after < kLearned * thought;
    }
  };
  Sum sum_of(const std::vector<std::size_t>& members) const;
  std::vector<std::size_t> output_of(std::size_t lamp, const std::string& part) const;

  const Scene& scene_;
  const MeterReadings& sheet_;
  const FitControl& control_;
  FitPlaces places_;
  FitLayout layout_;
  std::vector<std::size_t> place_;         // of each reading in the sheet
  std::vector<std::size_t> up_, toggled_;  // the same place, sensor up; screens the other way
  std::vector<FitDatum> data_;
  std::vector<bool> used_;  // beside data_
  FitState state_;
  std::vector<FitParameter> thought_;  // the parameters as state_ was fitted with them
  Fit fit_;
};

void Fitter::trace() {
  const auto& list = sheet_.list;
  const auto bare = [](const MeterReading& reading) { return reading.screen == std::optional(false); };
  const bool screens = !places_.meshes().empty();
  for (const MeterReading& reading : list) {
    place_.push_back(places_.add(reading, bare(reading) && screens));
    FitPlaces::Place up = places_.place(place_.back());
    up.direction = Vec3::UnitZ();
    up_.push_back(places_.add(up));
  }
  // Only where somebody took a screen off may somebody have forgotten to say so.
  const bool any_bare = screens && std::any_of(list.begin(), list.end(), bare);
  for (std::size_t i = 0; i < list.size(); ++i) {
    FitPlaces::Place other = places_.place(place_[i]);
    other.bare = !other.bare && any_bare;
    toggled_.push_back(places_.add(other));
  }
  places_.trace();
}

void Fitter::require_possible() const {
  std::vector<Problem> problems;
  for (std::size_t i = 0; i < sheet_.list.size(); ++i) {
    const MeterReading& reading = sheet_.list[i];
    const double value =
        places_.figure(layout_, place_[i], reading.quantity, reading.lamps).value(declared());
    const std::string name(info(reading.quantity).name);
    if (scene_.inside_solid(reading.at)) {
      problems.push_back({reading.mark, "", "the place lies inside a branch or a solid model"});
    } else if (value < meter_floor(reading.quantity) / 3) {
      problems.push_back(
          {reading.mark, "",
           fmt::format(
               "as the scene has it {} gets to this place, less than a meter can show: is it the right "
               "place, lamp and quantity?",
               value > 0 ? "next to no " + name : "no " + name)});
    } else if (reading.screen == std::optional(true) &&
               !places_.behind_screen(place_[i], reading.quantity, reading.lamps)) {
      problems.push_back({reading.mark, "through_screen",
                          "is 'yes', but no screen lies between this place and the lamps in the scene"});
    }
  }
  if (!problems.empty()) throw InputError(std::move(problems));
}

FitDatum Fitter::datum_of(std::size_t place, const MeterReading& reading) {
  FitDatum datum;
  datum.figure = places_.figure(layout_, place, reading.quantity, reading.lamps);
  datum.meter = layout_.meter(reading.quantity);
  datum.reading = reading.value;
  const double expected = datum.figure.value(declared());
  const double repeat =
      log_deviation(std::hypot(kRepeatShare * control_.meter, meter_floor(reading.quantity) / expected));
  const double placement = kMeterPlacement_m * places_.height_slope(place, reading.quantity, reading.lamps);
  const double leaves = log_deviation(places_.leaf_spread(place, reading.quantity));
  const double solver = places_.solver_error(place, reading.quantity, reading.lamps);
  datum.noise = std::sqrt(repeat * repeat + placement * placement + leaves * leaves + solver * solver);
  return datum;
}

double Fitter::deviation(const FitDatum& datum, const FitState& state, bool with_noise) const {
  const Eigen::VectorXd gradient = datum.log_gradient(state.state);
  return std::sqrt(gradient.dot(state.covariance * gradient) + (with_noise ? datum.noise * datum.noise : 0));
}

// Puts what stands out in as much doubt as it is off; false where nothing does.
bool doubt_what_stands_out(std::vector<FitParameter>& parameters, const std::vector<FitDatum>& data,
                           const std::vector<bool>& used) {
  if (std::find(used.begin(), used.end(), true) == used.end()) return false;
  const auto out = stands_out(parameters, single_causes(parameters, data, used));
  if (out) parameters[out->parameter].sd = out->sd;
  return out.has_value();
}

FitState Fitter::without(std::size_t i) const {
  std::vector<bool> others = used_;
  others[i] = false;
  std::vector<FitParameter> parameters = layout_.parameters();
  doubt_what_stands_out(parameters, data_, others);
  return most_likely(parameters, data_, others);
}

std::vector<std::size_t> Fitter::doubtful(const std::vector<double>& misses) const {
  constexpr std::size_t kMost = 20;  // each takes a fit
  const std::vector<double> as_declared =
      standardised_misses(data_, used_, most_likely(layout_.parameters(), data_, used_));
  std::vector<std::pair<double, std::size_t>> off;
  for (std::size_t i = 0; i < data_.size(); ++i) {
    const double most = std::max(std::abs(misses[i]), std::abs(as_declared[i]));
    if (used_[i] && most > kOutlier) off.emplace_back(-most, i);
  }
  std::sort(off.begin(), off.end());
  std::vector<std::size_t> found;
  for (std::size_t k = 0; k < std::min(off.size(), kMost); ++k) found.push_back(off[k].second);
  return found;
}

std::vector<FitGuess> Fitter::guesses(std::size_t i, const FitState& state) const {
  const MeterReading& reading = sheet_.list[i];
  std::vector<FitGuess> found;
  // Whether a place (or lamps) would give what was read, by the fit.
  const auto off = [&](std::size_t place, const std::vector<std::size_t>& lamps) {
    FitDatum other = data_[i];
    other.figure = places_.figure(layout_, place, reading.quantity, lamps);
    if (!(other.figure.value(state.state) > 0)) return HUGE_VAL;
    return std::abs(std::log(reading.value) - other.log_value(state.state)) / deviation(other, state, true);
  };
  std::vector<std::pair<double, FitGuess>> near;
  const auto consider = [&](double distance, FitGuess guess) {
    if (distance <= kFits) near.emplace_back(distance, std::move(guess));
  };
  for (std::size_t k = 0; k < places_.readings().size(); ++k)
    if (places_.readings()[k].kind != ReadingKind::plant && reading.reading != std::optional(k) &&
        !places_.place(place_[i]).bare)
      consider(off(k, reading.lamps), {FitGuess::Kind::place, places_.readings()[k].name, 0});
  if (!reading.lamps.empty()) consider(off(place_[i], {}), {FitGuess::Kind::lamps, "", 0});
  for (std::size_t lamp = 0; lamp < scene_.lamps.size(); ++lamp)
    if (reading.lamps != std::vector{lamp} && scene_.lamps.size() > 1)
      consider(off(place_[i], {lamp}), {FitGuess::Kind::lamps, scene_.lamps[lamp].name, 0});
  if (toggled_[i] != place_[i]) consider(off(toggled_[i], reading.lamps), {FitGuess::Kind::screen, "", 0});
  if (up_[i] != place_[i]) consider(off(up_[i], reading.lamps), {FitGuess::Kind::upwards, "", 0});
  const double miss = std::log(reading.value) - data_[i].log_value(state.state);
  const double width = deviation(data_[i], state, true);
  // A foot-candle is 10.764 lx.
  for (const double factor : {10.0, 100.0, 1000.0, 0.1, 0.01, 0.001, 10.764, 1 / 10.764}) {
    const bool candles = factor > 10 && factor < 11;
    if ((candles || 1 / factor == 10.764) && reading.quantity != Quantity::lux) continue;
    consider(std::abs(miss + std::log(factor)) / width, {FitGuess::Kind::scale, "", factor});
  }
  std::stable_sort(near.begin(), near.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  constexpr std::size_t kMost = 3;
  for (std::size_t k = 0; k < std::min(near.size(), kMost); ++k) found.push_back(near[k].second);
  if (miss < 0) {
    // Others at this place, whatever the quantity.
    constexpr double kHere = 0.02;
    bool others = false, all_low = true;
    for (std::size_t k = 0; k < data_.size(); ++k) {
      if (k == i || (sheet_.list[k].at - reading.at).norm() > kHere || !sheet_.list[k].warm) continue;
      others = true;
      all_low = all_low && std::log(sheet_.list[k].value) < data_[k].log_value(state.state);
    }
    found.push_back({others && all_low ? FitGuess::Kind::low_together : FitGuess::Kind::low_alone, "", 0});
  }
  return found;
}

void Fitter::put_readings() {
  const std::vector<double> misses = standardised_misses(data_, used_, state_);
  for (std::size_t i = 0; i < data_.size(); ++i) {
    FitReading reading;
    reading.reading = sheet_.list[i];
    reading.direction = places_.place(place_[i]).direction;
    reading.declared = data_[i].figure.value(declared());
    reading.fitted = data_[i].figure.value(written());
    reading.miss = misses[i];
    reading.used = used_[i];
    reading.outlier = !used_[i] && sheet_.list[i].warm;
    reading.expected = std::exp(data_[i].log_value(state_.state));
    if (reading.outlier) reading.guesses = guesses(i, state_);
    fit_.readings.push_back(std::move(reading));
  }
  // What is so far off is held against the others alone: it may be all that speaks for what was found.
  for (const std::size_t i : doubtful(misses)) {
    const FitState others = without(i);
    const double miss =
        (std::log(data_[i].reading) - data_[i].log_value(others.state)) / deviation(data_[i], others, true);
    FitReading& reading = fit_.readings[i];
    reading.at_odds = std::abs(miss) > kOutlier;
    if (!reading.at_odds) continue;
    reading.miss = miss;
    reading.expected = std::exp(data_[i].log_value(others.state));
    reading.guesses = guesses(i, others);
  }
  double before = 0, after = 0, count = 0;
  for (std::size_t i = 0; i < data_.size(); ++i) {
    if (!used_[i]) continue;
    const auto square = [&](const Eigen::VectorXd& state) {
      return std::pow((std::log(data_[i].reading) - data_[i].log_value(state)) / data_[i].noise, 2);
    };
    before += square(declared()), after += square(state_.state), count += 1;
  }
  if (count > 0) fit_.miss_before = std::sqrt(before / count), fit_.miss_after = std::sqrt(after / count);
}

Fitter::Sum Fitter::sum_of(const std::vector<std::size_t>& members) const {
  Sum sum;
  double before = 0, after = 0, thought = 0;
  for (const std::size_t a : members) {
    sum.shift += state_.state[static_cast<Eigen::Index>(a)];
    before += std::pow(layout_.parameters()[a].sd, 2);
    thought += std::pow(thought_[a].sd, 2);
    for (const std::size_t b : members)
      after += state_.covariance(static_cast<Eigen::Index>(a), static_cast<Eigen::Index>(b));
  }
  sum.before = std::sqrt(before), sum.after = std::sqrt(std::max(0.0, after));
  sum.thought = std::sqrt(thought);
  return sum;
}

std::vector<std::size_t> Fitter::output_of(std::size_t lamp, const std::string& part) const {
  std::vector<std::size_t> members;
  if (const auto whole = layout_.find(FitKind::lamp, lamp)) members.push_back(*whole);
  if (const auto own = layout_.find(FitKind::part, lamp, part)) members.push_back(*own);
  return members;
}

void Fitter::put_factors() {
  const auto factor = [](const std::string& name, const std::string& part, const Sum& sum) {
    return FitFactor{name,
                     part,
                     std::exp(sum.shift),
                     std::exp(sum.shift - kNormal95 * sum.after),
                     std::exp(sum.shift + kNormal95 * sum.after),
                     sum.before,
                     sum.after,
                     sum.learned()};
  };
  for (std::size_t lamp = 0; lamp < scene_.lamps.size(); ++lamp) {
    const auto& parts = scene_.lamps[lamp].fixture->parts;
    for (const LampPart& part : parts) {
      const std::vector<std::size_t> members = output_of(lamp, part.name);
      if (!members.empty())
        fit_.lamps.push_back(
            factor(scene_.lamps[lamp].name, parts.size() > 1 ? part.name : "", sum_of(members)));
    }
  }
  for (std::size_t i = 0; i < layout_.parameters().size(); ++i) {
    const FitParameter& parameter = layout_.parameters()[i];
    if (parameter.kind == FitKind::mesh) fit_.meshes.push_back(factor(parameter.name, "", sum_of({i})));
    if (parameter.kind == FitKind::meter) fit_.meters.push_back(factor(parameter.name, "", sum_of({i})));
    const bool of_lamp = parameter.kind == FitKind::lamp_height;
    if (!control_.heights || (!of_lamp && parameter.kind != FitKind::height)) continue;
    const Sum sum = sum_of({i});
    fit_.heights.push_back({of_lamp, parameter.name, sum.shift, sum.before, sum.after, sum.learned()});
  }
}

void Fitter::put_bands() {
  const auto add = [&](std::size_t i, Quantity quantity, const Limits& limits) {
    const FitFigure figure = places_.figure(layout_, i, quantity, {});
    FitBand band;
    band.reading = places_.readings()[i].name;
    band.quantity = quantity;
    band.limits = limits;
    FitDatum datum;
    datum.figure = figure;
    FitState before{declared(), Eigen::MatrixXd::Zero(state_.state.size(), state_.state.size())};
    for (std::size_t k = 0; k < layout_.parameters().size(); ++k)
      before.covariance(static_cast<Eigen::Index>(k), static_cast<Eigen::Index>(k)) =
          std::pow(layout_.parameters()[k].sd, 2);
    const auto put = [&](const FitState& state, double& value, double& low, double& high) {
      value = figure.value(state.state);
      if (!(value > 0)) return;
      const double width = kNormal95 * std::min(deviation(datum, state, false), kMostLogSd);
      low = value * std::exp(-width), high = value * std::exp(width);
    };
    put(before, band.before, band.before_low, band.before_high);
    put(state_, band.after, band.after_low, band.after_high);
    fit_.bands.push_back(std::move(band));
  };
  for (std::size_t i = 0; i < places_.readings().size(); ++i)
    for (const WantResult& want : places_.readings()[i].wants) add(i, want.want.quantity, want.want.limits);
  if (!fit_.bands.empty()) return;
  for (std::size_t i = 0; i < places_.readings().size(); ++i)
    if (places_.readings()[i].kind != ReadingKind::plant)
      for (const Quantity quantity : {Quantity::uvi, Quantity::lux}) add(i, quantity, {});
}

void Fitter::put_causes() {
  for (const Explanation& one : single_causes(layout_.parameters(), data_, used_)) {
    FitCause cause;
    cause.nothing = !one.parameter;
    if (one.parameter) {
      const FitParameter& parameter = layout_.parameters()[*one.parameter];
      const bool length = parameter.kind == FitKind::lamp_height || parameter.kind == FitKind::height;
      cause.kind = parameter.kind;
      cause.name = parameter.name;
      cause.part = parameter.part;
      cause.shift = length ? one.shift : std::exp(one.shift);
    }
    cause.share = one.share;
    cause.miss = one.miss;
    fit_.causes.push_back(std::move(cause));
  }
}

// A lamp or mesh of which the readings say something goes into the scene.
void Fitter::put_scene() {
  const auto relative = [](double log_sd) { return std::sqrt(std::expm1(log_sd * log_sd)); };
  for (std::size_t lamp = 0; lamp < scene_.lamps.size(); ++lamp) {
    std::vector<double> factors;
    double widest = 0;
    bool learned = false;
    for (const LampPart& part : scene_.lamps[lamp].fixture->parts) {
      const Sum sum = sum_of(output_of(lamp, part.name));
      factors.push_back(std::exp(sum.shift));
      widest = std::max(widest, sum.after);
      learned = learned || sum.learned();
    }
    fit_.lamp_factors.push_back(learned ? factors : std::vector<double>(factors.size(), 1.0));
    fit_.lamp_spreads.push_back(learned ? relative(widest) : 0);
  }
  for (std::size_t material = 0; material < scene_.materials.size(); ++material) {
    const auto parameter = layout_.find(FitKind::mesh, material);
    const Sum sum = parameter ? sum_of({*parameter}) : Sum{};
    const bool learned = parameter && sum.learned();
    fit_.mesh_factors.push_back(learned ? std::exp(sum.shift) : 1);
    fit_.mesh_spreads.push_back(learned ? relative(sum.after) : 0);
  }
}

Fit Fitter::find() {
  const auto progress = [&](const std::string& stage, double share) {
    if (control_.progress) control_.progress(stage, share);
  };
  progress("tracing the places of the readings", 0.3);
  trace();
  progress("fitting", 0.9);
  require_possible();
  std::vector<FitDatum> warm;
  for (std::size_t i = 0; i < sheet_.list.size(); ++i) layout_.meter(sheet_.list[i].quantity);
  for (std::size_t i = 0; i < sheet_.list.size(); ++i) {
    data_.push_back(datum_of(place_[i], sheet_.list[i]));
    if (sheet_.list[i].warm) warm.push_back(data_.back());
  }
  RobustFit robust = fit_without_outliers(layout_.parameters(), warm, kOutlier);
  thought_ = layout_.parameters();
  if (doubt_what_stands_out(thought_, warm, robust.used))
    robust = fit_without_outliers(thought_, warm, kOutlier);
  state_ = robust.fit;
  auto next = robust.used.begin();
  for (const MeterReading& reading : sheet_.list) used_.push_back(reading.warm && *next++);
  fit_.blank = sheet_.blank;
  fit_.unread_columns = sheet_.unread_columns;
  fit_.heights_asked = control_.heights;
  fit_.meter = control_.meter;
  put_readings();
  put_factors();
  put_bands();
  put_causes();
  put_scene();
  progress("done", 1);
  return std::move(fit_);
}

}  // namespace

Fit fit_readings(const Scene& scene, const MeterReadings& readings, const FitControl& control) {
  std::optional<tbb::global_control> threads;
  if (control.threads > 0)
    threads.emplace(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(control.threads));
  if (control.progress) control.progress("reading perches, plants and points", 0.05);
  return Fitter(scene, readings, control).find();
}

}  // namespace boughlight
