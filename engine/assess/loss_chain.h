// What becomes of a lamp's light on its way to a reading, one loss after another.
#pragma once

#include "assess/results_doubt.h"
#include "assess/spot.h"

namespace boughlight {

// Quantities that chains are made for.
inline constexpr std::array<Quantity, 4> kChainQuantities = {Quantity::uvi, Quantity::irradiance,
                                                             Quantity::lux, Quantity::ppfd};

// One lamp and instant quantity at a spot. The chain starts where the lamp's part that gives most of the
// quantity was declared, or for a part declared as a flux 30 cm from the centre (30 cm from the surface where
// that is further out); at the reading itself, turned to the lamp's centre, where the lamp sends no light
// along its axis. The factors' product is `value`, since each ends where the next begins.
LossChain loss_chain(const Setting& setting, const SensorSpot& spot, const Vec3& place, std::size_t lamp,
                     Quantity quantity);

// Chains for every quantity of the lamps that give at least a twentieth of a reading's, greatest first.
std::vector<LossChain> main_chains(const Setting& setting, const SensorSpot& spot, const Vec3& place);

}  // namespace boughlight
