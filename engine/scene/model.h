// The scene as plain structs in SI units (metres, radians, watts, hours where the name says so): everything
// that a scene file and the fixtures it names declare, checked. Frame: x right, y to the back, z up; origin
// at the front-left inside floor corner of the lowest box.
#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "scene/oriented_box.h"
#include "scene/shell.h"
#include "spectrum/emission.h"
#include "spectrum/emitter.h"
#include "spectrum/quantity.h"
#include "units/problem.h"
#include "units/units.h"

namespace boughlight {

// What a limit asks of one quantity, in the quantity's own unit (info(quantity).unit). Inclusive. A lower
// limit of 0 is read as no limit.
struct Limits {
  std::optional<double> min, max;
};
struct Want {
  Quantity quantity = Quantity::uvi;
  Limits limits;
  Mark mark;
  std::string range = {};  // the library's range that gave an end of the limits; "" where none did
};

// --- materials
// -----------------------------------------------------------------------------------------------

enum class SurfaceKind { matte, mesh, pane, leaf };
std::string_view surface_kind_name(SurfaceKind kind);  // as in scene files: "matte", "mesh", "pane", "leaf"

struct Material {
  std::string name;
  std::string title;
  std::string source;
  SurfaceKind kind = SurfaceKind::matte;
  // matte: of either side; mesh: of the wires; leaf: of either side.
  SpectralD reflectance = SpectralD::Zero();
  // leaf: diffuse, either way, reflectance + transmittance <= 1; pane: the data sheet's total at normal
  // incidence.
  SpectralD transmittance = SpectralD::Zero();
  double index = 1.5;             // pane: refractive index
  double wire = 0;                // mesh: wire diameter, m (0 when `flat` is set)
  std::array<double, 2> pitch{};  // mesh: spacing counted along u and along v, m
  std::optional<double> flat;     // mesh: measured transmittance at all angles, no scatter
  int layers = 1;                 // mesh
  double soiling = 1;             // mesh: further factor on the straight light, 0..1
  // mesh: one standard deviation of its transmittance, relative; nothing: Doubts::mesh.
  std::optional<double> spread;
};

// --- geometry
// ------------------------------------------------------------------------------------------------

enum class Side { floor, top, front, back, left, right };
inline constexpr std::array<Side, 6> kSides = {Side::floor, Side::top,  Side::front,
                                               Side::back,  Side::left, Side::right};
std::string_view side_name(Side side);

struct Box {
  std::string name;
  Vec3 corner = Vec3::Zero();  // front-left floor corner in the scene's frame
  Vec3 size = Vec3::Zero();
  // Index into Scene::materials; -1 is open. Only the part of a side that no neighbouring box covers has it.
  std::array<int, 6> face{-1, -1, -1, -1, -1, -1};  // in the order of kSides

  Vec3 far_corner() const { return corner + size; }
  // Inside or on the faces, within `slack` metres.
  bool contains(const Vec3& p, double slack = 0) const;
};

struct Branch {
  std::string name;
  std::vector<Vec3> path;  // at least two points; a chain of round-ended cylinders
  double diameter = 0;
  int material = -1;

  // Distance from a place to the branch's surface, negative inside, m.
  double signed_distance(const Vec3& p) const;
};

struct Board {
  std::string name;
  Vec3 corner = Vec3::Zero();
  Vec3 edge_u = Vec3::Zero(), edge_v = Vec3::Zero();  // not parallel; no thickness
  int material = -1;

