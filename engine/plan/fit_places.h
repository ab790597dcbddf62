// The places that meter readings were taken at, traced: what every part of every lamp gives there. Private to
// the fit.
#pragma once

#include <map>
#include <memory>

#include "assess/causes.h"
#include "assess/meter_plan.h"
#include "plan/fit.h"
#include "transport/straight_light.h"

namespace boughlight {

// Where which parameter stands.
class FitLayout {
 public:
  // `readings`: of the survey's order, whose heights may be off.
  FitLayout(const Scene& scene, const std::vector<int>& meshes, const std::vector<Reading>& readings,
            double meter_scale);

  const std::vector<FitParameter>& parameters() const { return parameters_; }
  std::optional<std::size_t> find(FitKind kind, std::size_t index, const std::string& part = "") const;
  // Adds a quantity's meter where it is not there yet.
  std::size_t meter(Quantity quantity);

 private:
  void add(FitKind kind, const std::string& name, std::size_t index, double sd, double low, double high,
           const std::string& part = "");
  std::vector<FitParameter> parameters_;
  double meter_scale_;
};

class FitPlaces {
 public:
  explicit FitPlaces(const Scene& scene);
  FitPlaces(const FitPlaces&) = delete;
  FitPlaces& operator=(const FitPlaces&) = delete;

  const Scene& scene() const { return *screened_.scene; }
  const std::vector<int>& meshes() const { return meshes_; }
  // The scene's own readings, which are the first places.
  const std::vector<Reading>& readings() const { return survey_.readings; }

  struct Place {
    Vec3 at = Vec3::Zero();
    Vec3 direction = Vec3::UnitZ();
    std::optional<std::size_t> reading;  // whose height it has
    bool bare = false;                   // the screens are off
  };
  const Place& place(std::size_t index) const { return places_[index]; }
  // A place that is traced by trace(), or is there already.
  std::size_t add(const MeterReading& reading, bool bare);
  std::size_t add(const Place& place);
  // The direction in which a meter reading's sensor looks.
  Vec3 direction_of(const MeterReading& reading, bool bare);
  void trace();

  // The figure there, from the lamps named (all where none is) and the room.
  FitFigure figure(const FitLayout& layout, std::size_t place, Quantity quantity,
                   const std::vector<std::size_t>& lamps) const;
  // Relative standard deviations at a place: the solver's error, and where leaves happen to hang.
  double solver_error(std::size_t place, Quantity quantity, const std::vector<std::size_t>& lamps) const;
  double leaf_spread(std::size_t place, Quantity quantity) const;
  // Change of the figure's logarithm for each metre that the sensor is raised.
  double height_slope(std::size_t place, Quantity quantity, const std::vector<std::size_t>& lamps) const;
  // Whether a mesh lies between the place and the lamp that gives most.
  bool behind_screen(std::size_t place, Quantity quantity, const std::vector<std::size_t>& lamps) const;

 private:
  // A scene with its light; the one without screens is made when it is asked for.
  struct Stage {
    std::unique_ptr<Scene> scene;
    std::unique_ptr<LightField> field;
    std::unique_ptr<Setting> setting;
    std::vector<QuantityBins> parts;  // of each lamp's parts one after another
    DayOutputs day_parts;
  };
  Stage stage_of(Scene scene) const;
  Stage& stage(bool bare);
  const Stage& stage(bool bare) const { return bare ? bare_ : screened_; }
  std::vector<SpectralD> weights(const Stage& stage, Quantity quantity,
                                 const std::vector<std::size_t>& lamps) const;

  Stage screened_, bare_;
  std::vector<int> meshes_;  // of the scene as it is
  Survey survey_;
  std::vector<Place> places_;
  std::vector<Response> responses_;
  std::vector<SensorSpot> spots_;
  std::vector<std::map<Quantity, LeafSpread>> leaves_;
};

}  // namespace boughlight
