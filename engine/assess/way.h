// Ways along branches and boards: which places an animal gets to from which, and the most covered way from
// the sun to a refuge. No rays.
#pragma once

#include <optional>
#include <vector>

#include "assess/perchable.h"
#include "assess/results_animal.h"

namespace boughlight {

// From each place the places one step away. Steps that follow each other on a branch or board join; another
// branch or board joins where it is no further than `stride` (m, from surface to surface), at its place
// nearest to this one. What the animal crosses in such a gap is not looked at.
using Steps = std::vector<std::vector<std::size_t>>;
Steps steps_between(const Scene& scene, const std::vector<PerchablePlace>& places, double stride);

// The most covered way from `start` to a place where `refuge` holds. `share`: of the sun perch's UVI. The
// stretch above half that holds `start` is the sun: it costs nothing, and the way is covered when it never
// goes above half again once it has left it. Nothing where no refuge is connected at all.
std::optional<CoveredWay> most_covered_way(const std::vector<PerchablePlace>& places, const Steps& steps,
                                           const std::vector<double>& share, const std::vector<char>& refuge,
                                           std::size_t start);

// Marks the places that a covered way leads to from `start`, the sun's own stretch among them.
std::vector<char> covered_from(const Steps& steps, const std::vector<double>& share, std::size_t start);

}  // namespace boughlight