  double distance(const Vec3& p) const;  // >= 0
};

// How a plant fares at a reading: it dies slowly below `survive`, stands still between `hold` and `grow`.
// Every step may be left out.
struct BandedNeed {
  Quantity quantity = Quantity::dli;
  std::optional<Limits> survive, hold, grow;
  Mark mark;
};

struct Model {
  std::string name;
  std::string file;                    // as the scene names it
  std::shared_ptr<const Shell> shell;  // where it stands; null after a mistake
  int material = -1;                   // matte, of both sides
};

struct Plant {
  std::string name;
  Vec3 crown_centre = Vec3::Zero();
  Vec3 radii = Vec3::Zero();  // as planted: growth is not yet applied
  double leaf_area = 0;       // one-sided, m2, as planted
  double growth = 1;          // scales the radii by g and the leaf area by g^2
  std::uint64_t seed = 0;
  double leaf_length = 0, leaf_width = 0;
  int leaf_material = -1;
  std::vector<Want> needs;
  std::vector<BandedNeed> bands;  // needs with steps; the one that is judged is among `needs` as well
  Mark mark;

  Vec3 grown_radii() const { return radii * growth; }
  double grown_leaf_area() const { return leaf_area * growth * growth; }
};

// --- receivers and wants
// -------------------------------------------------------------------------------------

// Which way a sensor looks: `brightest`, or a fixed unit vector ("up" is +z).
struct Facing {
  bool brightest = false;
  Vec3 direction = Vec3::UnitZ();
};

struct Perch {
  std::string name;
  Vec3 at = Vec3::Zero();     // on the branch; the reading is taken animal.back straight above
  std::optional<Vec3> along;  // unit
  Facing facing{true, Vec3::UnitZ()};
  std::vector<Want> wants;
  Mark mark;
};

struct Point {
  std::string name;
  Vec3 at = Vec3::Zero();
  Facing facing;
  std::vector<Want> wants;
  Mark mark;
};

// Another age of the same animal, read at the same perches.
struct AnimalSize {
  std::string name;
  double back = 0;                                // m
  std::optional<std::pair<double, double>> body;  // length, height, m
};

struct Animal {
  double back = 0;                                // m
  std::optional<std::pair<double, double>> body;  // length, height, m
  std::vector<AnimalSize> sizes;                  // further ones, beside `back` and `body`
  std::vector<Want> basking, refuge;              // a place counts where all hold; empty: not asked
  std::vector<Want> never;                        // uvi and irradiance only, max only
  double reach = 0;                               // m
  bool reach_given = false;
  // Widest gap between branches and boards that it crosses, m; nothing: its body's length.
  std::optional<double> stride = {};
};

// A want on a share of the enclosure. Limits are fractions (0..1).
enum class ZoneShare { volume, perch, each_level };
struct ZoneWant {
  std::string zone;  // "basking" or "refuge"
  ZoneShare share = ZoneShare::volume;
  Limits limits;
  Mark mark;
};
std::string_view zone_share_name(ZoneShare share);

// --- lamps
// ---------------------------------------------------------------------------------------------------

// The housing behind the part that shines: an opaque, matte box.
struct LampBody {
  double length = 0, width = 0, height = 0;  // along, across and against the aim, m
  SpectralD reflectance = SpectralD::Zero();
};

struct Fixture {
  std::string name;  // as the scene names it
  std::string title;
  std::string file;
  std::shared_ptr<const Emitter> emitter;
  std::string distribution;  // for people: "trough, cut off at 70 deg"
  std::vector<LampPart> parts;
  std::optional<LampBody> body;  // nothing: it blocks no light
  std::optional<double> power_w;
  std::optional<double>
      spread;  // lamps of this type, one standard deviation, relative; nothing: Doubts::lamp
  std::string source;

  // New, at 100 %, inside 250 nm to 25 um.
  double radiant_flux_w() const;
  // More light and heat than it takes: one of what is declared is wrong.
  bool radiates_too_much() const;
};

struct Lamp {
  std::string name;
  std::shared_ptr<const Fixture> fixture;
  Vec3 at = Vec3::Zero();      // centre of the emitter
  Vec3 aim = -Vec3::UnitZ();   // unit
  Vec3 along = Vec3::UnitX();  // unit, perpendicular to aim
  double dim = 1;              // 0..1
  double burned_h = 0;
  std::optional<std::vector<ClockSpan>> lit;  // nothing: the lamp has no day quantities
  double ramp_h =
      0;  // rises over so many hours at the start of each lit span and falls over as many at its end
  std::optional<double> spread;  // one standard deviation of its output, relative; nothing: the fixture's
  Mark mark;

