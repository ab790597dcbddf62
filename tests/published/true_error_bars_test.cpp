// Whether standard errors are true: what the program prints at its default settings against references. Of
// readings with 16 replicates, a t distribution with 15 degrees of freedom puts 66.7 % within one standard
// error of the truth and 93.6 % within two.
#include <cmath>
#include <numbers>
#include <random>

#include "cli/program.h"
#include "published/program_scene.h"
#include "published/quadrature.h"
#include "published/radiosity.h"
#include "scene/load.h"
#include "transport/gather.h"

namespace boughlight {
namespace {

using Eigen::Vector3d;
using std::numbers::pi;

struct Sensor {
  Vector3d at, normal;
};

// Places even over a box, turned any way.
std::vector<Sensor> sensors_in(const Vector3d& low, const Vector3d& high, std::size_t count, unsigned seed) {
  std::mt19937_64 engine(seed);
  const auto uniform = [&] { return std::generate_canonical<double, 53>(engine); };
  std::vector<Sensor> sensors(count);
  for (Sensor& sensor : sensors) {
    // Whole tenths of a millimetre, so that the scene's text holds the very place.
    for (int axis = 0; axis < 3; ++axis)
      sensor.at[axis] = std::round(1e4 * (low[axis] + uniform() * (high[axis] - low[axis]))) / 1e4;
    const double z = 2 * uniform() - 1, turn = 2 * pi * uniform(), r = std::sqrt(1 - z * z);
    sensor.normal = {r * std::cos(turn), r * std::sin(turn), z};
  }
  return sensors;
}

struct Reference {
  double value, error;  // its own standard error, or what its rounding may leave
};

void add_points(ProgramScene& scene, const std::vector<Sensor>& sensors) {
  for (std::size_t i = 0; i < sensors.size(); ++i)
    scene.add_point("p" + std::to_string(i), list_of(sensors[i].at), list_of(sensors[i].normal));
}

// How readings of one scene lie about references.
class Spread {
 public:
  void add(const ProgramReadings& readings, const std::vector<Reference>& references) {
    for (std::size_t i = 0; i < references.size(); ++i) {
      const Printed got = readings.value("p" + std::to_string(i));
      const Reference& truth = references[i];
      const double off = got.value - truth.value;
      // Printed digits and single precision put a floor under what has next to no variance.
      const double error = std::hypot(got.se, truth.error, kPrinting * truth.value);
      ++count_, one_ += std::abs(off) <= error, two_ += std::abs(off) <= 2 * error;
      // The mean relative difference, each weighed by how well it is known.
      if (!(truth.value > 0)) continue;
      const double known = std::pow(truth.value / std::max(error, 1e-3 * truth.value), 2);
      bias_ += known * off / truth.value, weight_ += known;
    }
  }
  void expect_true(const std::string& what) const {
    ASSERT_GT(weight_, 0);
    // Nine bounds in all (three scenes, three bounds): 3.2 standard deviations each leave one chance in 80
    // for all.
    constexpr double kBound = 3.2;
    const auto expect_share = [&](const char* how, double inside, double expected) {
      formula(std::string("Student's t with 15 degrees of freedom: the share ") + how);
      expect_published({what + ", " + std::to_string(static_cast<int>(count_)) + " readings",
                        "t distribution", expected, inside / count_,
                        kBound * std::sqrt(expected * (1 - expected) / count_),
                        "3.2 standard deviations of a share, nine bounds in all", true});
    };
    expect_share("within one standard error", one_, 0.6668);
    expect_share("within two standard errors", two_, 0.9361);
    EXPECT_LE(std::abs(bias_ / weight_), 1e-3 + kBound / std::sqrt(weight_)) << what << ": bias";
    std::printf("  %s: bias %.2g %%, known to %.2g %%\n", what.c_str(), 100 * bias_ / weight_,
                100 / std::sqrt(weight_));
  }

