// What a meter found of lamps and meshes, as factors on what is declared: the section `measured` of a scene.
#pragma once

#include "scene/model.h"

namespace boughlight {

// How far a lamp's output or what a mesh lets through may be from what was declared; beyond it something else
// is wrong.
inline constexpr double kLeastMeasured = 0.02, kMostMeasured = 20;

// The greatest factor on each layer of a mesh with which no light comes from nothing: what goes straight
// through and what the wires scatter are at most what arrives.
double most_measured_factor(const Material& mesh);

// One layer lets `factor` times as much straight through.
void scale_mesh(Material& mesh, double factor);
// One factor a part, in the order of fixture->parts. The lamp gets a fixture of its own.
void scale_lamp(Lamp& lamp, const std::vector<double>& factors);

}  // namespace boughlight
