#include "assess/memory.h"

#include <fmt/format.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <limits>

#include "assess/results.h"
#include "geometry/foliage.h"
#include "transport/cells.h"
#include "units/units.h"

namespace boughlight {
namespace {

constexpr double kShare = 0.75;
// Measured over a whole survey with Embree 3.13: 330,000 leaves more took 150 MB more. A triangle of a model
// is taken for as much.
constexpr double kBytesALeaf = 460, kBytesATriangle = 460;
// A reading's responses are three spectra for each replicate and source; pilots have as much again.
constexpr double kBytesAResponse = 2.0 * 3 * kReplicates * kBins * sizeof(float);
// Of a cell: the texts that files are made of, some 300 B in grid.csv and as much in the page and for
// ParaView.
constexpr double kBytesOfText = 600;
// As many channels as a scene with basking and refuge limits on other quantities may ask for.
constexpr std::size_t kQuantitiesOfZones = 4;

double cell_count(const Scene& scene, double spacing) {
  double cells = 0;
  for (const Box& box : scene.boxes) cells += (box.size / spacing).array().round().max(1).prod();
  return cells;
}

double bytes_a_cell(const Scene& scene) {
  const std::size_t sources = scene.source_count();
  // The pilots are smaller, and gone when the result is made.
  const double mean = CellLight::bytes(1, sources, 0) / kCellReplicates;
  const double shares = static_cast<double>(sources) * kInstant * sizeof(float);
  return CellLight::bytes(1, sources, kQuantitiesOfZones * sources) + mean + shares + sizeof(Cell) +
         kBytesOfText;
}

double leaves_of(const Scene& scene) {
  double leaves = 0;
  for (const Plant& plant : scene.plants) leaves += static_cast<double>(leaf_count(plant));
  return leaves;
}

double triangles_of(const Scene& scene) {
  double triangles = 0;
  for (const Model& model : scene.models)
    if (model.shell) triangles += static_cast<double>(model.shell->triangles().size());
  return triangles;
}

std::size_t reading_count(const Scene& scene) {
  return scene.perches.size() + 2 * scene.plants.size() + scene.points.size();
}

std::string gigabytes(double bytes) {
  return print_number(bytes / 1e9, 3) + " GB";
}

// What is told to fit must fit as it is printed, so no figure is rounded to the nearest.
constexpr int kPrintedDigits = 3;

double last_digit(double value) {
  return std::pow(10, std::floor(std::log10(value)) - (kPrintedDigits - 1));
}

// A number of things, no more than `value`.
std::string at_most(double value) {
  if (!(value >= 1)) return "0";
  const double step = std::max(1.0, last_digit(value));
  return print_number(std::floor(value / step) * step, kPrintedDigits);
}

// The finest spacing, in centimetres as it is printed, whose cells fit; nothing where one cell a box is too
// much.
std::string spacing_that_fits(const Scene& scene, double most_cells) {
  if (static_cast<double>(scene.boxes.size()) > most_cells) return "no grid would fit: take fewer lamps";
  const double estimate =
      100 * scene.survey.spacing * std::cbrt(cell_count(scene, scene.survey.spacing) / most_cells);
  // Where cells do not divide a box evenly there may be more of them than by its volume.
  const double step = last_digit(estimate);
  double steps = std::ceil(estimate / step);
  constexpr double kAsRead = 0.01 * (1 - 1e-12);  // read again, it may be a bit less
  while (cell_count(scene, kAsRead * steps * step) > most_cells) ++steps;
  return fmt::format("a spacing of {} cm or more would fit", print_number(steps * step, kPrintedDigits));
}

[[noreturn]] void refuse(const Mark& mark, const std::string& path, const std::string& what, double need,
                         double most, const std::string& fits) {
  throw InputError({{mark, path,
                     fmt::format("{} would take about {} of memory, of which {} may be used here; {}", what,
                                 gigabytes(need), gigabytes(most), fits)}});
}

// The least of the limits of the control groups that this process is in.
double control_group_limit() {
  double least = std::numeric_limits<double>::infinity();
  std::ifstream groups("/proc/self/cgroup");
  for (std::string line; std::getline(groups, line);) {
    if (!line.starts_with("0::")) continue;
    for (std::string group = line.substr(3); !group.empty(); group.resize(group.rfind('/'))) {
      double bytes = 0;  // stays 0 where the file says "max"
      if (std::ifstream("/sys/fs/cgroup" + group + "/memory.max") >> bytes && bytes > 0)
        least = std::min(least, bytes);
      if (group.find('/') == std::string::npos) break;
    }
  }
  return least;
}

}  // namespace

MemoryNeed memory_need(const Scene& scene) {
  MemoryNeed need;
  need.solids = kBytesALeaf * leaves_of(scene) + kBytesATriangle * triangles_of(scene);
  need.readings =
      kBytesAResponse * static_cast<double>(reading_count(scene)) * static_cast<double>(scene.source_count());
  need.grid = bytes_a_cell(scene) * cell_count(scene, scene.survey.spacing);
  return need;
}

double memory_budget() {
  double least =
      static_cast<double>(::sysconf(_SC_PHYS_PAGES)) * static_cast<double>(::sysconf(_SC_PAGESIZE));
  rlimit space{};
  if (::getrlimit(RLIMIT_AS, &space) == 0 && space.rlim_cur != RLIM_INFINITY)
    least = std::min(least, static_cast<double>(space.rlim_cur));
  return kShare * std::min(least, control_group_limit());
}

void require_memory(const Scene& scene, WithGrid with_grid, double most_bytes) {
  const MemoryNeed need = memory_need(scene);
  const Mark whole{scene.file, 0, 0};
  const double of_models = kBytesATriangle * triangles_of(scene);
  if (of_models > most_bytes)
    refuse(whole, "models", "the triangles of all models", of_models, most_bytes,
           fmt::format("{} triangles would fit", at_most(most_bytes / kBytesATriangle)));
  if (need.solids > most_bytes) {
    const auto most =
        std::max_element(scene.plants.begin(), scene.plants.end(),
                         [](const Plant& a, const Plant& b) { return leaf_count(a) < leaf_count(b); });
    refuse(most->mark, "plants",
           fmt::format("{} leaves, most of them of '{}',", print_number(leaves_of(scene)), most->name),
           need.solids, most_bytes,
           fmt::format("{} would fit: take less leaf_area, or fewer and larger leaves",
                       at_most((most_bytes - of_models) / kBytesALeaf)));
  }
  double left = most_bytes - need.solids;
  if (need.readings > left)
    refuse(whole, "points",
           fmt::format("{} readings (perches, points, and two a plant) of {} sources of light",
                       reading_count(scene), scene.source_count()),
           need.solids + need.readings, most_bytes,
           fmt::format("{} readings would fit",
                       at_most(left / need.readings * static_cast<double>(reading_count(scene)))));
  left -= need.readings;
  if (with_grid == WithGrid::yes && need.grid > left) {
    refuse(whole, "survey.spacing",
           fmt::format("a grid of {} cells under {} sources of light",
                       print_number(cell_count(scene, scene.survey.spacing)), scene.source_count()),
           need.solids + need.readings + need.grid, most_bytes,
           spacing_that_fits(scene, left / bytes_a_cell(scene)));
  }
}

}  // namespace boughlight
