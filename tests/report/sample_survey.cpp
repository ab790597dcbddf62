#include "sample_survey.h"

#include <cmath>

namespace boughlight {
namespace {

Want want(Quantity quantity, std::optional<double> min, std::optional<double> max) {
  return {quantity, {min, max}, {}};
}

Lamp lamp(const std::string& name, std::shared_ptr<const Emitter> emitter, const Vec3& at) {
  auto fixture = std::make_shared<Fixture>();
  fixture->name = name;
  fixture->emitter = std::move(emitter);
  Lamp made;
  made.name = name;
  made.fixture = fixture;
  made.at = at;
  return made;
}

Plant plant(const std::string& name, const Vec3& at, const Vec3& radii) {
  Plant made;
  made.name = name;
  made.crown_centre = at;
  made.radii = radii;
  made.leaf_area = 0.2;
  made.leaf_length = 0.05;
  made.leaf_width = 0.03;
  made.needs = {want(Quantity::dli, 2, 8)};
  return made;
}

Scene sample_scene() {
  Scene scene;
  scene.file = "some/folder/landing.yaml";
  scene.title = "Cabinet on the landing";
  scene.materials.resize(3);
  scene.materials[0].name = "birch-ply";
  scene.materials[1].name = "fine-mesh";
  scene.materials[1].kind = SurfaceKind::mesh;
  scene.materials[2].name = "glass-4mm";
  scene.materials[2].kind = SurfaceKind::pane;
  scene.boxes = {{"cabinet", {0, 0, 0}, {0.9, 0.55, 1.1}, {0, 0, 2, 0, 0, 0}},
                 {"cage", {0.15, 0, 1.1}, {0.6, 0.55, 0.5}, {-1, 1, 1, -1, 1, 1}}};
  scene.branches = {{"high bough", {{0.22, 0.30, 1.34}, {0.68, 0.34, 1.38}}, 0.025, 0},
                    {"trunk", {{0.4, 0.3, 0.0}, {0.38, 0.3, 0.7}, {0.3, 0.28, 1.34}}, 0.05, 0}};
  scene.boards = {{"ledge", {0, 0.35, 0.6}, {0.3, 0, 0}, {0, 0.2, 0}, 0}};
  scene.plants = {plant("fig", {0.62, 0.33, 0.75}, {0.16, 0.14, 0.25}),
                  plant("fern", {0.2, 0.25, 0.18}, {0.15, 0.15, 0.15}),
                  plant("creeper", {0.55, 0.45, 1.2}, {0.12, 0.1, 0.12})};
  Perch sun{"sun perch", {0.45, 0.32, 1.38}, {}, {true, Vec3::UnitZ()}, {}, {}};
  sun.wants = {want(Quantity::uvi, 2.5, 4.5), want(Quantity::irradiance, 150, 500)};
  Perch mid{"shade fork", {0.38, 0.30, 0.7}, {}, {true, Vec3::UnitZ()}, {want(Quantity::uvi, {}, 0.5)}, {}};
  Perch low{"low ledge", {0.15, 0.45, 0.6}, {}, {true, Vec3::UnitZ()}, {}, {}};
  scene.perches = {sun, mid, low};
  scene.points = {{"door sill", {0.45, 0, 0.4}, {false, -Vec3::UnitY()}, {want(Quantity::lux, {}, 2000)}, {}},
                  {"soil", {0.6, 0.3, 0.02}, {}, {}, {}}};
  Animal animal;
  animal.back = 0.05;
  animal.reach = 0.03;
  animal.reach_given = true;
  animal.basking = {want(Quantity::uvi, 2.5, 4.5)};
  animal.refuge = {want(Quantity::uvi, {}, 0.5)};
  animal.never = {want(Quantity::uvi, {}, 7)};
  scene.animal = animal;
  scene.zone_wants = {{"refuge", ZoneShare::volume, {0.3, {}}, {}},
                      {"refuge", ZoneShare::each_level, {0.1, {}}, {}}};
  scene.lamps = {lamp("uv tube", make_tube_emitter(0.53, 0.016, nullptr), {0.45, 0.24, 1.76}),
                 lamp("basking flood", make_disc_emitter(0.095, make_cosine_power(0.26)), {0.55, 0.32, 1.67}),
                 lamp("plant bar", make_rectangle_emitter(0.5, 0.03, nullptr), {0.4, 0.42, 1.66})};
  scene.lamps[1].aim = Vec3(-0.25, 0, -1).normalized();
  scene.lamps[1].along = Vec3(1, 0, -0.25).normalized();
  return scene;
}

// Falls off with the square of the distance and is weakened below the cage, as leaves and distance do.
double made_up(const Vec3& p, const Vec3& lamp, double at_30_cm, double lost_per_m) {
  const double distance2 = (p - lamp).squaredNorm();
  return at_30_cm * 0.09 / distance2 * (lamp.z() - p.z()) / std::sqrt(distance2) *
         std::exp(-lost_per_m * (lamp.z() - p.z()));
}

double instant_value(Quantity quantity, const Scene& scene, const Vec3& p) {
  const double uvi = made_up(p, scene.lamps[0].at, 4.6, 1.2);
  const double heat = made_up(p, scene.lamps[1].at, 420, 0.8);
  const double ppfd = 12 + made_up(p, scene.lamps[2].at, 260, 0.3);
  switch (quantity) {
    case Quantity::uvi:
      return uvi;
    case Quantity::uvb:
      return 0.05 * uvi;
    case Quantity::uva:
      return 0.4 * uvi;
    case Quantity::d3:
      return 0.03 * uvi;
    case Quantity::actinic:
      return 0.02 * uvi;
    case Quantity::lux:
      return 70 * ppfd;
    case Quantity::ppfd:
      return ppfd;
    case Quantity::irradiance:
      return heat + 0.5 * ppfd + uvi;
    case Quantity::infrared:
      return 0.8 * heat;
    default:
      return 0;
  }
}

double value_of(Quantity quantity, const Scene& scene, const Vec3& p) {
  const QuantityInfo& row = info(quantity);
  constexpr double kHours = 10;
  return is_day_quantity(quantity) ? kHours * row.per_hour * instant_value(row.of, scene, p)
                                   : instant_value(quantity, scene, p);
}

Figures figures_at(const Scene& scene, const Vec3& p) {
  Figures figures;
  for (const QuantityInfo& row : all_quantities()) {
    const double value = value_of(row.quantity, scene, p);
    figures[row.quantity] = {value, 0.005 * value, {}};
  }
  return figures;
}

Verdict judged(const Limits& limits, double value) {
  if (limits.min && value < *limits.min) return Verdict::below;
  return limits.max && value > *limits.max ? Verdict::above : Verdict::met;
}

Reading reading(const Scene& scene, const std::string& name, ReadingKind kind, const Vec3& at,
                const std::string& facing, const std::vector<Want>& wants) {
  Reading made;
  made.name = name;
  made.kind = kind;
  made.at = at;
  made.facing = facing;
  made.values = figures_at(scene, at);
  for (const auto& [quantity, figure] : made.values) {
    if (!is_day_quantity(quantity)) made.scalar[quantity] = {1.4 * figure.value, figure.se, {}};
  }
  made.by_lamp["uv tube"][Quantity::uvi] = made.values[Quantity::uvi].value;
  for (const Want& want : wants) {
    Figure figure = made.values[want.quantity];
    figure.converged = true;
    made.wants.push_back({want, figure, judged(want.limits, figure.value)});
    made.values[want.quantity].converged = true;
  }
  return made;
}

void add_grid(Survey& survey) {
  constexpr double kSpacing = 0.05;
  for (std::size_t b = 0; b < survey.scene.boxes.size(); ++b) {
    const Box& box = survey.scene.boxes[b];
    GridBox grid;
    grid.first = survey.cells.size();
    grid.corner = box.corner;
    for (int axis = 0; axis < 3; ++axis) {
      grid.count[static_cast<std::size_t>(axis)] = static_cast<int>(std::lround(box.size[axis] / kSpacing));
      grid.cell[axis] = box.size[axis] / grid.count[static_cast<std::size_t>(axis)];
    }
    for (int k = 0; k < grid.count[2]; ++k) {
      for (int j = 0; j < grid.count[1]; ++j) {
        for (int i = 0; i < grid.count[0]; ++i) {
          Cell cell;
          cell.box = static_cast<int>(b);
          cell.index = {i, j, k};
          cell.centre = box.corner + grid.cell.cwiseProduct(Vec3(i + 0.5, j + 0.5, k + 0.5));
          for (const QuantityInfo& row : all_quantities()) {
            const double value = value_of(row.quantity, survey.scene, cell.centre);
            cell.up[static_cast<std::size_t>(row.quantity)] = {value, 0.02 * value, {}};
          }
          cell.brightest_uvi = 1.1 * cell.up[static_cast<std::size_t>(Quantity::uvi)].value;
          if (survey.scene.branches[1].signed_distance(cell.centre) < -0.02) cell.free_share = 0;
          survey.cells.push_back(cell);
        }
      }
    }
    survey.grid.push_back(grid);
  }
}

// The first lamp gives three quarters of everything, the second the rest.
void add_shares(Survey& survey) {
  SourceShares& shares = survey.shares;
  shares.sources = survey.scene.lamps.size();
  shares.readings = survey.readings.size();
  shares.cells = survey.cells.size();
  shares.reference.assign(shares.sources, 1);
  shares.steps.resize(shares.sources);
  shares.reading_values.assign(shares.readings * kInstant * shares.sources * kReplicates, 0);
  shares.cell_values.assign(kInstant * shares.sources * shares.cells, 0);
  constexpr std::array<double, 2> kShare = {0.75, 0.25};
  for (const QuantityInfo& row : all_quantities()) {
    if (is_day_quantity(row.quantity)) continue;
    for (std::size_t source = 0; source < kShare.size(); ++source) {
      for (std::size_t i = 0; i < shares.readings; ++i)
        for (std::size_t k = 0; k < kReplicates; ++k)
          shares.reading_values[shares.reading_at(i, row.quantity, source) + k] =
              static_cast<float>(kShare[source] * survey.readings[i].values[row.quantity].value);
      for (std::size_t cell = 0; cell < shares.cells; ++cell)
        shares.cell_values[shares.cell_at(row.quantity, source) + cell] = static_cast<float>(
            kShare[source] * survey.cells[cell].up[static_cast<std::size_t>(row.quantity)].value);
    }
  }
}

}  // namespace

Survey sample_survey() {
  Survey survey;
  survey.scene = sample_scene();
  const Scene& scene = survey.scene;
  const Vec3 back(0, 0, scene.animal->back);
  for (const Perch& perch : scene.perches) {
    survey.readings.push_back(
        reading(scene, perch.name, ReadingKind::perch, perch.at + back, "brightest", perch.wants));
  }
  for (const Plant& plant : scene.plants) {
    Reading made = reading(scene, plant.name, ReadingKind::plant, plant.crown_centre, "up", plant.needs);
    made.top_at = plant.crown_centre + plant.radii.z() * Vec3::UnitZ();
    made.top = figures_at(scene, *made.top_at);
    survey.readings.push_back(made);
  }
  for (const Point& point : scene.points) {
    const std::string facing = point.name == "soil" ? "up" : "given";
    survey.readings.push_back(reading(scene, point.name, ReadingKind::point, point.at, facing, point.wants));
  }
  survey.has_day = true;
  add_grid(survey);
  add_shares(survey);

  survey.levels = {{0.025, 0.0, 0.97, 0.1, 22}, {0.075, 0.0, 0.95, 0.1, 23}};
  ZoneFraction basking{{0.06, 0.004, true}, Figure{0.21, 0.01, true}, {{0, 0, {}}, {0, 0.001, {}}}};
  ZoneFraction refuge{{0.5, 0.004, true}, {}, {{0.97, 0.002, {}}, {0.95, 0.003, {}}}};
  survey.zones = {{"basking", basking}, {"refuge", refuge}};
  survey.zone_wants = {{scene.zone_wants[0], {0.5, 0.004, true}, {}, Verdict::met},
                       {scene.zone_wants[1], {0.104, 0.004, true}, 1.575, Verdict::unsure}};

  Hottest hottest;
  hottest.uvi = {Quantity::uvi, {9.4, 0.05, true}, {0.45, 0.24, 1.57}, Vec3::UnitZ(), "uv tube",
                 7.0,           Verdict::above};
  hottest.irradiance = {
      Quantity::irradiance, {910, 6, true}, {0.54, 0.32, 1.57}, Vec3::UnitZ(), "basking flood", {}, {}};
  hottest.uvi_at_full = hottest.uvi;
  hottest.uvi_at_full.figure = {11.8, 0.06, true};
  hottest.irradiance_at_full = hottest.irradiance;
  hottest.irradiance_at_full.figure.value = 1290;
  survey.hottest = hottest;
  survey.cautions = {
      {"eyes", "UV hurts eyes: switch the lamps off, or wear goggles that stop UV, before reaching in."},
      {"mains", "Water and mains: drip loops, a residual-current device, a second fixing for every lamp."}};
  survey.verdict = WholeVerdict::unmet;
  survey.leaf_count = 900;
  return survey;
}

Survey bare(Survey survey) {
  survey.scene.branches.clear();
  survey.scene.boards.clear();
  survey.scene.plants.clear();
  survey.scene.perches.clear();
  survey.scene.points.clear();
  survey.scene.lamps.clear();
  survey.scene.animal.reset();
  survey.hottest.reset();
  return survey;
}

}  // namespace boughlight
