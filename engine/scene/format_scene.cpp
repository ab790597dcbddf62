// What a scene may hold, but for its lamps and materials.
#include "scene/format.h"
#include "scene/format_forms.h"
#include "scene/measured.h"

namespace boughlight::format {

namespace {

const Form kThickness = length_form(Range::between(1e-4, 2));
const Form kAnimalHeight = length_form(Range::between(0, 5));
const Form kBodySize = length_form(Range::above(0, 5));
const Form kLeafSize = length_form(Range::between(0.001, 2));
const Form kRoomAir = number_form(Dimension::air_temperature, Range::between(-40, 60));
const Form kTurn = number_form(Dimension::angle, Range::between(-2 * kPi, 2 * kPi));
const Form kAnySeed = whole_form(0, UINT64_MAX);
const Form kSide = word_form({"floor", "top", "front", "back", "left", "right"});

Forms facing() {
  return {word_form({"brightest", "up"}), direction_form()};
}

Forms any_surface() {
  return {material_form({"matte", "mesh", "pane", "leaf"})};
}

Forms list_of(std::string_view what, const Mapping& mapping, std::size_t fewest = 0) {
  return {list_form(what, {mapping_form(mapping)}, fewest)};
}

Key face(std::string_view side) {
  return {.name = side,
          .meaning = "the material of that side, or 'open' where there is none",
          .forms = {word_form({"open"}), any_surface()[0]},
          .left_out = "only where the neighbouring box covers the whole side"};
}

}  // namespace

const Mapping scene{
    .name = "scene",
    .meaning = "an enclosure with what is in it, its lamps, and what is wanted",
    .keys = {{"boughlight", true, "the version of the format: 1", {word_form({"1"})}},
             {"title", false, "what it is, for people", {name_form("a title", 200)}, {}, "none"},
             {"length_unit",
              false,
              "of bare lengths: m, cm, mm, in or ft",
              {word_form({"m", "cm", "mm", "in", "ft"})},
              "cm"},
             {"enclosure", true, "the boxes, from the floor up", list_of("a list of boxes", box, 1)},
             {"materials",
              false,
              "own ones, beside the library's",
              {named_form("a mapping of names to materials", {mapping_form(own_material)})},
              {},
              "the library's only"},
             {"branches", false, "round branches", list_of("a list of branches", branch), {}, "none"},
             {"boards", false, "thin boards", list_of("a list of boards", board), {}, "none"},
             {"models", false, "objects from OBJ files", list_of("a list of models", model), {}, "none"},
             {"plants", false, "crowns of leaves", list_of("a list of plants", plant), {}, "none"},
             {"perches", false, "where the animal sits", list_of("a list of perches", perch), {}, "none"},
             {"points", false, "bare sensor readings", list_of("a list of points", point), {}, "none"},
             {"animal",
              false,
              "what the animal needs and must not meet",
              {mapping_form(animal)},
              {},
              "the hottest reachable place is not looked for"},
             {"zones", false, "wants on shares of the enclosure", {mapping_form(zones)}, {}, "none"},
             {"lamps", false, "the lamps", list_of("a list of lamps", lamp), {}, "none"},
             {"room", false, "light from the room", {mapping_form(room)}, {}, "a dark room"},
             {"doubt",
              false,
              "how far what is declared may be off",
              {mapping_form(doubt)},
              {},
              "as each of its fields says"},
             {"measured",
              false,
              "what a meter found of lamps and meshes",
              {mapping_form(measured)},
              {},
              "as declared"},
             {"air",
              false,
              "the temperature of the room's air",
              {mapping_form(air)},
              {},
              "warmth is not estimated"},
             {"workplaces",
              false,
              "where a keeper works with doors open",
              list_of("a list of workplaces", workplace),
              {},
              "none"},
             {"survey",
              false,
              "spacing, tolerance and seed",
              {mapping_form(survey)},
              {},
              "as each of its fields says"},
             {"outlook",
              false,
              "the months ahead: growth and fouling",
              {mapping_form(outlook)},
              {},
              "as each of its fields says"}}};

const Mapping box{
    .name = "box",
    .meaning = "one box of the enclosure; each stands on the one before it",
    .keys = {{"box", true, "its name", {name_form()}},
             {"size", true, "[width, depth, height]", {sizes_form(Range::between(0.001, kLongest))}},
             {"offset",
              false,
              "[x, y] from the front-left corner of the box below",
              {tuple_form("[x, y]", {length_form(Range::between(-kLongest, kLongest)),
                                     length_form(Range::between(-kLongest, kLongest))})},
              "[0, 0]"},
             {"faces", true, "the material of each side that no other box covers", {mapping_form(faces)}}}};

const Mapping faces{
    .name = "faces",
    .meaning = "the material of each side of a box that no neighbouring box wholly covers",
    .keys = {face("floor"), face("top"), face("front"), face("back"), face("left"), face("right")},
    .some_required = true};

const Mapping branch{
    .name = "branch",
    .meaning = "a round branch",
    .keys = {{"name", true, "what it is called", {name_form()}},
             {"path",
              true,
              "two or more places [x, y, z] along its middle",
              {list_form("a list of places [x, y, z]", {place_form()}, 2)}},
             {"diameter", true, "its thickness", {kThickness}},
             {"material", true, "a matte or leaf material", {material_form({"matte", "leaf"})}}}};

const Mapping board{.name = "board",
                    .meaning = "a flat parallelogram without thickness",
                    .keys = {{"name", true, "what it is called", {name_form()}},
                             {"corner", true, "a corner [x, y, z]", {place_form()}},
                             {"edges",
                              true,
                              "the two edges [[x, y, z], [x, y, z]] from that corner",
                              {tuple_form("a pair of edges", {place_form(), place_form()})}},
                             {"material", true, "the name of a material", any_surface()}}};

const Mapping model{
    .name = "model",
    .meaning = "an object from an OBJ file: a stump, a rock, a hide",
    .keys = {
        {"name", true, "what it is called", {name_form()}},
        {"file", true, "the name of an OBJ file", {file_form("the name of an OBJ file")}},
        {"at", true, "the place [x, y, z] of the file's origin", {place_form()}},
        {"scale",
         false,
         "a factor on the file's numbers, 1 if not given",
         {number_form(Dimension::number, Range::above(0, 1e6))},
         "1"},
        {"turn",
         false,
         "an angle about z, or the angles about x, y and z",
         {kTurn, tuple_form("an angle about z, or the angles about x, y and z", {kTurn, kTurn, kTurn})},
         "0 deg"},
        {"up", false, "the file's axis that points up: z (if not given) or y", {word_form({"z", "y"})}, "z"},
        {"material", true, "a matte material", {material_form({"matte"})}}}};

const Mapping plant{
    .name = "plant",
    .meaning = "a crown of leaves and what it needs",
    .keys = {{"name", true, "what it is called", {name_form()}},
             {"crown", true, "its place, size and leaf area", {mapping_form(crown)}},
             {"leaf", true, "length, width and material of one leaf", {mapping_form(leaf)}},
             {"needs", false, "limits on what its crown gets", {mapping_form(needs())}, {}, "none"}}};

const Mapping crown{.name = "crown",
                    .meaning = "an ellipsoid of leaves that hang at random",
                    .keys = {{"at", true, "the crown's centre [x, y, z]", {place_form()}},
                             {"radii", true, "[x, y, z]", {sizes_form(Range::between(0.001, kLongest))}},
                             {"leaf_area",
                              true,
                              "of one side of all leaves, such as 0.35 m2",
                              {number_form(Dimension::area, Range::above(0, 1e4))}},
                             {"growth",
                              false,
                              "1 as planted, 2 with twice the radii",
                              {number_form(Dimension::number, Range::above(0, 10))},
                              "1"},
                             {"seed",
                              false,
                              "a whole number that fixes where the leaves hang",
                              {kAnySeed},
                              {},
                              "made from the plant's name"}}};

const Mapping leaf{.name = "leaf",
                   .meaning = "one leaf",
                   .keys = {{"length", true, "of one leaf", {kLeafSize}},
                            {"width", true, "of one leaf", {kLeafSize}},
                            {"material", true, "a material of kind leaf", {material_form({"leaf"})}}}};

const Mapping perch{
    .name = "perch",
    .meaning = "a place where the animal sits; it is read at the height of its back",
    .keys = {{"name", true, "what it is called", {name_form()}},
             {"at", true, "the place [x, y, z] on the branch", {place_form()}},
             {"along",
              false,
              "the branch's direction there",
              {word_form({"x", "y", "z"}), direction_form()},
              {},
              "along the branch or board it is on"},
             {"facing", false, "brightest, up or a direction [x, y, z]", facing(), "brightest"},
             {"wants",
              false,
              "limits on what the animal gets",
              {mapping_form(wants(WantRules::any))},
              {},
              "none"}}};

const Mapping point{.name = "point",
                    .meaning = "a bare sensor, inside or outside",
                    .keys = {{"name", true, "what it is called", {name_form()}},
                             {"at", true, "the place [x, y, z] of the sensor", {place_form()}},
                             {"facing", false, "up, brightest or a direction [x, y, z]", facing(), "up"},
                             {"wants",
                              false,
                              "limits on what the sensor reads",
                              {mapping_form(wants(WantRules::any))},
                              {},
                              "none"}}};

const Mapping animal{
    .name = "animal",
    .meaning = "the animal: its size, what it asks for and how it gets about",
    .keys = {{"back", false, "the height of its back above what it sits on", {kAnimalHeight}, "0"},
             {"body", false, "its length and height", {mapping_form(body)}, {}, "the body is not looked at"},
             {"sizes",
              false,
              "further sizes of it, such as a juvenile's",
              list_of("a list of sizes", animal_size),
              {},
              "none"},
             {"basking",
              false,
              "limits that a basking place meets",
              {mapping_form(wants(WantRules::instant))},
              {},
              "none"},
             {"refuge",
              false,
              "limits that a refuge meets",
              {mapping_form(wants(WantRules::instant))},
              {},
              "none"},
             {"never",
              false,
              "what no reachable place may exceed",
              {mapping_form(wants(WantRules::never))},
              {},
              "none"},
             {"reach", false, "how near it comes to faces and lamps", {kAnimalHeight}, "0"},
             {"stride",
              false,
              "the widest gap between branches that it crosses",
              {kAnimalHeight},
              {},
              "the length of the body; without one, survey.spacing"}}};

const Mapping body{.name = "body",
                   .meaning = "the animal's outline",
                   .keys = {{"length", true, "from snout to vent", {kBodySize}},
                            {"height", true, "of the body", {kBodySize}}}};

const Mapping animal_size{
    .name = "size",
    .meaning = "another size of the animal, read at the perches",
    .keys = {
        {"name", true, "what this size is called, such as juvenile", {name_form()}},
        {"back", true, "the height of its back above what it sits on", {kAnimalHeight}},
        {"body", false, "its length and height", {mapping_form(body)}, {}, "the body is not looked at"}}};

const Mapping zones{
    .name = "zones",
    .meaning = "wants on shares of the enclosure",
    .keys = {{"basking", false, "wants on the basking zone", {mapping_form(zone_shares)}, {}, "none"},
             {"refuge", false, "wants on the refuge", {mapping_form(zone_shares)}, {}, "none"}}};

const Mapping zone_shares{
    .name = "zone-shares",
    .meaning = "how much of the enclosure a zone takes up",
    .keys = {{"volume", false, "its share of the free volume", share_limits_forms(), {}, "none"},
             {"perch", false, "its share of branches and boards by length", share_limits_forms(), {}, "none"},
             {"each_level", false, "its share at every level", share_limits_forms(), {}, "none"}}};

const Mapping doubt{
    .name = "doubt",
    .meaning = "how far what is declared may be off, one standard deviation each",
    .keys = {{"lamp", false, "output of lamps of one type", {ratio_form()}, "15 %"},
             {"ageing", false, "output, by age, of a lamp that has burned", {ratio_form()}, "8 %"},
             {"mesh", false, "what a mesh lets through", {ratio_form()}, "10 %"},
             {"surfaces", false, "light that walls and leaves reflect", {ratio_form()}, "15 %"},
             // Whoever knows a place no better than half a metre has no plan yet.
             {"position",
              false,
              "the height of lamps and readings, a length",
              {length_form(Range::between(0, 0.5))},
              "1 cm"}}};

const Mapping measured{
    .name = "measured",
    .meaning = "what a meter found, as factors on what is declared; `boughlight fit` writes it",
    .keys = {{"lamps",
              false,
              "factors on the output of lamps, by name",
              {named_form("a mapping of lamps to factors", {mapping_form(measured_lamp)})},
              {},
              "as declared"},
             {"meshes",
              false,
              "factors on what meshes let through, by material",
              {named_form("a mapping of meshes to factors", {mapping_form(measured_mesh)})},
              {},
              "as declared"}}};

const Mapping measured_lamp{
    .name = "measured-lamp",
    .meaning = "what a meter found of one lamp",
    .keys = {
        {"factor",
         true,
         "times what its fixture gives, or one for each of its parts",
         {ratio_form(Range::between(kLeastMeasured, kMostMeasured)),
          named_form("a factor for each part", {ratio_form(Range::between(kLeastMeasured, kMostMeasured))})}},
        {"spread",
         false,
         "the doubt left in it, one standard deviation",
         {ratio_form()},
         {},
         "as declared"}}};

const Mapping measured_mesh{.name = "measured-mesh",
                            .meaning = "what a meter found of one mesh",
                            .keys = {{"factor",
                                      true,
                                      "times what one layer lets through",
                                      {ratio_form(Range::between(kLeastMeasured, kMostMeasured))}},
                                     {"spread",
                                      false,
                                      "the doubt left in it, one standard deviation",
                                      {ratio_form()},
                                      {},
                                      "as declared"}}};

const Mapping air{
    .name = "air",
    .meaning = "the room's air",
    .keys = {{"day", true, "the room's air by day, such as 24 C", {kRoomAir}},
             {"night", false, "at its lowest at night", {kRoomAir}, {}, "not looked at"},
             {"hot", false, "on the hottest day that is expected", {kRoomAir}, {}, "not looked at"},
             {"cold", false, "on the coldest day that is expected", {kRoomAir}, {}, "not looked at"},
             {"warm_from",
              false,
              "the clock time from which it is as warm as by day",
              {clock_time_form()},
              {},
              "not looked at"}}};

const Mapping workplace{
    .name = "workplace",
    .meaning = "where a keeper's face or hands are at work",
    .keys = {{"name", true, "what it is called", {name_form()}},
             {"at", true, "the place [x, y, z] of face or hands", {place_form()}},
             {"facing", false, "brightest, up or a direction [x, y, z]", facing(), "brightest"},
             {"open",
              false,
              "the doors that are open, such as {cage: [front]}",
              {named_form("a mapping of boxes to faces, {cage: [front]},",
                          {kSide, list_form("a list of faces such as [front]", {kSide})})},
              {},
              "all closed"},
             {"daily",
              false,
              "the time at work there each day, such as 10 min",
              {number_form(Dimension::duration, Range::between(0, 24))},
              "0 h"}}};

const Mapping survey{
    .name = "survey",
    .meaning = "how finely and how surely it is worked out",
    .keys = {
        {"spacing", false, "of the grid and along branches", {length_form(Range::between(0.002, 1))}, "5 cm"},
        {"tolerance",
         false,
         "the standard error asked for",
         {ratio_form(Range::between(0.0005, 0.5))},
         "2 %"},
        {"seed", false, "a whole number that fixes the run", {kAnySeed}, "1"}}};

}  // namespace boughlight::format
