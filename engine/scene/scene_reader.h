// Reads a scene's sections one after another into the model; each section is a function of its own, spread
// over the scene_*.cpp files. Private to this room.
#pragma once

#include <functional>
#include <map>

#include "scene/extras.h"
#include "scene/field.h"
#include "scene/limits.h"
#include "scene/materials.h"
#include "scene/model.h"
#include "scene/months_ahead.h"

namespace boughlight {

// Of all plants of a scene, now or grown.
inline constexpr double kMostLeaves = 5e6;

struct ObjSurface;

class SceneReader {
 public:
  SceneReader(const Document& document, Problems& problems)
      : document_(document), problems_(problems), materials_(scene_.materials, problems) {}

  // Reports every mistake to `problems`; the scene is whole only if there were none.
  Scene read();
  // What lies ahead of the scene that was read.
  const MonthsAhead& ahead() const { return ahead_; }
  // After read().
  SceneExtras take_extras() { return std::move(extras_); }

 private:
  // Names that share one list in the results, so that none may stand twice.
  class NameList {
   public:
    // Reports a name that is taken, saying where.
    void take(const Field& name_field, const std::string& name);

   private:
    std::map<std::string, Field> taken_;
  };

  void read_enclosure(const Field& field);
  void read_faces(const Field& field, int box);
  void read_branches(const Field& field);
  void read_boards(const Field& field);
  void read_models(const Field& field);
  // The surface of the OBJ file that a field names; null after a mistake was reported.
  using ObjOpener = std::function<std::shared_ptr<const ObjSurface>(const Field& file)>;
  void read_model(const Field& item, const ObjOpener& open);
  void read_plants(const Field& field);
  void read_crown(const Field& field, Plant& plant);
  void read_perches(const Field& field);
  void read_points(const Field& field);
  void read_animal(const Field& field);
  void read_size(const Field& item, Animal& animal);
  void read_zones(const Field& field);
  void read_lamps(const Field& field);
  void read_lamp(const Field& item);
  std::shared_ptr<const Fixture> fixture_of(const Field& field);
  void place_over(const Field& field, Lamp& lamp);
  void read_orientation(const Fields& keys, Lamp& lamp);
  void read_ramp(const Field& field, const std::optional<double>& hours, Lamp& lamp);
  void read_room(const Field& field);
  void read_choices(const std::vector<Field>& items, const std::optional<Field>& own, LampExtras& extras);
  void read_doubt(const Field& field);
  void read_measured(const Field& field);
  void read_measured_lamp(const NamedField& entry);
  void read_measured_mesh(const NamedField& entry);
  void read_air(const Field& field);
  void read_workplaces(const Field& field);
  void read_doors(const Field& field, Workplace& workplace);
  void read_survey(const Field& field);
  void read_ahead(const Field& field);
  void read_fouling(const Fields& keys);
  void read_growing(const Field& field);
  void read_animal_ahead(const Field& item);
  // Nothing after a mistake. A body that fits nowhere is a slip of the unit.
  std::optional<std::pair<double, double>> read_body_size(const Field& field) const;

  // Rules between sections, once all are read.
  void check_branches();
  void check_perches();
  void check_models();
  void check_bodies();
  void check_emitters();
  void check_sensors();
  void check_sizes();
  void check_reach();
  void check_light_ends();  // a closed white enclosure would keep its light for ever
  void check_never();
  bool is_within(const Vec3& lamp) const;
  void check_day_wants();
  void check_grid(const Field& place);
  // What a keeper must know of the named ranges in use.
  void note_ranges();

  // `name` of an item, taken from a list of names; "" after a mistake.
  std::string item_name(const Fields& keys, NameList& names);
  std::optional<Facing> read_facing(const Field& field);

  const Document& document_;
  Problems& problems_;
  Scene scene_;
  MonthsAhead ahead_;
  SceneExtras extras_;
  MaterialPool materials_;
  NameList reading_names_, lamp_names_, solid_names_, box_names_, workplace_names_, size_names_;
  std::map<std::string, std::shared_ptr<const Fixture>> fixtures_;  // null: wrong, and reported
  std::vector<Field> day_wants_;                                    // wants on quantities summed over the day
  std::vector<Field> lamp_fields_;                                  // beside scene_.lamps
  double leaves_ = 0;
  std::size_t triangles_ = 0;  // of all models
};

}  // namespace boughlight
