// The animal's sizes and stride, and named ranges of the library, as scenes give them.
#include <algorithm>

#include "scene_files.h"

namespace boughlight {
namespace {

Scene load_with_lamp(const TempFolder& folder, const std::string& text) {
  return load_scene(folder.write("scene.yaml", kCabinet + text));
}

TEST(AnimalSizes, AreReadInTheScenesUnit) {
  const TempFolder folder;
  const Scene scene = load_with_lamp(folder,
                                     "animal:\n  back: 5\n  reach: 3\n  stride: 12\n  sizes:\n"
                                     "    - {name: hatchling, back: 1, body: {length: 4, height: 1 cm}}\n"
                                     "    - {name: juvenile, back: 20 mm}\n");
  ASSERT_EQ(scene.animal->sizes.size(), 2u);
  const AnimalSize& hatchling = scene.animal->sizes[0];
  EXPECT_EQ(hatchling.name, "hatchling");
  EXPECT_DOUBLE_EQ(hatchling.back, 0.01);
  EXPECT_DOUBLE_EQ(hatchling.body->first, 0.04);
  EXPECT_DOUBLE_EQ(hatchling.body->second, 0.01);
  EXPECT_DOUBLE_EQ(scene.animal->sizes[1].back, 0.02);
  EXPECT_FALSE(scene.animal->sizes[1].body);
  EXPECT_DOUBLE_EQ(*scene.animal->stride, 0.12);
}

TEST(AnimalSizes, AreNotedWhereThereIsNothingToReadThemAt) {
  const TempFolder folder;
  const Scene without =
      load_with_lamp(folder, "animal: {reach: 3, back: 5, sizes: [{name: juvenile, back: 2}]}\nlamps: []\n");
  EXPECT_EQ(without.notes.front(), "the size 'juvenile' is read at the perches, and the scene has none");
  const Scene outside = load_with_lamp(folder,
                                       "animal: {reach: 3, sizes: [{name: giant, back: 40}]}\n"
                                       "perches: [{name: top, at: [45, 30, 100]}]\n");
  EXPECT_TRUE(
      std::count(outside.notes.begin(), outside.notes.end(),
                 "on perch 'top' the back of the size 'giant', 40 cm above it, is outside the enclosure"));
}

TEST(WrongAnimalSizes, AreTold) {
  expect_mistakes(
      TempFolder(),
      {{"animal: {reach: 3, sizes: {juvenile: 2}}\n",
        {"scene.yaml:3:27: animal.sizes: is a mapping; a list of sizes is needed here"}},
       {"animal: {reach: 3, sizes: [{back: 2}, {name: adult}]}\n",
        {"scene.yaml:3:28: animal.sizes[0]: 'name' is missing: what this size is called, such as juvenile",
         "scene.yaml:3:39: animal.sizes[1]: 'back' is missing: the height of its back above what it sits "
         "on"}},
       {"animal: {reach: 3, sizes: [{name: young, back: 2}, {name: young, back: 3}]}\n",
        {"scene.yaml:3:59: animal.sizes[1].name: the name 'young' is used twice: first in line 3 "
         "(animal.sizes[0].name)"}},
       {"animal: {reach: 3, sizes: [{name: young, back: -2, age: 1}]}\n",
        {"scene.yaml:3:48: animal.sizes[0].back: '-2' is not allowed: it must be from 0 to 5 m",
         "scene.yaml:3:52: animal.sizes[0].age: is an unknown key; allowed: name, back or body"}},
       {"animal: {reach: 3, back: 5, sizes: [{name: grown, back: 5}]}\n",
        {"scene.yaml:3:37: animal.sizes[0]: the size 'grown' is the animal as it is declared: give it "
         "another "
         "'back' or 'body', or leave it out"}},
       {"animal: {reach: 3, back: 5, sizes: [{name: grown, back: 5, body: {length: 9, height: 2}}]}\n", {}},
       {"animal: {reach: 3, body: {length: 22 ft, height: 7}}\n",
        {"scene.yaml:3:35: animal.body.length: '22 ft' is not allowed: it must be more than 0 and at most 5 "
         "m"}},
       // 90 x 55 x 110 cm: 152 cm from corner to corner.
       {"animal: {reach: 3, body: {length: 1.53 m, height: 7}}\n",
        {"scene.yaml:3:35: animal.body.length: a body of 153 cm fits nowhere: the enclosure is 152 cm from "
         "corner to corner"}},
       {"animal: {reach: 3, stride: 6 m}\n",
        {"scene.yaml:3:28: animal.stride: '6 m' is not allowed: it must be from 0 to 5 m"}}});
}

const Want& want_on(const std::vector<Want>& wants, Quantity quantity) {
  return *std::find_if(wants.begin(), wants.end(),
                       [quantity](const Want& want) { return want.quantity == quantity; });
}

TEST(NamedRanges, StandWhereLimitsAreWritten) {
  const TempFolder folder;
  const Scene scene = load_with_lamp(
      folder,
      "perches: [{name: a, at: [45, 30, 50], wants: {uvi: {range: ferguson-zone-3-mean}}}]\n"
      "points: [{name: b, at: [45, 30, 50], wants: {uvi: {range: ferguson-zone-3-mean, max: 2}}}]\n"
      "animal:\n  reach: 3\n  basking: {uvi: {range: ferguson-zone-2-mean}}\n"
      "  never: {uvi: {range: ferguson-zone-2-maximum}}\n");
  const Want& perch = want_on(scene.perches[0].wants, Quantity::uvi);
  EXPECT_EQ(perch.limits.min, 1.0);
  EXPECT_EQ(perch.limits.max, 2.6);
  EXPECT_EQ(perch.range, "ferguson-zone-3-mean");
  const Want& point = want_on(scene.points[0].wants, Quantity::uvi);
  EXPECT_EQ(point.limits.min, 1.0);
  EXPECT_EQ(point.limits.max, 2.0) << "the keeper's own figure goes before the range's";
  EXPECT_EQ(scene.animal->basking[0].limits.max, 1.0);
  EXPECT_FALSE(scene.animal->never[0].limits.min) << "what may not be exceeded has one end";
  EXPECT_EQ(scene.animal->never[0].limits.max, 3.0);
}

TEST(NamedRanges, AreNotedOnceWithWhatSourcesSay) {
  const TempFolder folder;
  const Scene scene =
      load_with_lamp(folder,
                     "perches:\n"
                     "  - {name: a, at: [45, 30, 50], wants: {uvi: {range: ferguson-zone-1-mean}}}\n"
                     "  - {name: b, at: [45, 30, 60], wants: {uvi: {range: ferguson-zone-1-mean}}}\n");
  std::vector<std::string> notes;
  for (const std::string& note : scene.notes)
    if (note.find("the range") != std::string::npos) notes.push_back(note);
  ASSERT_EQ(notes.size(), 1u);
  EXPECT_EQ(
      notes[0].find("the range 'ferguson-zone-1-mean' (UV index 0 to 0.7) is a published scheme for groups "
                    "of species, not the need of your animal; sources differ: 0.4 to 0.7 ("),
      0u)
      << notes[0];
}

TEST(WrongNamedRanges, AreTold) {
  const auto point = [](const std::string& wants) {
    return "points: [{name: a, at: [1, 1, 1], wants: {" + wants + "}}]\n";
  };
  expect_mistakes(
      TempFolder(),
      {{point("uvi: {range: ferguson-zone-3-maen}"),
        {"scene.yaml:3:56: points[0].wants.uvi.range: there is no range 'ferguson-zone-3-maen' (did you mean "
         "'ferguson-zone-3-mean'?): 'boughlight library' lists them"}},
       {point("uvi: {range: desert}"),
        {"scene.yaml:3:56: points[0].wants.uvi.range: there is no range 'desert': 'boughlight library' lists "
         "them"}},
       {point("lux: {range: ferguson-zone-3-mean}"),
        {"scene.yaml:3:56: points[0].wants.lux.range: 'ferguson-zone-3-mean' is a range of uvi, not of lux: "
         "the "
         "library has none of that, so write the numbers"}},
       {point("uvi_hours: {range: ferguson-zone-3-mean}") + "lamps: []\n",
        {"scene.yaml:3:62: points[0].wants.uvi_hours.range: 'ferguson-zone-3-mean' is a range of uvi, not of "
         "uvi_hours: the library has none of that, so write the numbers"}},
       {point("uvi: {range: [1, 2]}"),
        {"scene.yaml:3:56: points[0].wants.uvi.range: is a list; the name of a range is needed here"}},
       {point("uvi: {range: ferguson-zone-3-mean, min: 3}"),
        {"scene.yaml:3:48: points[0].wants.uvi: the lower limit 3 is above the upper limit 2.6"}},
       {point("uvi: {range: ferguson-zone-3-mean, most: 3}"),
        {"scene.yaml:3:78: points[0].wants.uvi.most: is an unknown key; allowed: range, min or max"}},
       {"animal: {reach: 3, never: {uvi: {range: ferguson-zone-3-mean, min: 1}}}\n",
        {"scene.yaml:3:63: animal.never.uvi.min: is an unknown key; allowed: range or max"}},
       {"animal: {reach: 3, refuge: {uvi: {max: 1}}}\nzones: {refuge: {volume: {range: "
        "ferguson-zone-3-mean}}}\n",
        {"scene.yaml:4:27: zones.refuge.volume.range: is an unknown key; allowed: min or max"}}});
}

}  // namespace
}  // namespace boughlight
