#include "plan/tune_layout.h"

#include <algorithm>
#include <cmath>

#include "assess/facts.h"
#include "plan/top.h"

namespace boughlight {
namespace {

constexpr double kLeastGap = 0.005, kMoreGap = 0.3;  // m; it may hang so much higher than it does
constexpr double kMostTilt = 0.7;                    // rad, of either tilt: 40 deg
constexpr double kClear = 0.02;                      // m between emitters

Vec3 perpendicular(const Vec3& along, const Vec3& aim) {
  Vec3 part = along - along.dot(aim) * aim;
  if (part.norm() < 1e-3) part = Vec3::UnitY() - Vec3::UnitY().dot(aim) * aim;
  return part.normalized();
}

}  // namespace

Layouts::Layouts(const PlannedScene& planned, const TuneControl& control) : planned_(planned) {
  const Scene& scene = planned.scene;
  for (const Lamp& lamp : scene.lamps) {
    const auto gap = gap_above_enclosure(scene, lamp);
    declared_.push_back({0, lamp.at.x(), lamp.at.y(), gap.value_or(0), lamp.aim, lamp.dim});
    top_.push_back(gap ? std::optional(lowest_point_z(lamp) - *gap) : std::nullopt);
    Outline outline;
    for (const Box& box : scene.boxes) {
      const Vec3 far = box.far_corner();
      // Of the box that it hangs over: another may be lower, or open.
      if (gap && std::abs(far.z() - *top_.back()) < 1e-9 && lamp.at.x() >= box.corner.x() &&
          lamp.at.x() <= far.x() && lamp.at.y() >= box.corner.y() && lamp.at.y() <= far.y())
        outline = {box.corner.x(), box.corner.y(), far.x(), far.y()};
    }
    outlines_.push_back(outline);
  }
  for (const TuneKind kind : kTuneKinds) {
    if (control.kinds.count(kind) == 0) continue;
    for (std::size_t i = 0; i < scene.lamps.size(); ++i) {
      if (control.keep.count(scene.lamps[i].name) > 0) continue;
      const bool moves = kind == TuneKind::gap || kind == TuneKind::place;
      if (kind == TuneKind::dim && !planned.extras.lamps[i].has_dimmer) continue;
      if (moves && !top_[i]) continue;
      if (kind == TuneKind::fixture && choices(i) < 2) continue;
      knobs_.push_back({i, kind});
    }
  }
}

std::vector<Lamp> Layouts::lamps(const Layout& layout) const {
  std::vector<Lamp> lamps = planned_.scene.lamps;
  for (std::size_t i = 0; i < lamps.size(); ++i) {
    Lamp& lamp = lamps[i];
    const LampLayout& as = layout[i];
    if (as == declared_[i]) continue;
    if (as.fixture > 0) lamp.fixture = planned_.extras.lamps[i].choices[as.fixture - 1];
    lamp.aim = as.aim;
    lamp.along = perpendicular(planned_.scene.lamps[i].along, as.aim);
    lamp.dim = as.dim;
    if (!top_[i]) continue;
    lamp.at = Vec3(as.x, as.y, *top_[i] + as.gap);
    lamp.at.z() += lamp.at.z() - lowest_point_z(lamp);
  }
  return lamps;
}

bool Layouts::possible(const Layout& layout) const {
  Scene scene = planned_.scene;
  scene.lamps = lamps(layout);
  for (std::size_t i = 0; i < scene.lamps.size(); ++i) {
    if (layout[i] == declared_[i]) continue;
    if (clearance(scene, i, scene.lamps[i]) < kClear) return false;
  }
  return true;
}

void Layouts::bounds(const Knob& knob, std::vector<double>& low, std::vector<double>& high) const {
  const LampLayout& as = declared_[knob.lamp];
  const Outline& outline = outlines_[knob.lamp];
  switch (knob.kind) {
    case TuneKind::dim:
      low = {0}, high = {1};
      break;
    case TuneKind::gap:
      low = {std::min(kLeastGap, as.gap)}, high = {as.gap + kMoreGap};
      break;
    case TuneKind::place:
      low = {outline.x0, outline.y0}, high = {outline.x1, outline.y1};
      break;
    case TuneKind::aim:
      low = {-kMostTilt, -kMostTilt}, high = {kMostTilt, kMostTilt};
      break;
    case TuneKind::fixture:
      break;
  }
}

std::vector<double> Layouts::get(const Knob& knob, const Layout& layout) const {
  const LampLayout& as = layout[knob.lamp];
  switch (knob.kind) {
    case TuneKind::dim:
      return {as.dim};
    case TuneKind::gap:
      return {as.gap};
    case TuneKind::place:
      return {as.x, as.y};
    case TuneKind::aim: {
      const Vec3& aim = declared_[knob.lamp].aim;
      const Vec3 u = perpendicular(Vec3::UnitX(), aim), v = aim.cross(u);
      const double ahead = std::max(1e-6, as.aim.dot(aim));
      return {std::atan(as.aim.dot(u) / ahead), std::atan(as.aim.dot(v) / ahead)};
    }
    case TuneKind::fixture:
      break;
  }
  return {};
}

void Layouts::set(const Knob& knob, const double* values, Layout& layout) const {
  LampLayout& as = layout[knob.lamp];
  switch (knob.kind) {
    case TuneKind::dim:
      as.dim = values[0];
      break;
    case TuneKind::gap:
      as.gap = values[0];
      break;
    case TuneKind::place:
      as.x = values[0], as.y = values[1];
      break;
    case TuneKind::aim: {
      const Vec3& aim = declared_[knob.lamp].aim;
      const Vec3 u = perpendicular(Vec3::UnitX(), aim), v = aim.cross(u);
      as.aim = (aim + std::tan(values[0]) * u + std::tan(values[1]) * v).normalized();
      break;
    }
    case TuneKind::fixture:
      break;
  }
}

Layout Layouts::rounded(Layout layout, const std::vector<Knob>& changed) const {
  const bool inches = planned_.scene.length_unit == "in" || planned_.scene.length_unit == "ft";
  const double step = inches ? 0.25 * 0.0254 : 0.005;
  for (const Knob& knob : changed) {
    if (knob.kind == TuneKind::fixture) continue;
    LampLayout& as = layout[knob.lamp];
    if (knob.kind == TuneKind::aim) {
      // As written: [x, y, -1] and the like, the greatest component whole.
      const double size = as.aim.cwiseAbs().maxCoeff();
      as.aim = ((as.aim / size * 100).array().round() / 100).matrix().normalized();
      continue;
    }
    std::vector<double> low, high, values = get(knob, layout);
    bounds(knob, low, high);
    const double grain = knob.kind == TuneKind::dim ? 0.01 : step;
    for (std::size_t i = 0; i < values.size(); ++i)
      values[i] = std::clamp(std::round(values[i] / grain) * grain, low[i], high[i]);
    set(knob, values.data(), layout);
  }
  return layout;
}

double Layouts::turned(const Knob& knob, const Layout& layout) const {
  if (knob.kind == TuneKind::fixture)
    return layout[knob.lamp].fixture == declared_[knob.lamp].fixture ? 0 : 1;
  const std::vector<double> now = get(knob, layout), before = get(knob, declared_);
  std::vector<double> low, high;
  bounds(knob, low, high);
  double most = 0;
  for (std::size_t i = 0; i < now.size(); ++i)
    most = std::max(most, std::abs(now[i] - before[i]) / std::max(1e-9, high[i] - low[i]));
  return most;
}

void Layouts::reset(const Knob& knob, Layout& layout) const {
  const LampLayout& before = declared_[knob.lamp];
  LampLayout& as = layout[knob.lamp];
  switch (knob.kind) {
    case TuneKind::dim:
      as.dim = before.dim;
      break;
    case TuneKind::gap:
      as.gap = before.gap;
      break;
    case TuneKind::place:
      as.x = before.x, as.y = before.y;
      break;
    case TuneKind::aim:
      as.aim = before.aim;
      break;
    case TuneKind::fixture:
      as.fixture = before.fixture;
      break;
  }
}

}  // namespace boughlight
