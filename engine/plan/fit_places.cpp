#include "plan/fit_places.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "assess/leaf_spread.h"
#include "assess/readings.h"
#include "plan/stages.h"
#include "scene/measured.h"

namespace boughlight {
namespace {

// How much of a lamp's spread its parts share, as a part of its variance: a lamp's ultraviolet and its light
// come of one discharge or one filament, but not of one phosphor or one batch of glass. Common practice, no
// source.
constexpr double kShared = 0.5;

// Every part of every lamp as a lamp of its own, for their outputs.
Scene in_parts(const Scene& scene) {
  Scene parted = scene;
  parted.lamps.clear();
  for (const Lamp& lamp : scene.lamps)
    for (const LampPart& part : lamp.fixture->parts) {
      Lamp one = lamp;
      auto fixture = std::make_shared<Fixture>(*lamp.fixture);
      fixture->parts = {part};
      one.fixture = fixture;
      parted.lamps.push_back(std::move(one));
    }
  return parted;
}

// What a keeper takes off to read without it: mesh at the top; where there is none, all mesh.
Scene without_screens(const Scene& scene) {
  Scene bare = scene;
  const auto is_mesh = [&](int material) {
    return material >= 0 && scene.materials[static_cast<std::size_t>(material)].kind == SurfaceKind::mesh;
  };
  bool any = false;
  for (Box& box : bare.boxes) {
    int& top = box.face[static_cast<std::size_t>(Side::top)];
    if (is_mesh(top)) top = -1, any = true;
  }
  if (any) return bare;
  for (Box& box : bare.boxes)
    for (int& face : box.face)
      if (is_mesh(face)) face = -1;
  std::erase_if(bare.boards, [&](const Board& board) { return is_mesh(board.material); });
  return bare;
}

}  // namespace

FitLayout::FitLayout(const Scene& scene, const std::vector<int>& meshes, const std::vector<Reading>& readings,
                     double meter_scale)
    : meter_scale_(meter_scale) {
  const double wide = std::log(kMostMeasured) / 2;
  for (std::size_t i = 0; i < scene.lamps.size(); ++i) {
    const Lamp& lamp = scene.lamps[i];
    const double age = lamp.burned_h > 0 ? scene.doubts.ageing : 0;
    const double sd = std::hypot(log_deviation(lamp_spread(scene, lamp)), log_deviation(age));
    const bool several = lamp.fixture->parts.size() > 1;
    add(FitKind::lamp, lamp.name, i, several ? std::sqrt(kShared) * sd : sd, -wide, wide);
    if (several)
      for (const LampPart& part : lamp.fixture->parts)
        add(FitKind::part, lamp.name, i, std::sqrt(1 - kShared) * sd, -wide, wide, part.name);
    add(FitKind::lamp_height, lamp.name, i, scene.doubts.position, -0.5, 0.5);
  }
  if (scene.has_room_light())
    add(FitKind::room, scene.source_name(scene.lamps.size()), scene.lamps.size(),
        log_deviation(scene.doubts.lamp), -wide, wide);
  for (const int index : meshes) {
    const Material& mesh = scene.materials[static_cast<std::size_t>(index)];
    add(FitKind::mesh, mesh.name, static_cast<std::size_t>(index),
        log_deviation(mesh.spread.value_or(scene.doubts.mesh)), std::log(kLeastMeasured),
        std::max(1e-6, std::log(most_measured_factor(mesh))));
  }
  add(FitKind::reflected, "", 0, log_deviation(scene.doubts.surfaces), -2, 2);
  for (std::size_t i = 0; i < readings.size(); ++i)
    if (readings[i].kind != ReadingKind::plant)
      add(FitKind::height, readings[i].name, i, scene.doubts.position, -0.5, 0.5);
}

void FitLayout::add(FitKind kind, const std::string& name, std::size_t index, double sd, double low,
                    double high, const std::string& part) {
  if (sd > 0) parameters_.push_back({kind, name, part, index, sd, low, high});
}

std::optional<std::size_t> FitLayout::find(FitKind kind, std::size_t index, const std::string& part) const {
  for (std::size_t i = 0; i < parameters_.size(); ++i) {
    const FitParameter& one = parameters_[i];
    if (one.kind == kind && one.index == index && one.part == part) return i;
  }
  return std::nullopt;
}

std::size_t FitLayout::meter(Quantity quantity) {
  const auto index = static_cast<std::size_t>(quantity);
  if (!find(FitKind::meter, index))
    parameters_.push_back(
        {FitKind::meter, std::string(info(quantity).name), "", index, log_deviation(meter_scale_), -2, 2});
  return *find(FitKind::meter, index);
}

FitPlaces::Stage FitPlaces::stage_of(Scene scene) const {
  Stage stage;
  stage.scene = std::make_unique<Scene>(std::move(scene));
  stage.field = std::make_unique<LightField>(*stage.scene, importance_of(*stage.scene));
  stage.setting = std::make_unique<Setting>(setting_of(*stage.scene, *stage.field));
  const Scene parted = in_parts(*stage.scene);
  stage.parts = source_outputs(parted, Power::as_declared);
  stage.day_parts = day_outputs(parted, Power::as_declared);
  return stage;
}

FitPlaces::Stage& FitPlaces::stage(bool bare) {
  if (bare && !bare_.scene) bare_ = stage_of(without_screens(*screened_.scene));
  return bare ? bare_ : screened_;
}

FitPlaces::FitPlaces(const Scene& scene)
    : screened_(stage_of(scene)), meshes_(mesh_materials(screened_.field->world())) {
  survey_.scene = *screened_.scene;
  take_readings(*screened_.setting, survey_);
  for (std::size_t i = 0; i < survey_.readings.size(); ++i)
    places_.push_back({survey_.readings[i].at, survey_.readings[i].direction, i, false});
}

Vec3 FitPlaces::direction_of(const MeterReading& reading, bool bare) {
  if (!reading.facing.brightest) return reading.facing.direction;
  if (reading.reading && !bare && survey_.readings[*reading.reading].facing == "brightest")
    return survey_.readings[*reading.reading].direction;
  Setting& setting = *stage(bare).setting;
  return find_brightest(setting, reading.at, setting.stream(kFitBrightestStage, places_.size()),
                        setting.spent)
      .cast<double>()
      .normalized();
}

std::size_t FitPlaces::add(const Place& place) {
  constexpr double kSame = 1e-3;
  for (std::size_t i = 0; i < places_.size(); ++i) {
    const Place& one = places_[i];
    const bool crown = one.reading && survey_.readings[*one.reading].kind == ReadingKind::plant;
    if (!crown && one.bare == place.bare && one.reading == place.reading &&
        (one.at - place.at).norm() < kSame && (one.direction - place.direction).norm() < kSame)
      return i;
  }
  places_.push_back(place);
  return places_.size() - 1;
}

std::size_t FitPlaces::add(const MeterReading& reading, bool bare) {
  return add({reading.at, direction_of(reading, bare), reading.reading, bare});
}

void FitPlaces::trace() {
  const auto own = survey_.readings.size();
  const auto receiver = [&](std::size_t i, std::uint64_t stage_number) {
    const Place& place = places_[i];
    const Setting& setting = *stage(place.bare).setting;
    const std::uint64_t id = setting.stream(stage_number, i);
    if (i < own) return receiver_of(setting, survey_.readings[i], id);
    const Vec3f normal = place.direction.cast<float>().normalized();
    return fixed_receiver(reading_place(setting.scene, setting.field, place.at, normal), normal, id);
  };
  responses_ = survey_.responses;
  responses_.resize(places_.size());
  leaves_.resize(places_.size());
  spots_.resize(places_.size());
  std::vector<Receiver> receivers(places_.size());
  for (std::size_t i = 0; i < places_.size(); ++i) receivers[i] = receiver(i, kFitSpotStage);
  for (const bool bare : {false, true}) {
    if (bare && !bare_.scene) continue;
    Stage& at = stage(bare);
    std::vector<std::size_t> members, fresh;
    for (std::size_t i = 0; i < places_.size(); ++i) {
      if (places_[i].bare != bare) continue;
      members.push_back(i);
      if (i >= own) fresh.push_back(i);
    }
    std::vector<Task> tasks;
    for (const std::size_t i : fresh)
      tasks.push_back({receiver(i, kFitGatherStage), common_goals(*at.setting)});
    std::vector<Response> found =
        gather_to_tolerance(*at.field, tasks, at.setting->tolerance(), at.setting->budget, at.setting->spent);
    for (std::size_t k = 0; k < fresh.size(); ++k) responses_[fresh[k]] = std::move(found[k]);
    const double step = std::max(at.scene->doubts.position, kMeterPlacement_m);
    std::vector<RayCount> rays(members.size());
    tbb::parallel_for(std::size_t{0}, members.size(), [&](std::size_t k) {
      const std::size_t i = members[k];
      const bool crown = i < own && survey_.readings[i].kind == ReadingKind::plant;
      spots_[i] = make_spot(*at.setting, receivers[i], responses_[i],
                            crown ? Shadows::go_along : Shadows::stay_put, step, rays[k]);
    });
    std::vector<Receiver> here;
    std::vector<SensorSpot> spots;
    for (const std::size_t i : members) here.push_back(receivers[i]), spots.push_back(spots_[i]);
    auto spreads = leaf_spreads(*at.setting, here, spots, at.setting->spent);
    for (std::size_t k = 0; k < members.size(); ++k) leaves_[members[k]] = std::move(spreads[k]);
  }
}

std::vector<SpectralD> FitPlaces::weights(const Stage& stage, Quantity quantity,
                                          const std::vector<std::size_t>& lamps) const {
  std::vector<SpectralD> weights = stage.setting->weights(quantity);
  if (!lamps.empty())
    for (std::size_t lamp = 0; lamp < stage.scene->lamps.size(); ++lamp)
      if (std::find(lamps.begin(), lamps.end(), lamp) == lamps.end()) weights[lamp].setZero();
  return weights;
}

FitFigure FitPlaces::figure(const FitLayout& layout, std::size_t place, Quantity quantity,
                            const std::vector<std::size_t>& lamps) const {
  const Stage& at = stage(places_[place].bare);
  const SensorSpot& spot = spots_[place];
  const std::vector<int> meshes = mesh_materials(at.field->world());
  const std::vector<SpectralD> parts = quantity_weights(quantity, at.parts, at.day_parts);
  const auto reflected = layout.find(FitKind::reflected, 0);
  FitFigure figure;
  std::size_t part = 0;
  for (std::size_t lamp = 0; lamp < at.scene->lamps.size(); ++lamp) {
    const bool lit = lamps.empty() || std::find(lamps.begin(), lamps.end(), lamp) != lamps.end();
    for (const LampPart& about : at.scene->lamps[lamp].fixture->parts) {
      const SpectralD& weights = parts[part++];
      if (!lit) continue;
      FitTerm term;
      term.straight = (spot.straight[lamp] * weights).sum();
      term.rest = (spot.rest[lamp] * weights).sum();
      if (!(term.straight + term.rest > 0)) continue;
      const bool several = at.scene->lamps[lamp].fixture->parts.size() > 1;
      if (const auto whole = layout.find(FitKind::lamp, lamp)) term.factors.push_back(*whole);
      if (const auto own = layout.find(FitKind::part, lamp, about.name); several && own)
        term.factors.push_back(*own);
      term.reflected = reflected;
      const StraightLight& light = spot.light[lamp];
      const double open = light.open.weigh(weights);
      for (std::size_t mesh = 0; mesh < meshes.size(); ++mesh) {
        const auto parameter = layout.find(FitKind::mesh, static_cast<std::size_t>(meshes[mesh]));
        const MeshWay& way = light.meshes[mesh];
        const double straight = open > 0 ? way.open_crossings.weigh(weights) / open : way.crossings;
        if (parameter && (straight > 0 || way.crossings > 0))
          term.meshes.push_back({*parameter, straight, way.crossings});
      }
      if (term.straight > 0) {
        const auto raised = [&](std::optional<std::size_t> parameter, const StraightSum& slope) {
          if (parameter) term.heights.push_back({*parameter, slope.weigh(weights) / term.straight});
        };
        raised(layout.find(FitKind::lamp_height, lamp), spot.slopes[lamp].lamp);
        if (const auto& reading = places_[place].reading)
          raised(layout.find(FitKind::height, *reading), spot.slopes[lamp].sensor);
      }
      figure.terms.push_back(std::move(term));
    }
  }
  if (at.scene->has_room_light()) {
    FitTerm term;
    const std::size_t room = at.scene->lamps.size();
    term.rest = (spot.rest[room] * parts.back()).sum() + (spot.straight[room] * parts.back()).sum();
    if (const auto own = layout.find(FitKind::room, room)) term.factors.push_back(*own);
    for (std::size_t mesh = 0; mesh < meshes.size(); ++mesh) {
      const auto parameter = layout.find(FitKind::mesh, static_cast<std::size_t>(meshes[mesh]));
      if (parameter) term.meshes.push_back({*parameter, 0, spot.room[mesh].crossings});
    }
    if (term.rest > 0) figure.terms.push_back(std::move(term));
  }
  return figure;
}

double FitPlaces::solver_error(std::size_t place, Quantity quantity,
                               const std::vector<std::size_t>& lamps) const {
  const Figure figure = weigh_facing(responses_[place], weights(stage(places_[place].bare), quantity, lamps));
  return figure.value > 0 ? figure.se / figure.value : 0;
}

double FitPlaces::leaf_spread(std::size_t place, Quantity quantity) const {
  const auto found = leaves_[place].find(quantity);
  return found == leaves_[place].end() ? 0 : found->second.relative_sd;
}

double FitPlaces::height_slope(std::size_t place, Quantity quantity,
                               const std::vector<std::size_t>& lamps) const {
  const std::vector<SpectralD> by_source = weights(stage(places_[place].bare), quantity, lamps);
  const SensorSpot& spot = spots_[place];
  const double value = spot.value(by_source);
  double slope = 0;
  for (std::size_t lamp = 0; lamp < spot.slopes.size(); ++lamp)
    slope += spot.slopes[lamp].sensor.weigh(by_source[lamp]);
  return value > 0 ? slope / value : 0;
}

bool FitPlaces::behind_screen(std::size_t place, Quantity quantity,
                              const std::vector<std::size_t>& lamps) const {
  const std::vector<SpectralD> by_source = weights(stage(places_[place].bare), quantity, lamps);
  const SensorSpot& spot = spots_[place];
  std::optional<std::size_t> strongest;
  double most = 0;
  for (std::size_t lamp = 0; lamp < spot.light.size(); ++lamp) {
    const double own = spot.straight_value(by_source, lamp) + spot.rest_value(by_source, lamp);
    if (own > most) most = own, strongest = lamp;
  }
  if (!strongest) return false;
  const auto& meshes = spot.light[*strongest].meshes;
  return std::any_of(meshes.begin(), meshes.end(), [](const MeshWay& way) { return way.crossings > 0.5; });
}

}  // namespace boughlight
