// OBJ files where they stand in a scene, and what is said of their faults.
#include "scene_files.h"
#include "shell_kit.h"

namespace boughlight {
namespace {

using Texts = std::vector<std::string>;

// A brick from (0, 0, 0) to (4, 3, 2), its faces with textures, normals and corners counted backwards.
const std::string kBrick = R"(# a brick
mtllib brick.mtl
o brick
v 0 0 0
v 4 0 0 1.0
v 4 3 0 0.5 0.5 0.5
v 0 3 0
v 0 0 2
v 4 0 2
v +4.0e0 30e-1 2.
v 0 3 2
vt 0 0
vn 0 0 1
g sides
usemtl clay
s off
f 4/1/1 3/1/1 2/1/1 1/1/1
f 5 6 7 8
f 1//1 2//1 6//1 5//1
f 2/1 3/1 7/1 6/1
f -6 -5 -1 -2
f 4 1 5 8
)";

class ModelFile {
 public:
  explicit ModelFile(const std::string& obj) { folder_.write("thing.obj", obj); }
  Scene load(const std::string& fields, const std::string& more = "") const {
    folder_.write("scene.yaml", kCabinet + "models: [{name: thing, file: thing.obj, material: bark, " +
                                    fields + "}]\n" + more);
    return load_scene(folder_.path() / "scene.yaml");
  }
  Texts mistakes(const std::string& fields = "at: [10, 10, 0]") const {
    return folder_.mistakes(kCabinet + "models: [{name: thing, file: thing.obj, material: bark, " + fields +
                            "}]\n");
  }

