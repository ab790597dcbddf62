// boughlight check SCENE

#include <fmt/format.h>

#include <memory>
#include <string>

#include "assess/facts.h"
#include "commands.h"
#include "geometry/foliage.h"
#include "report/inventory.h"
#include "scene/enclosure.h"
#include "scene/extras.h"
#include "terminal.h"

namespace boughlight::cli {
namespace {

std::string with_wants(std::string text, const char* word, const std::vector<Want>& wants) {
  if (!wants.empty()) text += fmt::format("; {} {}", word, wants_text(wants));
  return text;
}

std::string box_text(const Scene& scene, std::size_t index) {
  const Box& box = scene.boxes[index];
  std::string text =
      fmt::format("{} x {} x {} (width, depth, height):", length_text(box.size.x(), scene.length_unit),
                  length_text(box.size.y(), scene.length_unit), length_text(box.size.z(), scene.length_unit));
  const char* separator = " ";
  for (std::size_t side = 0; side < kSides.size(); ++side) {
    if (uncovered_share(scene.boxes, static_cast<int>(index), kSides[side]) <= 0) continue;
    const int material = box.face[side];
    text += fmt::format("{}{} {}", separator, side_name(kSides[side]),
                        material < 0 ? "open" : scene.materials[material].name);
    separator = ", ";
  }
  return text;
}

std::string model_text(const Scene& scene, const Model& model) {
  const std::string& unit = scene.length_unit;
  const Vec3 size = model.shell->high() - model.shell->low();
  return fmt::format("{} triangles of {}, {} x {} x {} (width, depth, height), {}, {}",
                     model.shell->triangles().size(), model.file, length_text(size.x(), unit),
                     length_text(size.y(), unit), length_text(size.z(), unit),
                     model.shell->closed() ? "closed" : "open",
                     scene.materials[static_cast<std::size_t>(model.material)].name);
}

std::string lamp_text(const Scene& scene, const Lamp& lamp) {
  std::string text = fmt::format("{} at {}", lamp.fixture->name, place_text(lamp.at, scene.length_unit));
  if (const auto gap = gap_above_enclosure(scene, lamp)) {
    text += fmt::format(", its lowest point {} above the enclosure", length_text(*gap, scene.length_unit));
  }
  if (lamp.fixture->body) text += "; its body stops light";
  text += fmt::format("; dimmer at {} %", print_number(100 * lamp.dim));
  if (lamp.lit) text += fmt::format("; lit {} h a day", print_number(total_hours(*lamp.lit)));
  if (lamp.ramp_h > 0) text += fmt::format(", with ramps of {} min", print_number(60 * lamp.ramp_h));
  if (lamp.burned_h > 0) text += fmt::format("; burned {} h", print_number(lamp.burned_h, 5));
  if (const auto spread = lamp.spread ? lamp.spread : lamp.fixture->spread)
    text += fmt::format("; output known to {} %", print_number(100 * *spread));
  return text;
}

std::string extras_text(const LampExtras& extras) {
  std::string text;
  for (const double factor : extras.measured_factors)
    text += (text.empty() ? "; measured: times " : ", ") + print_number(factor);
  if (extras.measured_factors.size() > 1) text += " (by part)";
  const char* separator = "; could be ";
  for (const auto& choice : extras.choices) {
    text += separator + choice->name;
    separator = " or ";
  }
  return text;
}

std::string needs_text(const Plant& plant) {
  std::string text;
  for (const BandedNeed& need : plant.bands) {
    const auto step = [&](const char* name, const std::optional<Limits>& limits) {
      if (limits) text += fmt::format("; {} at {} {}", name, info(need.quantity).name, limits_text(*limits));
    };
    step("survives", need.survive);
    step("holds", need.hold);
    step("grows", need.grow);
  }
  return text;
}

std::string air_text(const Air& air) {
  std::string text = fmt::format("{} C by day", print_number(air.day_c));
  const auto add = [&](const std::optional<double>& celsius, const char* when) {
    if (celsius) text += fmt::format(", {} C {}", print_number(*celsius), when);
  };
  add(air.night_c, "at night");
  add(air.hot_c, "on the hottest day");
  add(air.cold_c, "on the coldest day");
  if (air.warm_from_h) text += ", warm from " + print_clock_time(*air.warm_from_h);
  return text;
}

std::string workplace_text(const Scene& scene, const Workplace& workplace) {
  std::string text = "at " + place_text(workplace.at, scene.length_unit);
  const char* separator = "; open: ";
  for (const auto& [box, side] : workplace.open) {
    text += fmt::format("{}{} {}", separator, scene.boxes[box].name, side_name(side));
    separator = ", ";
  }
  if (workplace.hours_a_day > 0)
    text += fmt::format("; {} min a day", print_number(60 * workplace.hours_a_day));
  return text;
}

std::string animal_text(const Scene& scene) {
  const Animal& animal = *scene.animal;
  std::string text =
      fmt::format("back {} above what it sits on; reaches to {} from the faces",
                  length_text(animal.back, scene.length_unit), length_text(animal.reach, scene.length_unit));
  for (const AnimalSize& size : animal.sizes)
    text += fmt::format("; as '{}' back {}", size.name, length_text(size.back, scene.length_unit));
  text = with_wants(text, "basks at", animal.basking);
  text = with_wants(text, "shelters at", animal.refuge);
  return with_wants(text, "never", animal.never);
}

std::string inventory_text(const Scene& scene, const SceneExtras& extras) {
  const std::string& unit = scene.length_unit;
  const std::string title = scene.title.empty() ? scene.file : scene.title;
  std::string text = fmt::format("{}\n\nEnclosure (lengths in {})\n", set_in_columns(title, 0, 0), unit);
  for (std::size_t i = 0; i < scene.boxes.size(); ++i) text += item(scene.boxes[i].name, box_text(scene, i));

  const auto heading = [&](const char* title, bool any) {
    if (any) text += fmt::format("\n{}\n", title);
  };
  heading("Branches and boards", !scene.branches.empty() || !scene.boards.empty());
  for (const Branch& branch : scene.branches) {
    text += item(branch.name, fmt::format("branch {} across, {}", length_text(branch.diameter, unit),
                                          scene.materials[branch.material].name));
  }
  for (const Board& board : scene.boards) {
    text += item(board.name,
                 fmt::format("board {} x {}, {}", length_text(board.edge_u.norm(), unit),
                             length_text(board.edge_v.norm(), unit), scene.materials[board.material].name));
  }
  heading("Models", !scene.models.empty());
  for (const Model& model : scene.models) text += item(model.name, model_text(scene, model));
  heading("Plants", !scene.plants.empty());
  for (const Plant& plant : scene.plants) {
    text += item(plant.name, with_wants(fmt::format("{} leaves of {} around {}", leaf_count(plant),
                                                    scene.materials[plant.leaf_material].name,
                                                    place_text(plant.crown_centre, unit)),
                                        "needs", plant.needs) +
                                 needs_text(plant));
  }
  heading("Perches", !scene.perches.empty());
  for (const Perch& perch : scene.perches) {
    text += item(perch.name, with_wants("at " + place_text(perch.at, unit), "wants", perch.wants));
  }
  heading("Points", !scene.points.empty());
  for (const Point& point : scene.points) {
    text += item(point.name, with_wants("at " + place_text(point.at, unit), "wants", point.wants));
  }
  heading("Lamps", !scene.lamps.empty());
  for (std::size_t i = 0; i < scene.lamps.size(); ++i)
    text += item(scene.lamps[i].name, lamp_text(scene, scene.lamps[i]) + extras_text(extras.lamps[i]));
  heading("Room, animal, people, zones",
          scene.room || scene.air || scene.animal || !scene.workplaces.empty() || !scene.zone_wants.empty());
  if (scene.room) text += item("room", fmt::format("{} lx from outside", print_number(scene.room->lux)));
  if (scene.air) text += item("air", air_text(*scene.air));
  if (scene.animal) text += item("animal", animal_text(scene));
  for (const Workplace& workplace : scene.workplaces)
    text += item(workplace.name, workplace_text(scene, workplace));
  for (const ZoneWant& want : scene.zone_wants) {
    Limits percent = want.limits;
    for (auto* limit : {&percent.min, &percent.max}) {
      if (*limit) **limit *= 100;
    }
    text += item(want.zone, fmt::format("{} {} %", zone_share_name(want.share), limits_text(percent)));
  }

  const Doubts& doubts = scene.doubts;
  const auto percent = [](double ratio) { return print_number(100 * ratio) + " %"; };
  text +=
      fmt::format("\nDoubt (one standard deviation)\n") +
      item("as declared", fmt::format("lamps {}, their age {}, meshes {}, reflected light {}, heights {} {}",
                                      percent(doubts.lamp), percent(doubts.ageing), percent(doubts.mesh),
                                      percent(doubts.surfaces), length_text(doubts.position, unit), unit));

  heading("Notes", !scene.notes.empty());
  for (const std::string& note : scene.notes) text += "  " + set_in_columns(note, 2, 2) + "\n";
  return text + fmt::format("\n{} can be surveyed.\n", scene.file);
}

int run_check(const std::string& file, const CommonOptions& options) {
  const PlannedScene planned = load_planned_scene(file);
  const Scene& scene = planned.scene;
  if (options.json) {
    put(scene_inventory_json(scene) + "\n");
  } else if (!options.quiet) {
    put(inventory_text(scene, planned.extras));
  }
  return kAllMet;
}

}  // namespace

Run declare_check(CLI::App& app) {
  auto scene = std::make_shared<std::string>();
  app.add_option("SCENE", *scene, "The scene file (YAML)")->required();
  app.footer(
      "Examples:\n"
      "  boughlight check my-cage.yaml\n"
      "  boughlight check my-cage.yaml --quiet && echo fine\n"
      "\n"
      "Every mistake is told at once, each as FILE:LINE:COLUMN: what was found and what\n"
      "is allowed. The exit code is 0 when there is none, else 2. Nothing is traced.");
  return [scene](const CommonOptions& options) { return run_check(*scene, options); };
}

}  // namespace boughlight::cli
