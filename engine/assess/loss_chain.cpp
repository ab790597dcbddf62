#include "assess/loss_chain.h"

#include <algorithm>

namespace boughlight {
namespace {

double weighted_watts(const LampPart& part, Quantity quantity) {
  return part.radiant_flux_w * part.per_watt.total(quantity);
}

struct Start {
  double distance_m = 0;
  bool declared = false;
};

Start start_of(const Fixture& fixture, Quantity quantity) {
  const auto most = std::max_element(fixture.parts.begin(), fixture.parts.end(),
                                     [quantity](const LampPart& a, const LampPart& b) {
                                       return weighted_watts(a, quantity) < weighted_watts(b, quantity);
                                     });
  if (most != fixture.parts.end() && most->anchor_m) return {*most->anchor_m, true};
  constexpr double kUsual = 0.3;
  const double surface = fixture.emitter->extent(Vec3::UnitZ());
  return {surface < kUsual ? kUsual : surface + kUsual, false};
}

// Adds factors that lead from one figure to the next.
class Losses {
 public:
  explicit Losses(double start) : now_(start) {}

  void to(std::string_view name, double next) {
    losses_.push_back({name, now_ > 0 ? std::optional(next / now_) : std::nullopt});
    now_ = next;
  }
  const std::vector<Loss>& list() const { return losses_; }

 private:
  double now_;
  std::vector<Loss> losses_;
};

}  // namespace

LossChain loss_chain(const Setting& setting, const SensorSpot& spot, const Vec3& place,
                     std::size_t lamp_index, Quantity quantity) {
  const Lamp& lamp = setting.scene.lamps[lamp_index];
  const Fixture& fixture = *lamp.fixture;
  const StraightLight& light = spot.light[lamp_index];
  const std::vector<SpectralD> weights = setting.weights(quantity);
  const SpectralD& declared = weights[lamp_index];

  LossChain chain;
  chain.lamp = lamp.name;
  chain.quantity = quantity;
  const Start start = start_of(fixture, quantity);
  chain.start_m = start.distance_m;
  chain.declared = start.declared;
  double on_axis = fixture.emitter->on_axis(start.distance_m);
  if (!(on_axis > 0)) {
    on_axis = light.faced;
    chain.start_m = (place - lamp.at).norm();
    chain.declared = false;
  }
  double fresh = 0, aged = 0;
  for (const LampPart& part : fixture.parts) {
    fresh += weighted_watts(part, quantity);
    aged += part.ageing.at(lamp.burned_h) * weighted_watts(part, quantity);
  }
  chain.start = on_axis * fresh;
  const double straight = spot.straight_value(weights, lamp_index);
  chain.reflected = spot.rest_value(weights, lamp_index);
  chain.value = straight + chain.reflected;

  Losses losses(chain.start);
  losses.to("age", on_axis * aged);
  losses.to("dimmer", on_axis * declared.sum());
  losses.to("distance_and_shape", light.faced * declared.sum());
  losses.to("slant", light.free * declared.sum());
  losses.to("mesh", light.meshed * declared.sum());
  losses.to("panes", light.clear.weigh(declared));
  // The reading's own straight light ends the chain, so that the product is the reading.
  losses.to("leaves_and_branches", straight);
  losses.to("reflection_gained", chain.value);
  chain.losses = losses.list();
  return chain;
}

std::vector<LossChain> main_chains(const Setting& setting, const SensorSpot& spot, const Vec3& place) {
  constexpr double kMain = 0.05;
  std::vector<LossChain> chains;
  for (const Quantity quantity : kChainQuantities) {
    const std::vector<SpectralD> weights = setting.weights(quantity);
    const double all = spot.value(weights);
    const std::size_t first = chains.size();
    for (std::size_t lamp = 0; lamp < spot.light.size(); ++lamp) {
      const double own = spot.straight_value(weights, lamp) + spot.rest_value(weights, lamp);
      if (all > 0 && own >= kMain * all) chains.push_back(loss_chain(setting, spot, place, lamp, quantity));
    }
    std::stable_sort(chains.begin() + static_cast<std::ptrdiff_t>(first), chains.end(),
                     [](const LossChain& a, const LossChain& b) { return a.value > b.value; });
  }
  return chains;
}

}  // namespace boughlight
