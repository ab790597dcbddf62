#include "report/slice.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "report/text.h"

namespace boughlight {
namespace {

constexpr std::array<std::array<int, 3>, 3> kAxes = {{{0, 1, 2}, {0, 2, 1}, {1, 2, 0}}};  // u, v, across

const std::array<int, 3>& axes(View view) {
  return kAxes[static_cast<std::size_t>(view)];
}

// The layer of cells of a grid box that holds a coordinate along an axis.
std::optional<int> layer_at(const GridBox& box, int axis, double coordinate) {
  const double layer = (coordinate - box.corner[axis]) / box.cell[axis];
  const int count = box.count[static_cast<std::size_t>(axis)];
  // On the far face itself the last layer counts.
  if (layer < -1e-9 || layer > count + 1e-9) return std::nullopt;
  return std::clamp(static_cast<int>(std::floor(layer)), 0, count - 1);
}

// Height of the middle of the layer at z; the nearest layer where z is above or below all boxes.
double layer_height(const std::vector<GridBox>& grid, double z) {
  double best = 0, least = -1;
  for (const GridBox& box : grid) {
    const double low = box.corner.z(), high = low + box.cell.z() * box.count[2];
    const double off = std::max({0.0, low - z, z - high});
    if (least >= 0 && off >= least) continue;
    least = off;
    const int layer = *layer_at(box, 2, std::clamp(z, low, high));
    best = low + (layer + 0.5) * box.cell.z();
  }
  return best;
}

// Decimals that tell two neighbouring layers apart in a file name.
int name_decimals(const std::vector<GridBox>& grid, const LengthUnit& unit) {
  double least = grid.front().cell.z();
  for (const GridBox& box : grid) least = std::min(least, box.cell.z());
  return std::clamp(static_cast<int>(std::ceil(-std::log10(unit.from_m(least) / 1.5) - 1e-9)), 0, 6);
}

const Perch* section_perch(const Scene& scene) {
  for (const Perch& perch : scene.perches) {
    if (!perch.wants.empty()) return &perch;
  }
  return scene.perches.empty() ? nullptr : &scene.perches.front();
}

}  // namespace

double along_u(View view, const Vec3& p) {
  return p[axes(view)[0]];
}
double along_v(View view, const Vec3& p) {
  return p[axes(view)[1]];
}
double across(View view, const Vec3& p) {
  return p[axes(view)[2]];
}

std::vector<Slice> slices_of(const Survey& survey) {
  const Scene& scene = survey.scene;
  if (survey.grid.empty()) return {};
  const LengthUnit unit(scene.length_unit);
  const double back = scene.animal ? scene.animal->back : 0;
  double low = survey.grid.front().corner.z(), high = low;
  for (const GridBox& box : survey.grid) {
    low = std::min(low, box.corner.z());
    high = std::max(high, box.corner.z() + box.cell.z() * box.count[2]);
  }

  std::map<double, std::vector<std::string>> reasons;  // by height of the layer
  for (const Perch& perch : scene.perches) {
    reasons[layer_height(survey.grid, perch.at.z() + back)].push_back(
        fmt::format("{} {}", back > 0 ? "back height on" : "height of", shortened(perch.name, 24)));
  }
  if (survey.hottest) {
    reasons[layer_height(survey.grid, survey.hottest->uvi.at.z())].push_back("highest UVI in reach");
  }
  reasons[layer_height(survey.grid, (low + high) / 2)].push_back("middle");
  reasons[layer_height(survey.grid, low)].push_back("floor");

  std::vector<Slice> slices;
  const int decimals = name_decimals(survey.grid, unit);
  for (auto level = reasons.rbegin(); level != reasons.rend(); ++level) {
    std::string why = level->second.front();
    if (level->second.size() == 2) why += ", " + level->second[1];
    if (level->second.size() > 2) why += fmt::format(" and {} more", level->second.size() - 1);
    slices.push_back({View::plan, level->first,
                      fmt::format("plan-z{:.{}f}{}", unit.from_m(level->first) + 1e-9, decimals, unit.name()),
                      fmt::format("plan at z = {} ({})", unit.text(level->first), why)});
  }

  Vec3 through = Vec3::Zero();
  std::string why = "through the middle";
  if (const Perch* perch = section_perch(scene)) {
    through = perch->at;
    why = "through " + shortened(perch->name, 28);
  } else {
    const GridBox& first = survey.grid.front();
    for (int axis = 0; axis < 3; ++axis) {
      through[axis] = first.corner[axis] + first.cell[axis] * first.count[static_cast<std::size_t>(axis)] / 2;
    }
  }
  slices.push_back({View::front, through.y(), "front",
                    fmt::format("section from the front at y = {} ({})", unit.text(through.y()), why)});
  slices.push_back({View::side, through.x(), "side",
                    fmt::format("section from the right at x = {} ({})", unit.text(through.x()), why)});
  return slices;
}

SliceField::SliceField(const Survey& survey, Quantity quantity, const Slice& slice)
    : SliceField(
          survey, [quantity](const Cell& cell) { return cell.up[static_cast<std::size_t>(quantity)].value; },
          slice) {}

SliceField::SliceField(const Survey& survey, const std::function<double(const Cell&)>& value,
                       const Slice& slice) {
  const auto [u_axis, v_axis, n_axis] = axes(slice.view);
  for (const GridBox& box : survey.grid) {
    const std::optional<int> layer = layer_at(box, n_axis, slice.at);
    if (!layer) continue;
    SlicePatch patch{box.corner[u_axis],
                     box.corner[v_axis],
                     box.cell[u_axis],
                     box.cell[v_axis],
                     box.count[static_cast<std::size_t>(u_axis)],
                     box.count[static_cast<std::size_t>(v_axis)],
                     {},
                     {}};
    for (int v = 0; v < patch.nv; ++v) {
      for (int u = 0; u < patch.nu; ++u) {
        std::array<int, 3> index{};
        index[static_cast<std::size_t>(u_axis)] = u;
        index[static_cast<std::size_t>(v_axis)] = v;
        index[static_cast<std::size_t>(n_axis)] = *layer;
        const int row = index[1] + box.count[1] * index[2];
        const Cell& cell = survey.cells[box.first + static_cast<std::size_t>(index[0] + box.count[0] * row)];
        patch.value.push_back(value(cell));
        patch.free.push_back(cell.free_share > 0);
      }
    }
    patches_.push_back(std::move(patch));
  }
}

std::vector<Rect> SliceField::boxes() const {
  std::vector<Rect> boxes;
  for (const SlicePatch& patch : patches_) boxes.push_back({patch.u0, patch.v0, patch.u1(), patch.v1()});
  return boxes;
}

const SlicePatch* SliceField::patch_at(double u, double v) const {
  for (const SlicePatch& patch : patches_) {
    if (u >= patch.u0 && u <= patch.u1() && v >= patch.v0 && v <= patch.v1()) return &patch;
  }
  return nullptr;
}

namespace {

// On the straight line through a (at 0) and b (at 1), beyond them too; whichever there is where one is
// missing.
std::optional<double> on_line(std::optional<double> a, std::optional<double> b, double t) {
  if (a && b) return std::max(0.0, *a + (*b - *a) * t);
  return a ? a : b;
}

std::optional<double> cell_value(const SlicePatch& patch, int i, int j) {
  const auto cell = static_cast<std::size_t>(i + patch.nu * j);
  if (i >= patch.nu || j >= patch.nv || !patch.free[cell]) return std::nullopt;
  return patch.value[cell];
}

std::optional<double> row_value(const SlicePatch& patch, double u, int j) {
  const double at = (u - patch.u0) / patch.du - 0.5;
  const int i = std::clamp(static_cast<int>(std::floor(at)), 0, std::max(0, patch.nu - 2));
  return on_line(cell_value(patch, i, j), cell_value(patch, i + 1, j), at - i);
}

}  // namespace

std::optional<double> SliceField::value(double u, double v) const {
  const SlicePatch* patch = patch_at(u, v);
  if (!patch) return std::nullopt;
  const int i = std::min(static_cast<int>((u - patch->u0) / patch->du), patch->nu - 1);
  const int own = std::min(static_cast<int>((v - patch->v0) / patch->dv), patch->nv - 1);
  if (!patch->free[static_cast<std::size_t>(i + patch->nu * own)]) return std::nullopt;

  const double at = (v - patch->v0) / patch->dv - 0.5;
  const bool at_bottom = at < 0;
  if (at_bottom || at > patch->nv - 1) {
    // Between the outermost row and a face: towards the neighbouring box's nearest row where one adjoins
    // here.
    const SlicePatch* next = patch_at(u, at_bottom ? patch->v0 - 1e-6 : patch->v1() + 1e-6);
    if (next && next != patch) {
      const double beyond = (at_bottom ? -at : at - (patch->nv - 1)) * patch->dv;
      return on_line(row_value(*patch, u, at_bottom ? 0 : patch->nv - 1),
                     row_value(*next, u, at_bottom ? next->nv - 1 : 0),
                     beyond / ((patch->dv + next->dv) / 2));
    }
  }
  const int below = std::clamp(static_cast<int>(std::floor(at)), 0, std::max(0, patch->nv - 2));
  return on_line(row_value(*patch, u, below),
                 below + 1 < patch->nv ? row_value(*patch, u, below + 1) : std::nullopt, at - below);
}

}  // namespace boughlight
