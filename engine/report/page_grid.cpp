// The lamps' light cell by cell, small enough for a page that a phone must open.
#include <cmath>

#include "report/json_parts.h"
#include "report/map.h"
#include "report/packed.h"
#include "report/page.h"

namespace boughlight {
namespace {

constexpr double kMostBytes = 3e6;        // of packed cells
constexpr double kBytesAValue = 8.0 / 3;  // two bytes as base64

// Those that a keeper asks about always, the others where a limit is set on them or all fit.
std::vector<Quantity> shown_quantities(const Survey& survey) {
  const double a_quantity =
      kBytesAValue * static_cast<double>(survey.shares.cells) * static_cast<double>(survey.shares.sources);
  std::vector<Quantity> shown;
  for (const QuantityInfo& about : all_quantities()) {
    const Quantity q = about.quantity;
    if (is_day_quantity(q)) continue;
    const bool asked = q == Quantity::uvi || q == Quantity::lux || q == Quantity::ppfd ||
                       q == Quantity::irradiance || q == Quantity::infrared ||
                       !limits_of(survey.scene, q).empty();
    if (asked || kInstant * a_quantity <= kMostBytes) shown.push_back(q);
  }
  return shown;
}

// The cells of one box along one axis, joined into fewer of equal length: how much of each old one lies in a
// new one.
struct Joint {
  int from = 0;
  double share = 0;
};
std::vector<std::vector<Joint>> joints(int count, int fewer) {
  std::vector<std::vector<Joint>> all(static_cast<std::size_t>(fewer));
  const double length = static_cast<double>(count) / fewer;
  for (int i = 0; i < fewer; ++i)
    for (int k = static_cast<int>(i * length); k < count && k < (i + 1) * length; ++k) {
      const double share = std::min(k + 1.0, (i + 1) * length) - std::max<double>(k, i * length);
      if (share > 1e-9) all[static_cast<std::size_t>(i)].push_back({k, share});
    }
  return all;
}

// New cells as sums over old ones; the weights of a cell add up to 1 over its free volume.
struct JoinedGrid {
  std::vector<GridBox> boxes;
  std::vector<float> free;
  std::vector<std::vector<std::pair<std::size_t, float>>> parts;
};

JoinedGrid join(const Survey& survey, double factor) {
  JoinedGrid joined;
  for (const GridBox& box : survey.grid) {
    GridBox fewer = box;
    fewer.first = joined.parts.size();
    std::array<std::vector<std::vector<Joint>>, 3> along;
    for (std::size_t axis = 0; axis < 3; ++axis) {
      fewer.count[axis] = std::max(1, static_cast<int>(std::ceil(box.count[axis] / factor - 1e-9)));
      const auto i = static_cast<Eigen::Index>(axis);
      fewer.cell[i] = box.cell[i] * box.count[axis] / fewer.count[axis];
      along[axis] = joints(box.count[axis], fewer.count[axis]);
    }
    for (const auto& z : along[2])
      for (const auto& y : along[1])
        for (const auto& x : along[0]) {
          std::vector<std::pair<std::size_t, float>> parts;
          double volume = 0, free = 0;
          for (const Joint& k : z)
            for (const Joint& j : y)
              for (const Joint& i : x) {
                const std::size_t cell =
                    box.first +
                    static_cast<std::size_t>(i.from + box.count[0] * (j.from + box.count[1] * k.from));
                const double share = i.share * j.share * k.share;
                volume += share, free += share * survey.cells[cell].free_share;
                parts.push_back({cell, static_cast<float>(share * survey.cells[cell].free_share)});
              }
          for (auto& [cell, weight] : parts) weight = free > 0 ? static_cast<float>(weight / free) : 0;
          joined.free.push_back(static_cast<float>(free / volume));
          joined.parts.push_back(std::move(parts));
        }
    joined.boxes.push_back(fewer);
  }
  return joined;
}

}  // namespace

Json page_grid_json(const Survey& survey) {
  const SourceShares& shares = survey.shares;
  if (survey.grid.empty() || shares.sources == 0) return {};
  const std::vector<Quantity> shown = shown_quantities(survey);
  const double bytes = kBytesAValue * static_cast<double>(shares.cells * shares.sources * shown.size());
  double factor = 1;
  JoinedGrid grid = join(survey, factor);
  while (static_cast<double>(grid.parts.size()) / static_cast<double>(shares.cells) * bytes > kMostBytes)
    grid = join(survey, factor *= 1.25);

  Json json = {{"boxes", Json::array()},
               {"joined", factor > 1},
               {"free", packed_shares(grid.free, 0, 1)},
               {"values", Json::object()}};
  for (const GridBox& box : grid.boxes)
    json["boxes"].push_back({{"count", box.count},
                             {"corner", place_json(box.corner, "the grid")},
                             {"cell", place_json(box.cell, "the grid")},
                             {"first", box.first}});
  for (const Quantity quantity : shown) {
    Json by_source = Json::array();
    for (std::size_t source = 0; source < shares.sources; ++source) {
      const float* values = shares.cell_values.data() + shares.cell_at(quantity, source);
      std::vector<float> cells;
      cells.reserve(grid.parts.size());
      for (const auto& parts : grid.parts) {
        float sum = 0;
        for (const auto& [cell, weight] : parts) sum += weight * values[cell];
        cells.push_back(sum);
      }
      by_source.push_back(packed_halves(cells, survey.scene.source_name(source)));
    }
    json["values"][std::string(info(quantity).name)] = std::move(by_source);
  }
  return json;
}

}  // namespace boughlight