  // Rotation whose columns are the emitter's local axes (along, aim x along, aim) in the scene's frame.
  Eigen::Matrix3d scene_from_local() const;
  Vec3 to_local(const Vec3& scene_point) const;
  Vec3 to_scene(const Vec3& local_point) const;

  // The fixture's body where it hangs, if it has one. Its front is square to the aim, just behind the
  // rearmost part of the emitter, so that it is never in the way of what the lamp sends to the front.
  std::optional<OrientedBox> body() const;
};

struct Room {
  double lux = 0;  // on a flat sensor in any orientation outside
  std::vector<SpectrumComponent> components;
  SpectrumPerWatt per_watt;
  double irradiance_w_m2 = 0;  // the same light in W/m2, solved from lux
  std::optional<std::vector<ClockSpan>> lit;
};

// --- people, air and doubt
// -----------------------------------------------------------------------------------------------

// Where a keeper's face or hands are at work, with doors open.
struct Workplace {
  std::string name;
  Vec3 at = Vec3::Zero();
  Facing facing{true, Vec3::UnitZ()};
  // The doors: faces that are open at work, as {index into Scene::boxes, side}.
  std::vector<std::pair<std::size_t, Side>> open;
  double hours_a_day = 0;  // at work there, 0 where it is not said
  Mark mark;
};

// Temperature of the room's air, deg C.
struct Air {
  double day_c = 0;
  std::optional<double> night_c, hot_c, cold_c;  // lowest at night; the hottest and the coldest day expected
  std::optional<double> warm_from_h;             // the clock hour from which the air is as warm as by day
  Mark mark;
};

// One standard deviation of what was declared, relative unless it is a length. Only a meter shrinks these.
struct Doubts {
  double lamp = 0.15;      // output of lamps of one type
  double ageing = 0.08;    // output, by age, of a lamp that has burned
  double mesh = 0.10;      // transmittance of a mesh
  double surfaces = 0.15;  // light that was reflected: walls' and leaves' reflectance
  double position = 0.01;  // m, height of lamps and perches
};

// --- the whole
// -----------------------------------------------------------------------------------------------

struct SurveySettings {
  double spacing = 0.05;  // m
  double tolerance = 0.02;
  std::uint64_t seed = 1;
};

struct Scene {
  std::string file;  // as given
  std::vector<std::filesystem::path>
      read_from;  // every file that was looked for: its own, those that it names
  std::string title;
  std::string length_unit = "cm";   // for printing and axes
  std::vector<Material> materials;  // those in use
  std::vector<Box> boxes;           // lowest first
  std::vector<Branch> branches;
  std::vector<Board> boards;
  std::vector<Model> models;
  std::vector<Plant> plants;
  std::vector<Perch> perches;
  std::vector<Point> points;
  std::optional<Animal> animal;
  std::vector<ZoneWant> zone_wants;
  std::vector<Lamp> lamps;
  std::optional<Room> room;
  std::vector<Workplace> workplaces;
  std::optional<Air> air;
  Doubts doubts;
  SurveySettings survey;
  std::vector<std::string> notes;  // cautions the loader raises (text for people)

  bool inside(const Vec3& p) const;        // in any box, faces included
  bool inside_solid(const Vec3& p) const;  // inside a branch, a closed model or the body of a lamp
  // A dark room is no source of light.
  bool has_room_light() const { return room && room->lux > 0; }
  // Every light source: lamps in order, then "room" where it gives light.
  std::size_t source_count() const { return lamps.size() + (has_room_light() ? 1 : 0); }
  std::string source_name(std::size_t source) const;
};

}  // namespace boughlight
