// A scene file with its lamps as they were tuned.

#include <fmt/format.h>

#include <cmath>

#include "assess/facts.h"
#include "plan/tune.h"
#include "scene/rewrite.h"

namespace boughlight {
namespace {

// "-0" reads oddly.
std::string component(double value) {
  return fmt::format("{:.4g}", std::abs(value) < 5e-5 ? 0.0 : value);
}

std::string direction(const Vec3& unit, bool greatest_is_one) {
  const Vec3 vector = greatest_is_one ? Vec3(unit / unit.cwiseAbs().maxCoeff()) : unit;
  return "[" + component(vector.x()) + ", " + component(vector.y()) + ", " + component(vector.z()) + "]";
}

class Writer {
 public:
  explicit Writer(const Scene& scene) : scene_(scene), text_(scene.file) {}

  void put(const TunedChange& change) {
    const std::string lamp = fmt::format("lamps[{}]", change.lamp);
    switch (change.kind) {
      case TuneKind::dim:
        text_.set_or_add(lamp, "fixture", "dim",
                         ratio_like(text_.scalar(lamp + ".dim").value_or(""), change.after.dim));
        break;
      case TuneKind::gap:
      case TuneKind::place:
        break;  // the lamp's whole place is put once
      case TuneKind::aim:
        put_direction(lamp, "aim", change.after.aim, true);
        // The loader wants the length at right angles to the aim.
        if (text_.has(lamp + ".along")) put_direction(lamp, "along", change.after.along, false);
        break;
      case TuneKind::fixture:
        text_.set(lamp + ".fixture", yaml_text(change.after.fixture->name));
        put_choices(lamp, change);
        break;
    }
  }

  // Where the emitter is changes with its place and gap, and for `at` with another fixture or aim as well.
  void put_place(std::size_t index, const Lamp& before, const Lamp& after) {
    const std::string lamp = fmt::format("lamps[{}]", index);
    if (text_.has(lamp + ".over")) {
      const auto gap = gap_above_enclosure(scene_, before), now = gap_above_enclosure(scene_, after);
      put_length(lamp + ".over.x", before.at.x(), after.at.x());
      put_length(lamp + ".over.y", before.at.y(), after.at.y());
      if (gap && now) put_length(lamp + ".over.gap", *gap, *now);
      return;
    }
    for (int axis = 0; axis < 3; ++axis)
      put_length(fmt::format("{}.at[{}]", lamp, axis), before.at[axis], after.at[axis]);
  }

  std::string text() const { return text_.text(); }

 private:
  void put_length(const std::string& path, double before, double after) {
    constexpr double kSame = 1e-6;
    if (std::abs(after - before) < kSame) return;
    const std::string old = text_.scalar(path).value_or("");
    text_.set(path, length_like(old, std::round(after * 1e5) / 1e5, scene_.length_unit));
  }

  void put_direction(const std::string& lamp, const std::string& key, const Vec3& unit,
                     bool greatest_is_one) {
    const std::string path = lamp + "." + key;
    const std::string value = direction(unit, greatest_is_one);
    if (!text_.has(path + "[2]")) return text_.set_or_add(lamp, "fixture", key, value);
    const Vec3 vector = greatest_is_one ? Vec3(unit / unit.cwiseAbs().maxCoeff()) : unit;
    for (int axis = 0; axis < 3; ++axis)
      text_.set(fmt::format("{}[{}]", path, axis), component(vector[axis]));
  }

  // The fixture that hung there takes the place of the one chosen, so that it can be chosen again.
  void put_choices(const std::string& lamp, const TunedChange& change) {
    for (std::size_t i = 0;; ++i) {
      const std::string path = fmt::format("{}.choose[{}]", lamp, i);
      const auto name = text_.scalar(path);
      if (!name) return;
      if (*name == change.after.fixture->name) text_.set(path, yaml_text(change.before.fixture->name));
    }
  }

  const Scene& scene_;
  SceneText text_;
};

}  // namespace

std::string tuned_scene_text(const PlannedScene& planned, const Tune& tune) {
  Writer writer(planned.scene);
  std::vector<bool> placed(planned.scene.lamps.size(), false);
  for (const TunedChange& change : tune.changes) {
    writer.put(change);
    if (placed[change.lamp] || change.kind == TuneKind::dim) continue;
    placed[change.lamp] = true;
    writer.put_place(change.lamp, change.before, change.after);
  }
  return writer.text();
}

}  // namespace boughlight
