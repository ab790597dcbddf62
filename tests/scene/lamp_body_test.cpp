// Bodies of lamps: where they are, and what is said of them.
#include <numbers>

#include "scene/oriented_box.h"
#include "scene_files.h"
#include "shell_kit.h"

namespace boughlight {
namespace {

using Texts = std::vector<std::string>;

std::string lamp_text(const std::string& body,
                      const std::string& emitter = "{shape: tube, length: 53 cm, diameter: 16 mm}") {
  return "fixture: 1\nemitter: " + emitter + "\nbody: " + body +
         "\nemission: [{part: light, spectrum: {blackbody: 2900 K}, output: {lux: 100, at: 50 cm}}]\n";
}
const std::string kBody = "{length: 60 cm, width: 8 cm, height: 5 cm, reflectance: 0.6}";

TEST(LampBody, IsReadWithItsReflectance) {
  const TempFolder folder;
  folder.write("lamp.yaml", lamp_text(kBody));
  const auto lamp = load_fixture("lamp.yaml", folder.path());
  ASSERT_TRUE(lamp->body);
  EXPECT_DOUBLE_EQ(lamp->body->length, 0.6);
  EXPECT_DOUBLE_EQ(lamp->body->width, 0.08);
  EXPECT_DOUBLE_EQ(lamp->body->height, 0.05);
  EXPECT_NEAR(lamp->body->reflectance.minCoeff(), 0.6, 1e-12);
  EXPECT_NEAR(lamp->body->reflectance.maxCoeff(), 0.6, 1e-12);
  folder.write(
      "lamp.yaml",
      lamp_text("{length: 60 cm, width: 8 cm, height: 5 cm, reflectance: [[400 nm, 0.1], [410 nm, 0.8]]}"));
  const auto table = load_fixture("lamp.yaml", folder.path())->body->reflectance;
  EXPECT_NEAR(table[bin_of(300)], 0.1, 1e-12);
  EXPECT_NEAR(table[bin_of(600)], 0.8, 1e-12);
}

TEST(LampBody, NoFixtureOfTheLibraryHasOneUnsaid) {
  for (const std::string& name : library_lamp_names()) EXPECT_FALSE(load_fixture(name, "")->body) << name;
}

TEST(LampBody, WrongOnesAreTold) {
  const TempFolder folder;
  const auto told = [&](const std::string& body, const Texts& mistakes) {
    EXPECT_EQ(folder.lamp_mistakes(lamp_text(body)), mistakes) << body;
  };
  told(kBody, {});
  told("{length: 60, width: 8 cm, height: 5 cm, reflectance: 0.6}",
       {"lamp.yaml:3:16: body.length: '60' needs a unit: lengths take m, cm, mm, um, in, inch or ft"});
  told("{length: 60 cm, width: 8 cm, height: 0 cm, reflectance: 0.6}",
       {"lamp.yaml:3:44: body.height: '0 cm' is not allowed: it must be from 1 mm to 10 m"});
  told("{length: 60 cm, width: 8 cm, height: 5 cm, reflectance: 1.2}",
       {"lamp.yaml:3:63: body.reflectance: '1.2' is not allowed: it must be from 0 to 1 (1 is 100 %)"});
  told("{length: 60 cm, width: 8 cm, height: 5 cm}",
       {"lamp.yaml:3:7: body: 'reflectance' is missing: a ratio such as 0.6, or a table against wavelength"});
  told("{length: 60 cm, width: 8 cm, height: 5 cm, reflectance: 0.6, colour: white}",
       {"lamp.yaml:3:68: body.colour: is an unknown key; allowed: length, width, height or reflectance"});
  told("white", {"lamp.yaml:3:7: body: is 'white'; a mapping with length, width, height or reflectance is "
                 "needed here"});
}

// A scene with two such lamps; `at` and what else is in their braces.
Scene two_lamps(const TempFolder& folder, const std::string& first, const std::string& second) {
  folder.write("lamp.yaml", lamp_text(kBody));
  folder.write("scene.yaml", kCabinet + "animal: {reach: 2}\nlamps:\n  - {name: a, fixture: ./lamp.yaml, " +
                                 first + "}\n  - {name: b, fixture: ./lamp.yaml, " + second + "}\n");
  return load_scene(folder.path() / "scene.yaml");
}

TEST(LampBody, BeginsBehindTheEmittersRearmostPart) {
  const TempFolder folder;
  const Scene scene = two_lamps(folder, "at: [45, 20, 130]", "at: [45, 20, 190], aim: [0, 1, 0], along: z");
  // The tube's axis is 8 mm in front of its rear.
  const OrientedBox down = *scene.lamps[0].body();
  EXPECT_NEAR(down.centre.x(), 0.45, 1e-12);
  EXPECT_NEAR(down.centre.y(), 0.20, 1e-12);
  EXPECT_GT(down.centre.z() - 0.025, 1.308);
  EXPECT_LT(down.centre.z() - 0.025, 1.3085);
  EXPECT_NEAR(down.extent(Vec3::UnitX()), 0.30, 1e-12);
  EXPECT_NEAR(down.extent(Vec3::UnitY()), 0.04, 1e-12);
  EXPECT_NEAR(down.extent(Vec3::UnitZ()), 0.025, 1e-12);
  // One that shines to the back, upright: its body is in front of it, that is at less y.
  const OrientedBox back = *scene.lamps[1].body();
  EXPECT_LT(back.centre.y() + 0.025, 0.192);
  EXPECT_NEAR(back.extent(Vec3::UnitZ()), 0.30, 1e-12);
  EXPECT_NEAR(back.extent(Vec3::UnitX()), 0.04, 1e-12);
}

TEST(LampBody, IsSolid) {
  const TempFolder folder;
  const Scene scene = two_lamps(folder, "at: [45, 20, 60]", "at: [45, 20, 190]");
  EXPECT_TRUE(scene.inside_solid({0.45, 0.20, 0.63}));
  EXPECT_TRUE(scene.inside_solid({0.74, 0.23, 0.655}));
  EXPECT_FALSE(scene.inside_solid({0.76, 0.20, 0.63}));
  EXPECT_FALSE(scene.inside_solid({0.45, 0.20, 0.59}));
}

TEST(LampBody, ThoseInTheWayAreNoted) {
  const TempFolder folder;
  const auto notes = [&](const std::string& first, const std::string& second) {
    return two_lamps(folder, first, second).notes;
  };
  EXPECT_EQ(notes("at: [45, 20, 130]", "at: [45, 30, 130]"), Texts{});
  EXPECT_EQ(notes("at: [45, 20, 130]", "at: [45, 28, 130]"), Texts{}) << "side by side";
  EXPECT_EQ(notes("at: [45, 20, 130]", "at: [45, 27, 131]"),
            Texts{"the bodies of the lamps 'a' and 'b' overlap"});
  EXPECT_EQ(notes("at: [45, 20, 130]", "at: [45, 20, 133]"),
            (Texts{"lamp 'b' is inside the body of lamp 'a': its light stays in there",
                   "the bodies of the lamps 'a' and 'b' overlap"}));
  EXPECT_EQ(notes("over: {x: 45, y: 20, gap: 0}", "at: [45, 20, 190]"), Texts{});
  EXPECT_EQ(notes("at: [45, 20, 107]", "at: [45, 20, 190]"),
            Texts{"the body of lamp 'a' goes through the top of box 'cabinet'"});
  // Aimed up from above: its body hangs below it, through the mesh.
  EXPECT_EQ(notes("over: {x: 45, y: 30, gap: 2}, aim: [0, 0, 1]", "at: [45, 20, 190]"),
            Texts{"the body of lamp 'a' goes through the top of box 'cabinet'"});
  // Half out of the front, which is open.
  EXPECT_EQ(notes("at: [45, 0, 60], aim: [0, 1, 0]", "at: [45, 20, 190]"), Texts{});
}

TEST(OrientedBox, OverlapsWhereTheyShareSpace) {
  OrientedBox a, b;
  a.half = Vec3(0.3, 0.04, 0.02), b.half = Vec3(0.3, 0.04, 0.02);
  // Crossed sticks, one above the other: apart by their thickness however they are turned.
  for (int degrees = 0; degrees <= 180; degrees += 15) {
    b.axes = Eigen::AngleAxisd(degrees * std::numbers::pi / 180, Vec3::UnitZ()).toRotationMatrix();
    b.centre = {0, 0, 0.041};
    EXPECT_FALSE(a.overlaps(b, 0)) << degrees;
    b.centre = {0, 0, 0.039};
    EXPECT_TRUE(a.overlaps(b, 0)) << degrees;
    EXPECT_FALSE(a.overlaps(b, 0.002)) << degrees;
  }
  // Two sticks that pass each other askew, told apart only by the direction square to both: edges meet edges.
  a.half = b.half = Vec3(1, 0.1, 0.1);
  a.axes = Eigen::AngleAxisd(std::numbers::pi / 4, Vec3::UnitX()).toRotationMatrix();
  b.axes.col(0) = Vec3::UnitY();
  b.axes.col(1) = Vec3(1, 0, 1).normalized();
  b.axes.col(2) = Vec3(1, 0, -1).normalized();
  const double touching = 2 * 0.1 * std::sqrt(2.0);
  b.centre = {0, 0, touching + 1e-3};
  EXPECT_FALSE(a.overlaps(b, 0));
  b.centre = {0, 0, touching - 1e-3};
  EXPECT_TRUE(a.overlaps(b, 0));
}

}  // namespace
}  // namespace boughlight
