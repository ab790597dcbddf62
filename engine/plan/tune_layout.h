// A layout of lamps as what may be changed of each. Private to the tuning.
#pragma once

#include "plan/tune.h"

namespace boughlight {

struct LampLayout {
  std::size_t fixture = 0;  // 0: its own; then its choices
  // Over the top: x, y of the emitter's centre and the gap below it, m. Elsewhere they do not change.
  double x = 0, y = 0, gap = 0;
  Vec3 aim = -Vec3::UnitZ();
  double dim = 1;
  bool operator==(const LampLayout&) const = default;
};
using Layout = std::vector<LampLayout>;

struct Knob {
  std::size_t lamp = 0;
  TuneKind kind = TuneKind::dim;
  bool operator==(const Knob&) const = default;
};

class Layouts {
 public:
  Layouts(const PlannedScene& planned, const TuneControl& control);

  const Layout& declared() const { return declared_; }
  // Everything that may be turned, dimmers first.
  const std::vector<Knob>& knobs() const { return knobs_; }
  std::size_t choices(std::size_t lamp) const { return planned_.extras.lamps[lamp].choices.size() + 1; }

  std::vector<Lamp> lamps(const Layout& layout) const;
  // Whether lamps keep clear of each other and of the enclosure.
  bool possible(const Layout& layout) const;

  // A knob as numbers, and back: dim; gap; x, y; two tilts of the aim (rad, against declared). Not for
  // fixtures.
  static std::size_t size(TuneKind kind) { return kind == TuneKind::place || kind == TuneKind::aim ? 2 : 1; }
  void bounds(const Knob& knob, std::vector<double>& low, std::vector<double>& high) const;
  std::vector<double> get(const Knob& knob, const Layout& layout) const;
  void set(const Knob& knob, const double* values, Layout& layout) const;
  // As a keeper can set it: whole per cent, half centimetres (quarter inches), hundredths of the aim.
  Layout rounded(Layout layout, const std::vector<Knob>& changed) const;
  // How far a knob was turned, as a share of what it may: 0..1.
  double turned(const Knob& knob, const Layout& layout) const;
  // The knob as declared again.
  void reset(const Knob& knob, Layout& layout) const;

 private:
  const PlannedScene& planned_;
  Layout declared_;
  std::vector<Knob> knobs_;
  std::vector<std::optional<double>> top_;  // height of the top under each lamp that hangs over it
  struct Outline {
    double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
  };
  std::vector<Outline> outlines_;
};

}  // namespace boughlight
