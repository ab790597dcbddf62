// What a scene may say of the months ahead.
#include "scene/format.h"
#include "scene/format_forms.h"

namespace boughlight::format {

namespace {

const Form kMonths = number_form(Dimension::number, Range::above(0, 120));
// All of its light would leave a mesh nothing to lose.
const Form kFouling = ratio_form({0, 1, false, true});

}  // namespace

const Mapping outlook{
    .name = "outlook",
    .meaning = "the months ahead: growth and fouling",
    .keys = {{"months", false, "how far to look ahead, 12 if not given", {kMonths}, "12"},
             {"step", false, "months between two looks, 1 if not given", {kMonths}, "1"},
             {"fouling",
              false,
              "the share of its light that each layer of a mesh loses each month; for all, or by mesh",
              {kFouling, named_form("a mapping of meshes to ratios", {kFouling})},
              "3 %"},
             {"growing",
              false,
              "by plant: how it grows",
              {named_form("a mapping of plants to how they grow", {mapping_form(growing)})},
              {},
              "plants stay as they are"},
             {"animal",
              false,
              "by month: how large it has grown",
              {list_form("a list of sizes by month", {mapping_form(animal_ahead)})},
              {},
              "it stays as it is"}}};

const Mapping growing{
    .name = "growing",
    .meaning = "how a crown goes on growing",
    .keys = {{"form",
              false,
              "the growth function",
              {word_form({"logistic", "gompertz", "monomolecular"})},
              "logistic"},
             {"rate", true, "how fast it grows, such as 10 % a month", {ratio_form(Range::above(0, 5))}},
             {"largest",
              true,
              "the growth at which the crown stops, 2: twice its radii",
              {number_form(Dimension::number, Range::above(0, 10))}}}};

const Mapping animal_ahead{
    .name = "animal-ahead",
    .meaning = "the animal from a month on",
    .keys = {{"month", true, "from today", {kMonths}},
             {"back",
              true,
              "the height of its back above what it sits on then",
              {length_form(Range::between(0, 5))}},
             {"body", false, "its length and height then", {mapping_form(body)}, {}, "as it was before"}}};

}  // namespace boughlight::format
