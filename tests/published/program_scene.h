// A scene written into a folder of its own and surveyed by the program, as a user would; its readings.json
// read back.
#pragma once

#include <Eigen/Core>
#include <map>
#include <string>
#include <vector>

#include "published/check.h"

namespace boughlight {

// What the program prints of one figure. With se 0 where it gives none (`by_lamp`).
struct Printed {
  double value = 0, se = 0;
};

// YAML, piece by piece; lengths are in metres unless they carry their own unit. Air all round unless said.
struct ProgramScene {
  std::string size = "[1, 1, 1]";
  std::string faces = "floor: open, top: open, left: open, right: open, front: open, back: open";
  std::string tolerance = "0.2 %";
  int seed = 1;
  std::string sections;                      // whole top-level sections: materials, boards, plants, room
  std::map<std::string, std::string> files;  // beside the scene, by name

  // A lamp with a fixture of its own. `emitter` and `form` as inside the fixture's braces (form empty:
  // lambert); `spectrum` likewise; `rest`: more keys of the lamp.
  void add_lamp(const std::string& name, const std::string& emitter, const std::string& form,
                const std::string& output, const std::vector<double>& at, const std::string& rest = "",
                const std::string& spectrum = "lines: [[550 nm, 1]]");
  // A sensor at a place; looks up unless `facing` is given.
  void add_point(const std::string& name, const std::vector<double>& at,
                 const std::vector<double>& facing = {0, 0, 1});

  std::string text() const;

 private:
  std::string lamps_, points_;
};

// One lamp more, `anchor` (one reading, say "uvi: 3") 50 cm under it, where a sensor at [0.5, 0.5, 0.4] is.
void add_small_lamp(ProgramScene& scene, const std::string& name, const std::string& spectrum,
                    const std::string& anchor, const std::string& rest = "");

// Readings by name.
class ProgramReadings {
 public:
  explicit ProgramReadings(const ProgramScene& scene);
  ~ProgramReadings();
  ProgramReadings(const ProgramReadings&) = delete;
  ProgramReadings& operator=(const ProgramReadings&) = delete;

  Printed value(const std::string& reading, const std::string& quantity = "irradiance") const;
  Printed scalar(const std::string& reading, const std::string& quantity = "irradiance") const;
  // Any number that the program prints of a reading, by its JSON pointer: "/doubt/lux/low".
  double number(const std::string& reading, const std::string& pointer) const;
  double by_lamp(const std::string& reading, const std::string& lamp,
                 const std::string& quantity = "irradiance") const;

 private:
  struct Json;
  Json* json_;
};

// Six printed digits (5e-6 at worst) and rays in single precision, on places known to 1e-7 m.
inline constexpr double kPrinting = 3e-5;
inline constexpr const char* kDigits = "printed digits and single precision";
// 16 replicates: Student's t with 15 degrees of freedom passes 5 once in 6,000 tries, so the 300 or so checks
// of this folder would fail by chance once in twenty seeds; the seed is fixed, so a failure is a failure.
inline constexpr double kStandardErrors = 5;

// Within kStandardErrors of what is published, plus `systematic` (relative), whose reason is `why`. The
// standard error must be at most `most_error` (relative), or the check would have no teeth.
void expect_reading(const std::string& what, const std::string& source, double expected,
                    const Printed& obtained, double most_error, double systematic = kPrinting,
                    const std::string& why = kDigits);

std::string yaml_list(const std::vector<double>& values);
std::vector<double> list_of(const Eigen::Vector3d& v);
std::string watts(double flux);  // an output

}  // namespace boughlight
