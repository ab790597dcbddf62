// What every figure that a scene asks for would be with one lamp hung elsewhere or turned up, everything else
// as it is.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "plan/asks.h"
#include "plan/moved_reach.h"
#include "plan/moved_reading.h"
#include "plan/moved_shares.h"
#include "plan/standing.h"
#include "plan/top.h"

namespace boughlight {

// Called from one thread at a time with what is being done and the share of the whole done (0..1).
using PlanProgress = std::function<void(const std::string& stage, double share)>;

class Prospect {
 public:
  // `range`: the places that will be asked for. The joins of all readings together, for all of its places,
  // are kept below `budget` or so; what that costs in precision shows in the errors.
  Prospect(const Scene& scene, std::size_t lamp, const Lattice3& range, double budget,
           const PlanProgress& progress);

  const Scene& scene() const { return standing_->scene(); }
  const Standing& standing() const { return *standing_; }
  const Asks& asks() const { return asks_; }
  const Top& top() const { return top_; }
  // As the scene stands.
  const std::vector<Reading>& readings() const { return survey_.readings; }

  struct Outlook {
    std::vector<Figure> figures;  // as asks().figures
    // Of readings and the greatest within reach, what stays and what the lamp adds; nothing for shares.
    std::vector<std::optional<Split>> splits;
    std::vector<Vec3> reach_at;  // by figure: where the greatest is; 0 for others
  };
  // With the lamp hung there, at `output` times what it is declared to give. `part` picks one of the sets of
  // joins that averaged readings have (see is_averaged): errors of different parts are independent.
  Outlook at(const Hang& hang, std::uint32_t part, RayCount& rays, double output = 1) const;
  // As at() with all parts together, so that averaged readings are known as well as can be.
  Outlook best_at(const Hang& hang, RayCount& rays, double output = 1) const;

  // Whether a figure is a mean over a crown: it changes smoothly with the lamp's place, and what at() gives
  // for single places is meant to be smoothed.
  bool is_averaged(std::size_t figure) const;
  std::uint32_t parts() const;

 private:
  // The quantities of one reading, and which figures they are.
  struct Plan {
    std::size_t item = 0;
    const Plant* crown = nullptr;
    std::vector<Quantity> quantities;
    std::vector<std::size_t> figures;
    UptakeEffort effort;
    std::unique_ptr<MovedReading> reading;
  };
  void plan_readings();
  void set_efforts(const std::vector<PlacedLamp>& range, const std::vector<PlacedLamp>& tries,
                   std::size_t places, double budget);
  std::unique_ptr<MovedReading> reading_of(const Plan& plan, const UptakeEffort& effort,
                                           const std::vector<PlacedLamp>& range, std::uint64_t stage);

  std::unique_ptr<Standing> standing_;
  Asks asks_;
  Top top_;
  Survey survey_;
  std::vector<Plan> plans_;
  std::unique_ptr<MovedReach> reach_;
  std::unique_ptr<MovedShares> shares_;
  std::vector<std::size_t> reach_figures_, share_figures_;
};

}  // namespace boughlight
