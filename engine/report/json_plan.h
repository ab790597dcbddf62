// Pieces of the plans' JSON files. Private to this room.
#pragma once

#include <functional>

#include "plan/figure_field.h"
#include "report/json_parts.h"

namespace boughlight {

// {"boughlight": 1, "scene", "title", "version", "seed", "tolerance"}
Json plan_head(const Scene& scene);

Json numbers_json(const std::vector<double>& values);
// {"of", "quantity" or "share", "unit"}
Json figure_key_json(const Scene& scene, const FigureKey& key);
// figure_key_json and the limit: {"min": 1.8} or {"max": 3.2}
Json ask_json(const Scene& scene, const Asks& asks, const Ask& ask, double limit);
// One row a figure: its key, value, se, min, max and, where something is asked, verdict.
Json at_place_json(const Scene& scene, const Asks& asks, const std::vector<Figure>& figures);
Json slack_json(const Scene& scene, const Asks& asks, const Slack& slack);

// "binding", and where nothing is allowed "conflicts" and "openings", each with its place.
void put_region(Json& json, const Scene& scene, const FigureField& field, const Region& region,
                const std::function<Json(std::size_t choice)>& place);
// "states", "slack" and "figures": one number a choice, in the lattice's order. Figures that stay are left
// out.
void put_region_maps(Json& json, const Scene& scene, const FigureField& field, const Region& region,
                     const std::vector<char>& changed);
// Asked figures that stay as they are, with their verdicts.
Json unchanged_json(const Scene& scene, const FigureField& field, const std::vector<char>& changed);

}  // namespace boughlight
