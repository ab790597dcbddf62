#include "named_parts.h"

#include <fmt/format.h>

#include "commands.h"
#include "plan/top.h"
#include "scene/enclosure.h"
#include "terminal.h"
#include "units/problem.h"
#include "units/units.h"

namespace boughlight::cli {

namespace {

template <class Parts>
std::size_t part_named(const Parts& parts, const std::string& argument, const std::string& kind,
                       const std::string& name) {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].name == name) return i;
    names.push_back(parts[i].name);
  }
  if (names.empty()) throw CallError(fmt::format("{}: the scene has no {} at all", argument, kind));
  throw CallError(fmt::format("{}: the scene has no {} '{}'{}; it has {}", argument, kind, name,
                              did_you_mean(name, names), one_of(names)));
}

}  // namespace

std::size_t lamp_named(const Scene& scene, const std::string& name, const std::string& argument) {
  return part_named(scene.lamps, argument, "lamp", name);
}

std::size_t perch_named(const Scene& scene, const std::string& name) {
  return part_named(scene.perches, "--perch", "perch", name);
}

double typed_length(const Scene& scene, const std::string& option, const std::string& text, double least,
                    double most) {
  std::string why;
  const auto length = parse_value(text, Dimension::length, scene.length_unit, why);
  if (!length) throw CallError(option + ": " + why);
  if (length->value < least || length->value > most) {
    throw CallError(fmt::format("{}: '{}' is not between {} and {} {}", option, text,
                                length_text(least, scene.length_unit), length_text(most, scene.length_unit),
                                scene.length_unit));
  }
  return length->value;
}

void require_open_top(const Scene& scene) {
  const double highest = top_of(scene).z;
  std::string solid;
  for (const FacePart& face : outer_faces(scene.boxes)) {
    constexpr double kTouch = 1e-6;
    if (face.side != Side::top || face.corner.z() < highest - kTouch) continue;
    if (!is_opaque(face, scene.materials)) return;
    solid = scene.materials[static_cast<std::size_t>(face.material)].name;
  }
  throw CallError(fmt::format(
      "the top is of '{}', through which no light gets: lamps over it have no place to look for", solid));
}

}  // namespace boughlight::cli
