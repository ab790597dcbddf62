#include "scenes.h"

#include "program.h"

namespace boughlight {

std::string write_crate(const std::filesystem::path& folder, const std::string& want,
                        const std::string& name) {
  write_file(folder / "bulb.yaml", R"(fixture: 1
title: Bulb
emitter: {shape: point}
distribution: {form: isotropic}
emission:
  - part: visible
    spectrum: {blackbody: 2800 K}
    output: {lux: 1000, at: 30 cm}
source: invented for the demo
)");
  write_file(folder / name, R"(boughlight: 1
title: Crate
length_unit: cm
enclosure:
  - box: crate
    size: [40, 40, 60]
    faces: {floor: black, back: black, left: black, right: black, front: black, top: open}
materials:
  black: {surface: matte, reflectance: 0}
points:
  - {name: middle, at: [20, 20, 30], wants: {lux: )" +
                                want + R"(}}
lamps:
  - {name: bulb, fixture: bulb.yaml, at: [20, 20, 70]}
survey: {spacing: 10, tolerance: 5 %, seed: 3}
)");
  return (folder / name).string();
}

}  // namespace boughlight
