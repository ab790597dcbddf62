// Wants: limits on named quantities, as in `wants`, `needs`, `basking`, `refuge`, `never` and the zones'
// shares. Private to this room.
#pragma once

#include "scene/field.h"
#include "scene/model.h"

namespace boughlight {

// One want for each quantity of a mapping. A want in which something is wrong is reported and left out. Those
// on quantities summed over the day are added to `day`: they need the hours of every lamp, which are known
// only later.
std::vector<Want> read_wants(const Field& field, WantRules rules, std::vector<Field>& day);

// A plant's needs: limits as in wants, or in steps, {survive: ..., hold: ..., grow: ...}, each within the one
// before it. Of the steps `hold` is judged, else `survive`, else `grow`.
void read_needs(const Field& field, Plant& plant, std::vector<Field>& day);
// [min, max], {min:}, {max:} or both, of one quantity; no named range.
std::optional<Limits> read_quantity_limits(const Field& field, Quantity quantity);

// [min, max], {min:}, {max:} or both, of ratios: for the zones.
std::optional<Limits> read_share_limits(const Field& field);

}  // namespace boughlight
