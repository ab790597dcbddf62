// The whole program on a photometric file of ANSI/IES LM-63.
#include <cmath>
#include <numbers>

#include "published/program_scene.h"

namespace boughlight {
namespace {

using std::numbers::pi;

// Type C, 0 to 90 deg from the axis, planes at 0 and 90 deg that stand for all four quarters: 1000 cd all
// over the first, 500 cd all over the second; at any turn between the mean by angle.
const char* const kLampFile =
    "IESNA:LM-63-2002\n[TEST] invented for the test\nTILT=NONE\n1 4712.389 1 4 2 1 2 0 0 0\n1.0 1.0 20\n"
    "0 30 60 90\n0 90\n1000 1000 1000 1000\n500 500 500 500\n";

TEST(ProgramLampFile, IntensityByPlaneAndAngle) {
  formula("A photometric file of ANSI/IES LM-63: intensity by plane and angle, over the distance squared");
  ProgramScene scene;
  scene.files["lamp.ies"] = kLampFile;
  // Linear over 90 deg of turn: 750 cd on average, times the half space's 2 pi.
  scene.add_lamp("lamp", "shape: point", "form: ies, file: lamp.ies",
                 "luminous_flux: " + std::to_string(1500 * pi) + " lm", {0.5, 0.5, 0.9}, "along: [0, 1, 0]");
  struct Way {
    const char* name;
    double slant, turn, candela;  // turn from the lamp's own first plane
  };
  const std::vector<Way> ways = {{"first plane", 40, 0, 1000},
                                 {"first plane, behind", 40, 180, 1000},
                                 {"second plane", 40, 90, 500},
                                 {"second plane, behind", 70, 270, 500},
                                 {"half way", 40, 45, 750},
                                 {"a third", 20, 30, 1000 - 500.0 / 3},
                                 {"half way, fourth quarter", 80, 315, 750}};
  for (const Way& way : ways) {
    const double s = way.slant * pi / 180, t = way.turn * pi / 180, distance = 2;
    // The first plane lies along y, towards the back.
    const double x = std::sin(s) * std::sin(t), y = std::sin(s) * std::cos(t), z = -std::cos(s);
    scene.add_point(way.name, {0.5 + distance * x, 0.5 + distance * y, 0.9 + distance * z}, {-x, -y, -z});
  }
  const ProgramReadings readings(scene);
  for (const Way& way : ways)
    expect_reading(std::string("lamp of an LM-63 file, ") + way.name + ", lx",
                   "intensity / distance squared, exact", way.candela / 4, readings.value(way.name, "lux"),
                   1e-6, 1e-4, "1e-4: its solid angle is integrated");
}

}  // namespace
}  // namespace boughlight
