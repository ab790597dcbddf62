// Light traced in a scene as it stands at one month or another, always with the same random numbers. Private
// to this room.
#pragma once

#include <map>
#include <memory>
#include <vector>

#include "assess/reweigh.h"
#include "scene/months_ahead.h"

namespace boughlight {

class MonthTraces {
 public:
  // `today`: the survey of the scene as it stands, which says what is read and how sensors are turned.
  MonthTraces(const Scene& scene, const MonthsAhead& ahead, const Survey& today);

  // Places: the survey's readings, then its closest places (as declared and at full; none without an animal).
  std::size_t readings() const { return today_.readings.size(); }
  std::size_t places() const { return readings() + closest_.size(); }

  // A place's light with the crowns as they are at one month and the animal as it is at another. Traced when
  // first asked for. Errors are those of `tolerance()`.
  TracedSpot at(std::size_t place, double crowns_month, double animal_month);

  bool crowns_grow() const { return crowns_grow_; }
  bool animal_grows() const { return animal_grows_; }
  bool fouls() const { return fouls_; }
  double tolerance() const { return tolerance_; }
  std::size_t traced() const { return traced_.size(); }

  // What the lamps give and the meshes let through at a month.
  Reweighing weighing(double month) const;
  // The same with some lamps fresh (by index) or the meshes clean.
  Reweighing weighing(double month, const std::vector<std::size_t>& fresh, bool clean) const;

 private:
  struct Traced {
    std::vector<Response> responses;
    std::vector<SensorSpot> spots;  // their `light` and `room` alone; empty where no mesh fouls
  };
  const Traced& traced(double crowns_month, double animal_month);
  void trace(const Scene& scene, Traced& traced);
  void set_efforts(const Setting& setting, const std::vector<Receiver>& receivers);
  std::vector<Receiver> receivers_in(const Setting& setting) const;

  const Scene& scene_;
  const MonthsAhead& ahead_;
  const Survey& today_;
  std::vector<const HottestPlace*> closest_;
  bool crowns_grow_ = false, animal_grows_ = false, fouls_ = false;
  double tolerance_;
  std::vector<std::string> meshes_;  // names, in the order of mesh_materials()
  std::vector<LampEfforts> efforts_;
  std::map<std::pair<double, double>, std::unique_ptr<Traced>> traced_;
};

}  // namespace boughlight