 private:
  double count_ = 0, one_ = 0, two_ = 0, bias_ = 0, weight_ = 0;
};

void expect_true(const std::string& what, const ProgramReadings& readings,
                 const std::vector<Reference>& references) {
  Spread spread;
  spread.add(readings, references);
  spread.expect_true(what);
}

TEST(TrueErrorBarsSlow, InABoxOfUnlikeWallsAgainstRadiosity) {
  const Vector3d size(0.6, 0.5, 1.2), lamp(0.2, 0.3, 0.6);
  const std::vector<double> reflectances = {0.2, 0.8, 0.5, 0.4, 0.7, 0.6};
  ProgramScene scene;
  scene.tolerance = "2 %";
  scene.size = yaml_list(list_of(size));
  scene.sections = "materials:\n";
  for (const double reflectance : reflectances)
    scene.sections += "  m" + std::to_string(static_cast<int>(100 * reflectance + 0.5)) +
                      ": {surface: matte, reflectance: " + std::to_string(reflectance) + "}\n";
  scene.faces = "floor: m20, top: m80, left: m50, right: m40, front: m70, back: m60";
  scene.add_lamp("lamp", "shape: point", "form: isotropic", "radiant_flux: 1000 W", list_of(lamp));
  const auto sensors = sensors_in({0.06, 0.06, 0.06}, {0.54, 0.44, 1.14}, 90, 5);
  add_points(scene, sensors);
  const Radiosity::Direct direct = [&](const Vector3d& at, const Vector3d& normal) {
    const Vector3d way = lamp - at;
    return 1000 / (4 * pi) * std::max(0.0, normal.dot(way)) / std::pow(way.norm(), 3);
  };
  const auto walls = box_walls(size, reflectances);
  const Radiosity coarse(walls, 4, direct), fine(walls, 6, direct);
  std::vector<Reference> references;
  for (const Sensor& s : sensors) {
    const double value = fine.irradiance(s.at, s.normal);
    references.push_back({value, std::abs(value - coarse.irradiance(s.at, s.normal))});
    EXPECT_LT(references.back().error, 4e-3 * value) << "the reference itself";
  }
  // Seeds are independent of each other: together they tell four times as much.
  Spread spread;
  for (const int seed : {1, 2, 3, 4}) {
    scene.seed = seed;
    spread.add(ProgramReadings(scene), references);
  }
  spread.expect_true("box of unlike walls, four seeds");
}

TEST(TrueErrorBarsSlow, UnderAPanelHalfHiddenAgainstLambertsFormula) {
  ProgramScene scene;
  scene.tolerance = "2 %";
  const Vector3d from(0.3, 0.2, 0.75), to(0.8, 0.75, 0.75), aside(2, -1.8, 0), corner(0.2, 0.35, 0.9);
  const Vector3d length(0.6, 0, 0), width(0, 0.3, 0);
  scene.sections =
      "materials:\n  black: {surface: matte, reflectance: 0}\nboards:\n  - {name: board, corner: " +
      yaml_list(list_of(from - 3 * (to - from))) + ", edges: [" + yaml_list(list_of(7 * (to - from))) + ", " +
      yaml_list(list_of(aside)) + "], material: black}\n";
  scene.add_lamp("panel", "shape: rectangle, length: 0.6 m, width: 0.3 m", "", "radiant_flux: 180 W",
                 {0.5, 0.5, 0.9});
  std::vector<Sensor> sensors;
  std::vector<Reference> references;
  for (const Sensor& s : sensors_in({0.1, 0.2, 0.1}, {0.6, 0.8, 0.7}, 400, 6)) {
    Vector3d side = (from - s.at).cross(to - s.at);
    if (side.dot(from + aside - s.at) > 0) side = -side;
    auto seen = part_above(s.at, side, {corner, corner + length, corner + length + width, corner + width});
    if (!seen.empty()) seen = part_above(s.at, s.normal, seen);
    if (seen.empty() || sensors.size() == 70) continue;
    sensors.push_back(s);
    references.push_back({1000 * polygon_factor(s.at, s.normal, seen), 0});
  }
  add_points(scene, sensors);
  expect_true("panel half hidden", ProgramReadings(scene), references);
}

TEST(TrueErrorBarsSlow, AmongLeavesUnderAMeshAgainstAHundredTimesTheRays) {
  ProgramScene scene;
  scene.tolerance = "2 %";
  scene.size = "[0.6, 0.5, 0.9]";
  scene.sections =
      "materials:\n  wall: {surface: matte, reflectance: 0.3}\n"
      "  mesh: {surface: mesh, wire: 0.28 mm, pitch: 1.4 mm, reflectance: 0.4}\n"
      "  leafy: {surface: leaf, reflectance: 0.1, transmittance: 0.05}\n"
      "branches:\n  - {name: bough, path: [[0.1, 0.2, 0.6], [0.5, 0.3, 0.65]], diameter: 0.03, material: "
      "wall}\n"
      "plants:\n  - name: bush\n"
      "    crown: {at: [0.35, 0.25, 0.4], radii: [0.2, 0.2, 0.25], leaf_area: 0.3 m2, seed: 5}\n"
      "    leaf: {length: 0.06, width: 0.03, material: leafy}\n";
  scene.faces = "floor: wall, top: mesh, left: wall, right: mesh, front: mesh, back: wall";
  scene.add_lamp("tube", "shape: tube, length: 0.5 m, diameter: 26 mm", "", "radiant_flux: 1000 W",
                 {0.3, 0.25, 0.93}, "along: x");
  const auto sensors = sensors_in({0.02, 0.02, 0.02}, {0.58, 0.48, 0.57}, 50, 7);
  add_points(scene, sensors);
  const ProgramReadings readings(scene);

  const TemporaryFolder folder;
  for (const auto& [name, text] : scene.files) write_file(folder.path() / name, text);
  write_file(folder.path() / "scene.yaml", scene.text());
  const Scene loaded = load_scene(folder.path() / "scene.yaml");
  const LightField field(loaded, Importance{{Spectral::Constant(1.0f / kBins)}});
  std::vector<Receiver> receivers;
  for (std::size_t i = 0; i < sensors.size(); ++i)
    receivers.push_back(
        fixed_receiver(sensors[i].at.cast<float>(), sensors[i].normal.cast<float>(), mix64(987654321, i)));
  const auto responses =
      gather(field, receivers, std::vector(receivers.size(), GatherEffort{1 << 13, 25600}));
  std::vector<Reference> references;
  for (const Response& response : responses) {
    double sum = 0, squares = 0;
    for (int k = 0; k < kReplicates; ++k) {
      const auto bin = bin_of(550);
      const double value = 1000 * static_cast<double>(response.direct[response.at(k, 0)][bin] +
                                                      response.indirect[response.at(k, 0)][bin]);
      sum += value, squares += value * value;
    }
    const double mean = sum / kReplicates;
    references.push_back(
        {mean, std::sqrt(std::max(0.0, squares / kReplicates - mean * mean) / (kReplicates - 1))});
  }
  expect_true("leaves under a mesh", readings, references);
}

}  // namespace
}  // namespace boughlight
