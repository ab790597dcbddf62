// Lamps, the room's light and the survey's settings.

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "scene/enclosure.h"
#include "scene/fixture_file.h"
#include "scene/scene_reader.h"
#include "spectrum/library_path.h"
#include "units/ascii.h"

namespace boughlight {

namespace {

// How far `along` may be off perpendicular to `aim`, as a sine: half a degree.
const double kOffPerpendicular = std::sin(0.5 * std::numbers::pi / 180);
constexpr double kIlluminantAKelvin = 2856;  // CIE standard illuminant A

Vec3 perpendicular_part(const Vec3& vector, const Vec3& unit) {
  return vector - vector.dot(unit) * unit;
}

// The highest face looking up at x, y, where that is not open; nothing else.
std::optional<double> top_face(const std::vector<Box>& boxes, double x, double y) {
  constexpr double kTouch = 1e-9;
  std::optional<double> height;
  double highest = -1;
  for (const FacePart& face : outer_faces(boxes)) {
    const Vec3 far = face.corner + face.edge_u + face.edge_v;
    const bool over = face.side == Side::top && x >= face.corner.x() - kTouch && x <= far.x() + kTouch &&
                      y >= face.corner.y() - kTouch && y <= far.y() + kTouch;
    if (!over || face.corner.z() < highest) continue;
    highest = face.corner.z();
    height = face.material != -1 ? std::optional(highest) : std::nullopt;
  }
  return height;
}

}  // namespace

void SceneReader::read_lamps(const Field& field) {
  for (const Field& item : field.list("a list of lamps").value_or(std::vector<Field>())) read_lamp(item);
}

void SceneReader::read_lamp(const Field& item) {
  const Fields keys(item, format::lamp);
  Lamp lamp;
  LampExtras extras;
  lamp.mark = item.mark();
  lamp.at.setConstant(std::nan(""));  // until placed, so that no rule takes it to be somewhere
  lamp.name = item_name(keys, lamp_names_);
  if (lamp.name == "room") keys.get("name")->fail("'room' stands for the room's light: choose another name");
  if (lower_case(lamp.name) == "all")
    keys.get("name")->fail(
        fmt::format("'{}' stands for all lamps in a log of readings: choose another name", lamp.name));
  if (const auto fixture = keys.get("fixture")) lamp.fixture = fixture_of(*fixture);
  read_orientation(keys, lamp);
  if (keys.has("choose")) read_choices(keys.list("choose"), keys.get("fixture"), extras);
  extras.has_dimmer = keys.has("dim");
  lamp.dim = keys.number("dim").value_or(1);
  // Wrong hours count as given: the want on a day quantity is not at fault.
  if (const auto lit = keys.get("lit")) lamp.lit = lit->clock_spans().value_or(std::vector<ClockSpan>());
  if (const auto ramp = keys.get("ramp")) read_ramp(*ramp, keys.number("ramp"), lamp);
  lamp.burned_h = keys.number("burned").value_or(0);
  lamp.spread = keys.number("spread");
  const auto at = keys.get("at"), over = keys.get("over");
  if (at && over) {
    over->fail("'at' is given too: place a lamp by one of them");
  } else if (at) {
    lamp.at = keys.vector("at").value_or(lamp.at);
  } else if (over) {
    place_over(*over, lamp);
  } else {
    item.fail("the place is missing: give 'at: [x, y, z]' or 'over: {x: ..., y: ..., gap: ...}'");
  }
  scene_.lamps.push_back(std::move(lamp));
  extras_.lamps.push_back(std::move(extras));
  lamp_fields_.push_back(item);
}

void SceneReader::read_ramp(const Field& field, const std::optional<double>& hours, Lamp& lamp) {
  if (!hours) return;
  if (!lamp.lit) {
    field.fail("needs the lamp's hours, 'lit': it comes up at their start and goes down at their end");
    return;
  }
  lamp.ramp_h = *hours;
  if (*hours == 0) return;
  for (const ClockSpan& span : joined_over_midnight(*lamp.lit)) {
    const double length = span.to_h - span.from_h;
    if (length < 24 && 2 * *hours <= length * (1 + 1e-9)) continue;
    field.fail(length >= 24 ? "the lamp is lit all day, so there is no start or end to ramp at: leave it out"
                            : fmt::format("{} is longer than half of {}-{}: at most {} min is allowed",
                                          field.found(), print_clock_time(span.from_h),
                                          print_clock_time(span.to_h), print_number(length * 30)));
    return;
  }
}

std::shared_ptr<const Fixture> SceneReader::fixture_of(const Field& field) {
  const auto name = field.name();
  if (!name) return nullptr;
  // A file's mistakes are reported once, a wrong name wherever it stands.
  if (const auto at = fixtures_.find(*name); at != fixtures_.end()) return at->second;
  bool found = true;
  const auto fixture = find_fixture(*name, std::filesystem::path(document_.file).parent_path(), problems_,
                                    [&](std::string text) {
                                      found = false;
                                      field.fail(std::move(text));
                                    });
  if (found) fixtures_[*name] = fixture;
  return fixture;
}

void SceneReader::read_choices(const std::vector<Field>& items, const std::optional<Field>& own,
                               LampExtras& extras) {
  std::map<std::string, Field> taken;
  if (own && own->is_scalar()) taken.emplace(own->node().text, *own);
  for (const Field& item : items) {
    const auto name = item.name();
    if (!name) continue;
    const auto [at, fresh] = taken.emplace(*name, item);
    if (!fresh) {
      item.fail(own && at->second.path() == own->path()
                    ? fmt::format("'{}' is its fixture already: name others", *name)
                    : fmt::format("'{}' stands here twice", *name));
      continue;
    }
    if (auto fixture = fixture_of(item)) extras.choices.push_back(std::move(fixture));
  }
}

void SceneReader::read_orientation(const Fields& keys, Lamp& lamp) {
  const auto aim_field = keys.get("aim"), along_field = keys.get("along");
  if (aim_field) lamp.aim = aim_field->direction(false).value_or(lamp.aim);
  const auto along = along_field ? along_field->direction(true) : std::nullopt;
  if (along && std::abs(along->dot(lamp.aim)) > kOffPerpendicular) {
    const double angle = std::acos(std::min(1.0, std::abs(along->dot(lamp.aim)))) * 180 / std::numbers::pi;
    along_field->fail(
        fmt::format("must be perpendicular to aim, but is at {} deg to it", print_number(angle)));
    return;
  }
  Vec3 part = perpendicular_part(along.value_or(Vec3::UnitX()), lamp.aim);
  if (part.norm() < kOffPerpendicular) part = perpendicular_part(Vec3::UnitY(), lamp.aim);
  lamp.along = part.normalized();
}

void SceneReader::place_over(const Field& field, Lamp& lamp) {
  const Fields keys(field, format::over);
  const auto x = keys.number("x"), y = keys.number("y"), gap = keys.number("gap");
  if (!x || !y || !gap || scene_.boxes.empty()) return;
  const auto top = top_face(scene_.boxes, *x, *y);
  if (!top) {
    field.fail("the enclosure has no top below this place, or an open one: give 'at' instead");
    return;
  }
  const Vec3 down = lamp.scene_from_local().transpose() * -Vec3::UnitZ();
  const double lowest = lamp.fixture ? lamp.fixture->emitter->extent(down) : 0;
  lamp.at = Vec3(*x, *y, *top + *gap + lowest);
}

void SceneReader::read_room(const Field& field) {
  const Fields keys(field, format::room);
  Room room;
  room.lux = keys.number("lux").value_or(0);
  if (const auto lit = keys.get("lit")) room.lit = lit->clock_spans().value_or(std::vector<ClockSpan>());
  const auto spectrum = keys.get("spectrum");
  const Field place = spectrum.value_or(field);
  std::optional<SpectrumRead> read;
  if (spectrum && !spectrum->is_scalar()) {
    read = read_spectrum(*spectrum);
  } else if (!spectrum || spectrum->node().text == "D65") {
    try {
      const auto d65 = read_table_file((library_path() / "standard" / "d65.csv").string());
      read = integrate_at(place, {{TabulatedEmission{d65.table}, 1}});
    } catch (const InputError& error) {
      problems_.add_all(error);
    }
  } else if (spectrum->node().text == "A") {
    read = integrate_at(place, {{Blackbody{kIlluminantAKelvin}, 1}});
  } else {
    spectrum->word({"D65", "A", "a spectrum as in a lamp's part"});
  }
  if (!read) return;
  const double lumens_per_watt = read->per_watt.total(Quantity::lux);
  if (room.lux > 0 && !(lumens_per_watt > 0)) {
    place.fail("holds no visible light, so it cannot give the room's lux");
    return;
  }
  room.components = std::move(read->components);
  room.per_watt = read->per_watt;
  room.irradiance_w_m2 = room.lux > 0 ? room.lux / lumens_per_watt : 0;
  scene_.room = std::move(room);
}

void SceneReader::read_survey(const Field& field) {
  const Fields keys(field, format::survey);
  SurveySettings& settings = scene_.survey;
  settings.spacing = keys.number("spacing").value_or(settings.spacing);
  settings.tolerance = keys.number("tolerance").value_or(settings.tolerance);
  settings.seed = keys.whole_number("seed").value_or(settings.seed);
}

}  // namespace boughlight
