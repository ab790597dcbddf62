// The search for a better layout of lamps. Private to the tuning.
#pragma once

#include <map>

#include "plan/trial.h"
#include "plan/tune_layout.h"

namespace boughlight {

// What a full survey says of the asks.
struct Surveyed {
  std::vector<Figure> figures;
  std::vector<double> doubt;      // by figure: standard deviation of its logarithm, of shares of itself
  std::vector<Verdict> verdicts;  // by ask
  WholeVerdict whole = WholeVerdict::met;
};

// All that is needed to score layouts, to look for better ones, and to tell what was found.
class Tuner {
 public:
  Tuner(const PlannedScene& planned, const TuneControl& control)
      : planned_(planned),
        control_(control),
        asks_(judged_asks(planned.scene)),
        layouts_(planned, control),
        room_(without_bodies(planned.scene), asks_) {}

  Tune find();

 private:
  static Asks judged_asks(const Scene& scene);
  static Scene without_bodies(const Scene& scene);

  // What a layout is worth: below 0 while wants are broken, else the least slack.
  struct Worth {
    double score = -HUGE_VAL;
    Layout layout;
  };
  const Trial& trial(const Layout& layout);
  std::vector<double> figures(const Layout& layout);
  double slack(const Ask& ask, double value, double doubt) const;
  double score(const std::vector<double>& figures) const;
  double score(const Layout& layout) { return score(figures(layout)); }
  // The score less what the knobs cost that were turned.
  double worth_of(const Layout& layout, const std::vector<Knob>& knobs);

  Survey survey(const Layout& layout);
  void note(const Surveyed& found);
  void learn(const Layout& layout, const Surveyed& found);
  Worth turned(const Layout& from, const std::vector<Knob>& knobs, int evaluations);
  Worth dimmed(const Layout& from);
  Worth screened(const Layout& from, const Knob& knob);
  Layout search(const Layout& from);
  Layout with_fewest(Layout layout);
  void say(const std::string& stage) {
    done_ += (0.97 - done_) * 0.04;
    if (control_.progress) control_.progress(stage, done_);
  }
  std::vector<Knob> changed(const Layout& layout) const;
  void put_asks(const Surveyed& before, const Surveyed& after);
  void put_changes(const Layout& layout);
  void put_conflicts(const Layout& layout);

  const PlannedScene& planned_;
  const TuneControl& control_;
  Asks asks_;
  Layouts layouts_;
  TrialRoom room_;
  std::map<std::vector<double>, Trial> trials_;  // by geometry
  // What a survey says over what a trial does, by figure: a factor, of shares a difference; and the doubt.
  std::vector<double> correction_, doubt_;
  std::vector<double> error_;  // of a survey: relative, of shares absolute
  double done_ = 0;
  Tune tune_;
};

}  // namespace boughlight
