#include "report/inventory.h"

#include <nlohmann/json.hpp>
#include <numbers>

#include "assess/facts.h"
#include "geometry/foliage.h"

namespace boughlight {
namespace {

using Json = nlohmann::ordered_json;

Json vector_json(const Vec3& v) {
  return {v.x(), v.y(), v.z()};
}

Json declared_limits_json(const Limits& limits) {
  Json json = Json::object();
  if (limits.min) json["min"] = *limits.min;
  if (limits.max) json["max"] = *limits.max;
  return json;
}

Json wants_json(const std::vector<Want>& wants) {
  Json json = Json::object();
  for (const Want& want : wants)
    json[std::string(info(want.quantity).name)] = declared_limits_json(want.limits);
  return json;
}

Json box_json(const Scene& scene, const Box& box) {
  Json faces = Json::object();
  for (std::size_t side = 0; side < kSides.size(); ++side) {
    const int material = box.face[side];
    faces[std::string(side_name(kSides[side]))] = material < 0 ? "open" : scene.materials[material].name;
  }
  return {{"name", box.name},
          {"corner", vector_json(box.corner)},
          {"size", vector_json(box.size)},
          {"faces", std::move(faces)}};
}

Json lamp_json(const Scene& scene, const Lamp& lamp) {
  Json json = {{"name", lamp.name},
               {"fixture", lamp.fixture->name},
               {"title", lamp.fixture->title},
               {"at", vector_json(lamp.at)},
               {"aim", vector_json(lamp.aim)},
               {"lowest_z", lowest_point_z(lamp)},
               {"dim", lamp.dim},
               {"burned_h", lamp.burned_h}};
  const auto gap = gap_above_enclosure(scene, lamp);
  if (const auto& body = lamp.fixture->body) json["body"] = Json{body->length, body->width, body->height};
  json["gap_above_enclosure"] = gap ? Json(*gap) : Json();
  json["hours_a_day"] = lamp.lit ? Json(total_hours(*lamp.lit)) : Json();
  json["ramp_h"] = lamp.ramp_h;
  return json;
}

Json model_json(const Scene& scene, const Model& model) {
  const Shell& shell = *model.shell;
  return {{"name", model.name},
          {"file", model.file},
          {"material", scene.materials[static_cast<std::size_t>(model.material)].name},
          {"low", vector_json(shell.low())},
          {"high", vector_json(shell.high())},
          {"triangles", shell.triangles().size()},
          {"open_edges", shell.open_edges()},
          {"turned_edges", shell.turned_edges()},
          {"triangles_without_area", shell.without_area()}};
}

Json plant_json(const Plant& plant) {
  return {{"name", plant.name},
          {"at", vector_json(plant.crown_centre)},
          {"radii", vector_json(plant.grown_radii())},
          {"leaf_area_m2", plant.grown_leaf_area()},
          {"leaves", leaf_count(plant)},
          {"needs", wants_json(plant.needs)}};
}

Json air_json(const Air& air) {
  const auto or_null = [](const std::optional<double>& value) { return value ? Json(*value) : Json(); };
  return {{"day_c", air.day_c},
          {"night_c", or_null(air.night_c)},
          {"hot_c", or_null(air.hot_c)},
          {"cold_c", or_null(air.cold_c)},
          {"warm_from_h", or_null(air.warm_from_h)}};
}

Json bands_json(const SpectralD& factor) {
  const BandMeans means = band_means(factor);
  return {{"uvb", means.uvb},
          {"uva", means.uva},
          {"visible", means.visible},
          {"near_infrared", means.near_infrared},
          {"thermal", means.thermal}};
}

Json part_json(const PartSheet& part) {
  return {{"part", part.name},
          {"radiant_flux_w", part.radiant_flux_w},
          {"uvc_w", part.uvc_w},
          {"uvb_w", part.uvb_w},
          {"uva_w", part.uva_w},
          {"visible_w", part.visible_w},
          {"infrared_w", part.infrared_w},
          {"luminous_flux_lm", part.luminous_flux_lm},
          {"photon_flux_umol_s", part.photon_flux_umol_s}};
}

Json angle_json(const std::optional<double>& radians) {
  return radians ? Json(*radians * 180 / std::numbers::pi) : Json();
}

}  // namespace

std::string scene_inventory_json(const Scene& scene) {
  Json json = {
      {"boughlight", 1}, {"scene", scene.file}, {"title", scene.title}, {"length_unit", scene.length_unit}};
  for (const char* list : {"boxes", "branches", "boards", "models", "plants", "perches", "points", "lamps"}) {
    json[list] = Json::array();
  }
  for (const Box& box : scene.boxes) json["boxes"].push_back(box_json(scene, box));
  for (const Branch& branch : scene.branches) json["branches"].push_back(branch.name);
  for (const Board& board : scene.boards) json["boards"].push_back(board.name);
  for (const Model& model : scene.models) json["models"].push_back(model_json(scene, model));
  for (const Plant& plant : scene.plants) json["plants"].push_back(plant_json(plant));
  for (const Perch& perch : scene.perches) {
    json["perches"].push_back(
        {{"name", perch.name}, {"at", vector_json(perch.at)}, {"wants", wants_json(perch.wants)}});
  }
  for (const Point& point : scene.points) {
    json["points"].push_back(
        {{"name", point.name}, {"at", vector_json(point.at)}, {"wants", wants_json(point.wants)}});
  }
  for (const Lamp& lamp : scene.lamps) json["lamps"].push_back(lamp_json(scene, lamp));
  json["air"] = scene.air ? air_json(*scene.air) : Json();
  json["workplaces"] = Json::array();
  for (const Workplace& workplace : scene.workplaces) {
    json["workplaces"].push_back({{"name", workplace.name},
                                  {"at", vector_json(workplace.at)},
                                  {"daily_minutes", 60 * workplace.hours_a_day}});
  }
  json["room_lux"] = scene.room ? scene.room->lux : 0.0;
  json["animal_sizes"] = Json::array();
  if (scene.animal)
    for (const AnimalSize& size : scene.animal->sizes)
      json["animal_sizes"].push_back({{"name", size.name}, {"back", size.back}});
  json["never"] = scene.animal ? wants_json(scene.animal->never) : Json::object();
  json["zone_wants"] = Json::array();
  for (const ZoneWant& want : scene.zone_wants) {
    json["zone_wants"].push_back({{"zone", want.zone},
                                  {"share", zone_share_name(want.share)},
                                  {"limits", declared_limits_json(want.limits)}});
  }
  const Doubts& doubts = scene.doubts;
  json["doubt"] = {{"lamp", doubts.lamp},
                   {"ageing", doubts.ageing},
                   {"mesh", doubts.mesh},
                   {"surfaces", doubts.surfaces},
                   {"position", doubts.position}};
  json["survey"] = {
      {"spacing", scene.survey.spacing}, {"tolerance", scene.survey.tolerance}, {"seed", scene.survey.seed}};
  json["notes"] = scene.notes;
  return json.dump(2, ' ', false, Json::error_handler_t::replace);
}

std::string library_json(const std::vector<Fixture>& lamps, const std::vector<Material>& materials,
                         const std::vector<NamedRange>& ranges) {
  Json json = {
      {"boughlight", 1}, {"lamps", Json::array()}, {"materials", Json::array()}, {"ranges", Json::array()}};
  for (const Fixture& lamp : lamps) {
    json["lamps"].push_back({{"name", lamp.name},
                             {"title", lamp.title},
                             {"emitter", lamp.emitter->describe()},
                             {"distribution", lamp.distribution},
                             {"source", lamp.source}});
  }
  for (const Material& material : materials) {
    Json entry = {{"name", material.name},
                  {"surface", surface_kind_name(material.kind)},
                  {"title", material.title},
                  {"reflectance", bands_json(material.reflectance)}};
    if (material.kind == SurfaceKind::pane || material.kind == SurfaceKind::leaf) {
      entry["transmittance"] = bands_json(material.transmittance);
    }
    if (const auto open = open_share(material)) entry["straight_through_at_normal_incidence"] = *open;
    entry["source"] = material.source;
    json["materials"].push_back(std::move(entry));
  }
  for (const NamedRange& range : ranges) {
    Json entry = {{"name", range.name},
                  {"title", range.title},
                  {"quantity", info(range.quantity).name},
                  {"limits", declared_limits_json(range.limits)},
                  {"meaning", range.meaning},
                  {"status", range.status},
                  {"disagreements", Json::array()},
                  {"source", range.source}};
    for (const RangeDissent& dissent : range.dissents)
      entry["disagreements"].push_back({{"limits", declared_limits_json(dissent.limits)},
                                        {"text", dissent.text},
                                        {"source", dissent.source}});
    json["ranges"].push_back(std::move(entry));
  }
  return json.dump(2, ' ', false, Json::error_handler_t::replace);
}

std::string lamp_sheet_json(const Fixture& fixture, const LampSheet& sheet) {
  Json json = {
      {"boughlight", 1},
      {"fixture", fixture.name},
      {"title", fixture.title},
      {"emitter", fixture.emitter->describe()},
      {"distribution", fixture.distribution},
      {"body", fixture.body ? Json{fixture.body->length, fixture.body->width, fixture.body->height} : Json()},
      {"power_w", fixture.power_w ? Json(*fixture.power_w) : Json()},
      {"parts", Json::array()}};
  for (const PartSheet& part : sheet.parts) json["parts"].push_back(part_json(part));
  json["whole"] = part_json(sheet.whole);
  json["half_angle_along_deg"] = angle_json(sheet.half_angle_along);
  json["half_angle_across_deg"] = angle_json(sheet.half_angle_across);
  json["on_axis"] = Json::array();
  for (const AxisReading& reading : sheet.on_axis) {
    Json entry = {{"distance_m", reading.distance_m}};
    for (int q = 0; q < kInstant; ++q) {
      entry[std::string(info(static_cast<Quantity>(q)).name)] = reading.reading[q];
    }
    json["on_axis"].push_back(std::move(entry));
  }
  json["spectrum"] = Json::array();
  for (const SpectrumStretch& stretch : sheet.spectrum) {
    json["spectrum"].push_back({{"from_nm", stretch.from_nm},
                                {"to_nm", stretch.to_nm},
                                {"power_w", stretch.power_w},
                                {"uvi_share", stretch.uvi_share},
                                {"lux_share", stretch.lux_share}});
  }
  json["shortest_ultraviolet_nm"] =
      sheet.shortest_ultraviolet_nm ? Json(*sheet.shortest_ultraviolet_nm) : Json();
  json["source"] = fixture.source;
  return json.dump(2, ' ', false, Json::error_handler_t::replace);
}

std::string written_json(const std::string& file) {
  return Json{{"written", file}}.dump(2, ' ', false, Json::error_handler_t::replace);
}

}  // namespace boughlight
