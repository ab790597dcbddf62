// Fixtures that stand in for the library's where a test needs to know their size.
#pragma once

#include <string>

#include "scene_files.h"

namespace boughlight {

inline const std::string kTube = R"(fixture: 1
title: stand-in tube
emitter: {shape: tube, length: 53 cm, diameter: 16 mm}
distribution: {form: trough, cutoff: 70 deg}
emission:
  - part: ultraviolet
    spectrum: {bands: [{at: 320 nm, width: 30 nm, from: 292 nm}], lines: [[302.2 nm, 0.02]]}
    output: {uvi: 4.0, at: 30 cm}
power: 24 W
)";
inline const std::string kFlood = R"(fixture: 1
emitter: {shape: sphere, diameter: 8 cm}
emission: [{part: heat, spectrum: {blackbody: 2900 K}, output: {radiant_flux: 70 W}}]
)";

inline Scene load(const TempFolder& folder, const std::string& text) {
  return load_scene(folder.write("scene.yaml", text));
}

}  // namespace boughlight
