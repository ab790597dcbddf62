// Everything that the files may hold: scenes, lamps (fixtures), materials and named ranges. This is the only
// list of the keys, their meanings, units, ranges and what holds where one is left out.
#pragma once

#include "scene/form.h"
#include "spectrum/quantity.h"

namespace boughlight {

enum class WantRules {
  any,      // perches, points, plants: every quantity
  instant,  // basking, refuge: no day quantities
  never     // uvi and irradiance, an upper limit only, a bare number being one
};

namespace format {

// A scene, and its parts in the order in which they stand there.
extern const Mapping scene;
extern const Mapping box, faces, branch, board, model, plant, crown, leaf, perch, point;
extern const Mapping animal, body, animal_size, zones, zone_shares;
extern const Mapping lamp, over, room, doubt, air, workplace, survey;
extern const Mapping outlook, growing, animal_ahead;
extern const Mapping measured, measured_lamp, measured_mesh;

// A lamp's file.
extern const Mapping fixture;
extern const Mapping emitter, distribution, part, filament, lamp_body, output;
extern const Mapping spectrum, band, blackbody, spectrum_table, spectrum_file;

// A material in a scene, and in a file of the library.
extern const Mapping own_material, library_material;
extern const Mapping ratio_file;

// A file of named ranges of the library.
extern const Mapping range_file, named_range, dissent;

// A figure of a quantity: at least 0, in its own unit where it has none.
Form figure_of(Quantity quantity);
// Limits of a quantity, {range:, min:, max:}; those with an upper one only; those without named ranges; those
// of shares.
const Mapping& limits_of(Quantity quantity);
const Mapping& ceiling_of(Quantity quantity);
extern const Mapping plain_limits, share_limits;
// Of a quantity, in steps: survive, hold, grow.
const Mapping& steps_of(Quantity quantity);
// Quantities to limits; a plant's needs take steps as well.
const Mapping& wants(WantRules rules);
const Mapping& needs();

}  // namespace format
}  // namespace boughlight