 private:
  TempFolder folder_;
};

void expect_box(const Scene& scene, const Vec3& low, const Vec3& high) {
  ASSERT_EQ(scene.models.size(), 1u);
  const Shell& shell = *scene.models[0].shell;
  EXPECT_TRUE(shell.low().isApprox(low, 1e-6)) << shell.low().transpose();
  EXPECT_TRUE(shell.high().isApprox(high, 1e-6)) << shell.high().transpose();
}

TEST(LoadModel, StandsAtItsPlaceInTheScenesUnitTimesScale) {
  const ModelFile brick(kBrick);
  const Scene scene = brick.load("at: [10, 20, 30]");
  expect_box(scene, {0.10, 0.20, 0.30}, {0.14, 0.23, 0.32});
  const Shell& shell = *scene.models[0].shell;
  EXPECT_EQ(shell.triangles().size(), 12u);
  EXPECT_TRUE(shell.closed());
  EXPECT_EQ(shell.turned_edges(), 0u);
  EXPECT_NEAR(shell.signed_volume(), 24e-6, 1e-10);  // places in single precision: 3e-8 m of 2 cm
  EXPECT_EQ(scene.models[0].file, "thing.obj");
  EXPECT_EQ(scene.materials[static_cast<std::size_t>(scene.models[0].material)].name, "bark");
  EXPECT_TRUE(scene.notes.empty() || scene.notes == Texts{"the scene has no lamps"});
  expect_box(brick.load("at: [10, 20, 30], scale: 2.5"), {0.10, 0.20, 0.30}, {0.20, 0.275, 0.35});
}

TEST(LoadModel, ABareTurnIsAboutTheUprightAxisAntiClockwiseFromAbove) {
  const ModelFile brick(kBrick);
  expect_box(brick.load("at: [10, 20, 30], turn: 90 deg"), {0.07, 0.20, 0.30}, {0.10, 0.24, 0.32});
  expect_box(brick.load("at: [10, 20, 30], turn: -90 deg"), {0.10, 0.16, 0.30}, {0.13, 0.20, 0.32});
}

TEST(LoadModel, ThreeTurnsAreAboutXThenYThenZOfTheScene) {
  const ModelFile brick(kBrick);
  // About x: y to z. The 3 of depth stand up, the 2 of height go to the front.
  expect_box(brick.load("at: [10, 20, 30], turn: [90 deg, 0 deg, 0 deg]"), {0.10, 0.18, 0.30},
             {0.14, 0.20, 0.33});
  // About y: z to x.
  expect_box(brick.load("at: [10, 20, 30], turn: [0 deg, 90 deg, 0 deg]"), {0.10, 0.20, 0.26},
             {0.12, 0.23, 0.30});
  // (x, y, z) -> about x (x, -z, y) -> about z (z, x, y).
  expect_box(brick.load("at: [10, 20, 30], turn: [90 deg, 0 deg, 90 deg]"), {0.10, 0.20, 0.30},
             {0.12, 0.24, 0.33});
}

TEST(LoadModel, UpYStandsTheFilesYAxisUp) {
  const ModelFile brick(kBrick);
  // The file's z, which comes towards one who looks along -z, points to the front.
  expect_box(brick.load("at: [10, 20, 30], up: y"), {0.10, 0.18, 0.30}, {0.14, 0.20, 0.33});
  expect_box(brick.load("at: [10, 20, 30], up: z"), {0.10, 0.20, 0.30}, {0.14, 0.23, 0.32});
  // The turn comes after: about the scene's z.
  expect_box(brick.load("at: [10, 20, 30], up: y, turn: 90 deg"), {0.10, 0.20, 0.30}, {0.12, 0.24, 0.33});
}

TEST(LoadModel, ClosedOnesAreSolid) {
  const Scene scene = ModelFile(kBrick).load("at: [10, 20, 30], scale: 2");
  EXPECT_TRUE(scene.inside_solid({0.12, 0.22, 0.31}));
  EXPECT_FALSE(scene.inside_solid({0.12, 0.22, 0.35}));
}

TEST(LoadModel, FacesOfAnyCornersAndLineEndsAreRead) {
  // An L of one face, turned up by a y-up program, with Windows and old Macintosh line ends.
  const std::string l = "v 0 0 0\r\nv 3 0 0\r\nv 3 1 0\rv 1 1 0\nv 1 2 0\n\n# end\nv 0 2 0\nf 1 2 3 4 5 6";
  const Scene scene = ModelFile(l).load("at: [10, 20, 30]");
  EXPECT_EQ(scene.models[0].shell->triangles().size(), 4u);
  EXPECT_NEAR(scene.models[0].shell->area(), 4e-4, 1e-9);
}

TEST(LoadModel, FaultsOfTheSurfaceAreNoted) {
  const auto notes = [](const std::string& obj, const std::string& fields = "at: [10, 20, 30]") {
    return ModelFile(obj)
        .load(fields, "lamps: [{name: l, fixture: tube-uv-55, over: {x: 45, y: 20, gap: 5}}]\n")
        .notes;
  };
  EXPECT_EQ(notes(kBrick), Texts{});
  std::string open = kBrick;
  open.erase(open.find("f 5 6 7 8\n"), 10);
  EXPECT_EQ(notes(open),
            Texts{"model 'thing' is not closed: 4 edges of its surface are open, the first at 12, 20, 32 "
                  "cm (thing.obj line 18); it stops light, but it encloses nothing, and places within it "
                  "count as open air"});
  std::string turned = kBrick;
  turned.replace(turned.find("f 5 6 7 8"), 9, "f 8 7 6 5");
  EXPECT_EQ(notes(turned),
            Texts{"model 'thing' has 4 edges between faces that look to opposite sides, the first at "
                  "10, 21.5, 32 cm (thing.obj line 18); both sides of a face reflect alike, so no figure "
                  "changes"});
  EXPECT_EQ(notes(kBrick + "f 1 1 2\n"),
            Texts{"model 'thing' has 1 triangle without area, which nothing meets"});
  EXPECT_EQ(
      notes(kit::box_surface({5, 5, 5}).inside_out().obj(), "at: [10, 20, 30]"),
      Texts{"model 'thing' is inside out: its faces look inwards; both sides of a face reflect alike, so no "
            "figure changes"});
  EXPECT_EQ(notes(kBrick, "at: [10, 20, 30], scale: 0.1"),
            Texts{"model 'thing' is only 4 mm across: the file's numbers are taken in cm, times scale"});
  EXPECT_EQ(notes(kBrick, "at: [88, 20, 30]"), Texts{"model 'thing' stands 2 cm out of the enclosure"});
  EXPECT_EQ(notes(kBrick, "at: [188, 20, 30]"), Texts{"model 'thing' is outside the enclosure"});
}

TEST(LoadModel, WhatIsInsideAModelIsNoted) {
  const Scene scene = ModelFile(kBrick).load(
      "at: [40, 20, 100], scale: 2",
      "perches: [{name: p, at: [42, 22, 101]}]\npoints: [{name: q, at: [43, 23, 102]}]\n"
      "animal: {back: 1, reach: 1}\n"
      "lamps: [{name: l, fixture: tube-uv-55, at: [43, 25, 103.5]}]\n");
  EXPECT_EQ(scene.notes, (Texts{"perch 'p' is on nothing: there is no branch or board",
                                "perch 'p', where the back is, is inside model 'thing': it reads nothing",
                                "point 'q' is inside model 'thing': it reads nothing",
                                "lamp 'l' is inside model 'thing': its light stays in there"}));
}

const std::string kLamp = "lamps: [{name: l, fixture: tube-uv-55, over: {x: 45, y: 20, gap: 5}}]\n";

TEST(LoadModel, ASlabThroughTheEnclosureIsNotOutsideIt) {
  // No corner of it is inside. A shell that holds the whole enclosure is not outside either.
  const auto notes = [](const Vec3& size) {
    return ModelFile(kit::box_surface(size).obj()).load("at: [45, 27, 50]", kLamp).notes;
  };
  EXPECT_EQ(notes({200, 200, 4}), Texts{"model 'thing' stands 91.4 cm out of the enclosure"});
  EXPECT_EQ(notes({200, 200, 300}), (Texts{"model 'thing' stands 135 cm out of the enclosure",
                                           "lamp 'l' is inside model 'thing': its light stays in there"}));
}

TEST(LoadModel, WhatStandsOnItsSurfaceIsNotInsideIt) {
  // The brick's top is at 0.3 m, which single precision rounds up.
  const Scene scene = ModelFile(kBrick).load(
      "at: [40, 20, 28]",
      "points: [{name: top, at: [42, 21, 30]}, {name: side, at: [40, 21, 29], facing: [-1, 0, 0]}, "
      "{name: foot, at: [42, 21, 28], facing: [0, 0, -1]}, {name: within, at: [42, 21, 29]}]\n" +
          kLamp);
  EXPECT_EQ(scene.notes, Texts{"point 'within' is inside model 'thing': it reads nothing"});
}

TEST(WrongModel, FieldsAreTold) {
  const TempFolder folder;
  folder.write("thing.obj", kBrick);
  const std::string sound = "name: thing, file: thing.obj, at: [1, 1, 1]";
  expect_mistakes(
      folder,
      {{"models: [{" + sound + ", material: bark}]\n", {}},
       {"models: [{name: thing, file: other.obj, at: [1, 1, 1], material: bark}]\n",
        {"scene.yaml:3:30: models[0].file: there is no file 'other.obj'"}},
       {"models: [{name: thing, at: [1, 1, 1], material: bark}]\n",
        {"scene.yaml:3:10: models[0]: 'file' is missing: the name of an OBJ file"}},
       {"models: [{" + sound + ", material: mesh-fine}]\n",
        {"scene.yaml:3:66: models[0].material: 'mesh-fine' is a material of kind mesh; matte is allowed "
         "here"}},
       {"models: [{" + sound + ", material: bark, scale: 0}]\n",
        {"scene.yaml:3:79: models[0].scale: '0' is not allowed: it must be more than 0 and at most 1 000 "
         "000"}},
       {"models: [{" + sound + ", material: bark, turn: 30}]\n",
        {"scene.yaml:3:78: models[0].turn: '30' needs a unit: angles take rad or deg"}},
       {"models: [{" + sound + ", material: bark, turn: [30 deg, 5 deg]}]\n",
        {"scene.yaml:3:78: models[0].turn: is a list of 2; an angle about z, or the angles about x, y and z "
         "is needed "
         "here"}},
       {"models: [{" + sound + ", material: bark, up: x}]\n",
        {"scene.yaml:3:76: models[0].up: is 'x'; z or y is allowed"}},
       {"models: [{" + sound + ", material: bark, scale: 1000}]\n",
        {"scene.yaml:3:79: models[0].scale: the model is 40 m across; at most 20 m is allowed (the file's "
         "numbers are "
         "in cm, the scene's length_unit, times scale)"}},
       {"models: [{" + sound +
            ", material: bark}]\nboards: [{name: thing, corner: [0, 0, 0], edges: [[9, 0, 0], "
            "[0, 9, 0]], material: cork}]\n",
        {"scene.yaml:3:17: models[0].name: the name 'thing' is used twice: first in line 4 "
         "(boards[0].name)"}}});
}

TEST(WrongModel, TheFilesMistakesAreToldWithItsLines) {
  const auto told = [](const std::string& obj, const Texts& mistakes) {
    EXPECT_EQ(ModelFile(obj).mistakes(), mistakes) << obj;
  };
  const std::string three = "v 0 0 0\nv 1 0 0\nv 0 1 0\n";
  told("", {"thing.obj: holds no face (no line that starts with 'f')"});
  told(three, {"thing.obj: holds no face (no line that starts with 'f')"});
  told("boughlight: 1\ntitle: x\n",
       {"thing.obj:1:1: 'boughlight:' does not start a line of an OBJ file: is this one?"});
  told(std::string("v 0 0 0\n\0", 9), {"thing.obj: is not a text file"});
  told(three + "f 1 2 9\n", {"thing.obj:4: names vertex 9, but the file has only 3"});
  told(three + "f 1 2 -4\n", {"thing.obj:4: names vertex -4, but only 3 come before it"});
  told("f 1 2 3\n" + three, {});
  told(three + "f 1 2 0\n", {"thing.obj:4:7: '0' is not a corner: a vertex's number (from 1, or from -1 "
                             "backwards) is needed, with or "
                             "without /texture/normal"});
  for (const char* corner : {"3/", "3//", "3/1/", "3/1/1/1", "3.5", "x", "99999999999"}) {
    told(three + "f 1 2 " + corner + "\n",
         {std::string("thing.obj:4:7: '") + corner +
          "' is not a corner: a vertex's number (from 1, or from -1 backwards) is needed, with or without "
          "/texture/normal"});
  }
  told(three + "f 1 2\n", {"thing.obj:4:1: a face has three corners or more, but this one has 2"});
  told("v 0 0\nv 1 0 nan\nv 0 inf 0\nv 0 1e999 0\nv 1 0 0,5\nf 1 2 3\n",
       {"thing.obj:1:1: a vertex has three numbers, but this one has 2",
        "thing.obj:2:7: 'nan' is not a finite number", "thing.obj:3:5: 'inf' is not a finite number",
        "thing.obj:4:5: '1e999' is not a finite number", "thing.obj:5:7: '0,5' is not a finite number"});
  told(three + "face 1 2 3\nf 1 2 3\n", {"thing.obj:4:1: 'face' does not start a line of an OBJ file"});
  told(three + "f 1 2 \\\n3\n", {"thing.obj:4:7: goes on in the next line ('\\'): write it on one line",
                                 "thing.obj:5:1: '3' does not start a line of an OBJ file"});
  told(three + "cstype bezier\nf 1 2 3\n",
       {"thing.obj:4:1: belongs to a free-form surface: only flat faces are read, so export it as those"});
  told("v 0 0 0\nv 1 1 0\nv 1 0 0\nv 0 1 0\nf 1 2 3 4\n",
       {"thing.obj:5: the outline of this face crosses itself: cut it into triangles"});
  told("v 0 0 0\nv 1 0 0\nv 2 0 0\nf 1 2 3\n",
       {"scene.yaml:3:30: models[0].file: no face of the model has an area"});
  // A scan in a map's coordinates.
  told("v 500000 0 0\nv 500001 0 0\nv 500000 1 0\nf 1 2 3\n",
       {"scene.yaml:3:30: models[0].file: the model lies 5000 m from the scene's origin; at most 100 m is "
        "allowed "
        "('at' is where the file's own origin comes to stand)"});
}

TEST(WrongModel, ManyMistakesAreNotAllListed) {
  std::string text;
  for (int i = 0; i < 50; ++i) text += "v 0 0 x\n";
  const Texts mistakes = ModelFile(text).mistakes();
  ASSERT_EQ(mistakes.size(), 21u);
  EXPECT_EQ(mistakes.back(), "thing.obj:21:7: there are more mistakes than are listed here");
}

TEST(WrongModel, AFileUsedTwiceIsToldOnce) {
  const TempFolder folder;
  folder.write("thing.obj", "v 0 0 x\n");
  EXPECT_EQ(
      folder.mistakes(kCabinet + "models:\n  - {name: a, file: thing.obj, at: [1, 1, 1], material: bark}\n"
                                 "  - {name: b, file: thing.obj, at: [9, 1, 1], material: bark}\n"),
      (Texts{"thing.obj:1:7: 'x' is not a finite number"}));
}

TEST(WrongModel, TooManyTrianglesAreRefused) {
  // A fan of 1000-cornered faces: 998 triangles each.
  std::string text;
  for (int i = 0; i < 1000; ++i) {
    const double angle = 6.283185307179586 * i / 1000;
    text += "v " + std::to_string(std::cos(angle)) + " " + std::to_string(std::sin(angle)) + " 0\n";
  }
  std::string face = "f";
  for (int i = 1; i <= 1000; ++i) face += " " + std::to_string(i);
  // Read before any is cut: the mistake comes at once.
  std::string many = text;
  for (int i = 0; i < 2005; ++i) many += face + "\n";
  EXPECT_EQ(
      ModelFile(many).mistakes(),
      (Texts{"thing.obj:3005: here the model passes 2000000 triangles, the most that all models together may "
             "have: simplify it"}));
  EXPECT_EQ(ModelFile(text + face + " 1\n").mistakes(),
            (Texts{"thing.obj:1001:1: this face has 1001 corners: cut it into faces of at most 1000"}));
}

}  // namespace
}  // namespace boughlight
