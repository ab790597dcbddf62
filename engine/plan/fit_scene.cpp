// A scene file with what a meter found in it.

#include <fmt/format.h>

#include <cmath>

#include "assess/causes.h"
#include "plan/fit.h"
#include "scene/rewrite.h"

namespace boughlight {
namespace {

std::string four_digits(double value) {
  return fmt::format("{:.4g}", value);
}

// A mesh at the most that it may let through stays below it.
std::string rounded_down(double value) {
  return four_digits(std::floor(value * 1e3) / 1e3);
}

std::string percent(double ratio) {
  return fmt::format("{:.2g} %", 100 * ratio);
}

// "lamps: {tube: {...}}" as block lines and as one flow mapping.
struct Section {
  std::vector<std::string> lines;
  std::string flow;

  void open(const std::string& key) {
    lines.push_back("  " + key + ":");
    flow += (flow.empty() ? "" : "}, ") + key + ": {";
    first_ = true;
  }
  void add(const std::string& name, const std::string& value) {
    lines.push_back("    " + yaml_text(name) + ": " + value);
    flow += (first_ ? "" : ", ") + yaml_text(name) + ": " + value;
    first_ = false;
  }

 private:
  bool first_ = true;
};

// What the scene says now, times what was found; what is known of a lamp without new readings stays.
std::string lamp_value(const Lamp& lamp, const std::vector<double>& measured,
                       const std::vector<double>& found, double spread) {
  std::string factor;
  for (std::size_t i = 0; i < found.size(); ++i) {
    const double before = measured.empty() ? 1 : measured[i];
    const std::string value = four_digits(before * found[i]);
    if (found.size() == 1) return fmt::format("{{factor: {}, spread: {}}}", value, percent(spread));
    factor += (factor.empty() ? "" : ", ") + yaml_text(lamp.fixture->parts[i].name) + ": " + value;
  }
  return fmt::format("{{factor: {{{}}}, spread: {}}}", factor, percent(spread));
}

void put_heights(const Scene& scene, const Fit& fit, SceneText& text) {
  // Less than this nobody can hang a lamp by.
  constexpr double kNoticed = 5e-4;
  const auto raise = [&](const std::string& path, double shift) {
    const auto old = text.scalar(path);
    if (!old) return;
    std::string why;
    const auto value = parse_value(*old, Dimension::length, scene.length_unit, why);
    if (value)
      text.set(path, length_like(*old, std::round((value->value + shift) * 1e4) / 1e4, scene.length_unit));
  };
  for (const FitHeight& height : fit.heights) {
    if (std::abs(height.shift) < kNoticed) continue;
    const auto raise_in = [&](const char* list, const auto& items) {
      for (std::size_t i = 0; i < items.size(); ++i) {
        if (items[i].name != height.name) continue;
        const std::string item = fmt::format("{}[{}]", list, i);
        raise(text.has(item + ".over.gap") ? item + ".over.gap" : item + ".at[2]", height.shift);
      }
    };
    if (height.of_lamp) {
      raise_in("lamps", scene.lamps);
    } else {
      raise_in("perches", scene.perches);
      raise_in("points", scene.points);
    }
  }
}

}  // namespace

std::string fitted_scene_text(const PlannedScene& planned, const Fit& fit) {
  const Scene& scene = planned.scene;
  SceneText text(scene.file);
  Section section;
  section.lines = {"measured:",
                   "  # Factors on what is declared above, found by 'boughlight fit' from meter readings."};
  bool any = false;
  for (std::size_t lamp = 0; lamp < scene.lamps.size(); ++lamp) {
    const Lamp& about = scene.lamps[lamp];
    const std::vector<double>& measured = planned.extras.lamps[lamp].measured_factors;
    const bool found = fit.lamp_spreads[lamp] > 0;
    if (!found && measured.empty()) continue;
    if (!any) section.open("lamps");
    any = true;
    section.add(about.name, lamp_value(about, measured, fit.lamp_factors[lamp],
                                       found ? fit.lamp_spreads[lamp] : lamp_spread(scene, about)));
  }
  bool meshes = false;
  for (std::size_t material = 0; material < scene.materials.size(); ++material) {
    const Material& about = scene.materials[material];
    const bool found = fit.mesh_spreads[material] > 0;
    if (!found && planned.extras.mesh_factors[material] == 1) continue;
    if (!meshes) section.open("meshes");
    any = meshes = true;
    section.add(
        about.name,
        fmt::format("{{factor: {}, spread: {}}}",
                    rounded_down(planned.extras.mesh_factors[material] * fit.mesh_factors[material]),
                    percent(found ? fit.mesh_spreads[material] : about.spread.value_or(scene.doubts.mesh))));
  }
  if (any) text.put_section("measured", section.lines, "{" + section.flow + "}}");
  put_heights(scene, fit, text);
  return text.text();
}

}  // namespace boughlight
