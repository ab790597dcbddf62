#include "assess/body.h"

#include <algorithm>
#include <cmath>

#include "assess/body_shape.h"
#include "assess/judge.h"
#include "assess/stages.h"

namespace boughlight {
namespace {

// Samples of each replicate.
constexpr GatherEffort kOutline{24, 0}, kLine{6, 0}, kReflected{0, 24};
constexpr double kLineLengths = 3;  // the beams are looked at so many body lengths either way
constexpr int kStepsALength = 16;

constexpr Quantity kRead[] = {Quantity::uvi, Quantity::lux, Quantity::irradiance, Quantity::infrared};
constexpr Quantity kBeams[] = {Quantity::uvi, Quantity::lux, Quantity::infrared};

// What is reflected onto the sensors of one of a perch's rows.
class Reflected {
 public:
  void add(double along, Response response) { nodes_.push_back({along, std::move(response)}); }

  // Sets the reflected light of a place `along` the line. Nodes were added in rising order.
  void put(double along, Response& response) const {
    std::size_t after = 0;
    while (after < nodes_.size() && nodes_[after].along < along) ++after;
    const std::size_t high = std::min(after, nodes_.size() - 1), low = after == 0 ? 0 : after - 1;
    const Node &left = nodes_[low], &right = nodes_[high];
    const double gap = right.along - left.along;
    const auto share = static_cast<float>(gap > 0 ? std::clamp((along - left.along) / gap, 0.0, 1.0) : 0);
    for (std::size_t i = 0; i < response.indirect.size(); ++i)
      response.indirect[i] = (1 - share) * left.response.indirect[i] + share * right.response.indirect[i];
  }

 private:
  struct Node {
    double along;
    Response response;
  };
  std::vector<Node> nodes_;
};

// For each of some rising places along a row the one of the row's that is nearest, each once.
std::vector<OutlinePlace> nearest_to(std::initializer_list<double> wanted,
                                     const std::vector<OutlinePlace>& row) {
  std::vector<OutlinePlace> found;
  for (const double along : wanted) {
    const auto nearest =
        std::min_element(row.begin(), row.end(), [&](const OutlinePlace& a, const OutlinePlace& b) {
          return std::abs(a.along - along) < std::abs(b.along - along);
        });
    if (found.empty() || nearest->along > found.back().along) found.push_back(*nearest);
  }
  return found;
}

class PerchBody {
 public:
  PerchBody(Setting& setting, const Reading& reading, const Response& response, std::uint64_t id)
      : setting_(setting),
        middle_(response),
        normal_(reading.direction.cast<float>().normalized()),
        id_(id),
        wants_(reading.wants) {
    for (const Quantity quantity : kRead) weights_[quantity] = setting.weights(quantity);
    for (const WantResult& want : wants_) weights_[want.want.quantity] = setting.weights(want.want.quantity);
  }

  // Of the back's row: the line must hold the perch's own place, at 0.
  void trace_reflected(const std::vector<OutlinePlace>& line, double length) {
    const std::vector<OutlinePlace> nodes =
        nearest_to({line.front().along, -length / 2, 0.0, length / 2, line.back().along}, line);
    std::vector<OutlinePlace> others;
    std::copy_if(nodes.begin(), nodes.end(), std::back_inserter(others),
                 [](const OutlinePlace& node) { return node.along != 0; });
    const std::vector<Response> traced = gathered(others, kReflected);
    std::size_t next = 0;
    for (const OutlinePlace& node : nodes) back_.add(node.along, node.along == 0 ? middle_ : traced[next++]);
  }

  // Of the flank's, which may lie in the shadow of the branch.
  void trace_reflected_on_flank(const std::vector<OutlinePlace>& outline, double length) {
    std::vector<OutlinePlace> row;
    std::copy_if(outline.begin(), outline.end(), std::back_inserter(row),
                 [](const OutlinePlace& place) { return place.flank; });
    if (row.empty()) return;
    const std::vector<OutlinePlace> nodes = nearest_to({-length / 2, 0.0, length / 2}, row);
    std::vector<Response> traced = gathered(nodes, kReflected);
    for (std::size_t i = 0; i < nodes.size(); ++i) flank_.add(nodes[i].along, std::move(traced[i]));
  }

  std::vector<Response> light(const std::vector<OutlinePlace>& places, const GatherEffort& effort) {
    std::vector<Response> responses = gathered(places, effort);
    for (std::size_t i = 0; i < places.size(); ++i) {
      (places[i].flank ? flank_ : back_).put(places[i].along, responses[i]);
      // The perch's own reading is known better.
      if (!places[i].flank && places[i].along == 0) responses[i] = middle_;
    }
    return responses;
  }

  BodyPlace place_of(const OutlinePlace& place, const Response& response) const {
    BodyPlace result{place.flank, place.along, place.at, {}, std::nullopt};
    for (const Quantity quantity : kRead)
      result.values[quantity] = weigh_facing(response, weights_.at(quantity));
    if (wants_.empty()) return result;
    result.wants_met = std::all_of(wants_.begin(), wants_.end(), [&](const WantResult& want) {
      return within(want.want.limits, weigh_facing(response, weights_.at(want.want.quantity)).value);
    });
    return result;
  }

  double value(const Response& response, Quantity quantity) const {
    return weigh_facing(response, weights_.at(quantity)).value;
  }

 private:
  std::vector<Response> gathered(const std::vector<OutlinePlace>& places, const GatherEffort& effort) {
    std::vector<Receiver> receivers;
    for (const OutlinePlace& place : places) {
      receivers.push_back(
          fixed_receiver(reading_place(setting_.scene, setting_.field, place.at, normal_), normal_, id_));
      receivers.back().mirror_chance = kMirrorChance;
    }
    std::vector<Response> responses =
        gather(setting_.field, receivers, std::vector(receivers.size(), effort));
    for (const Response& response : responses) setting_.spent += response.rays;
    return responses;
  }

  Setting& setting_;
  const Response& middle_;
  Vec3f normal_;
  std::uint64_t id_;
  const std::vector<WantResult>& wants_;
  std::map<Quantity, std::vector<SpectralD>> weights_;
  Reflected back_, flank_;
};

std::optional<double> share_met(const std::vector<BodyPlace>& places, bool flank) {
  double met = 0, all = 0;
  for (const BodyPlace& place : places)
    if (place.flank == flank && place.wants_met) ++all, met += *place.wants_met;
  return all > 0 ? std::optional(met / all) : std::nullopt;
}

// A lower limit on what warms or tans.
bool asks_to_bask(const Reading& reading) {
  return std::any_of(reading.wants.begin(), reading.wants.end(), [](const WantResult& result) {
    const Quantity quantity = result.want.quantity;
    const bool warms =
        quantity == Quantity::uvi || quantity == Quantity::irradiance || quantity == Quantity::infrared;
    return warms && result.want.limits.min.value_or(0) > 0;
  });
}

void find_beams(PerchBody& light, const std::vector<OutlinePlace>& line, BodyFindings& body) {
  const std::vector<Response> responses = light.light(line, kLine);
  std::vector<double> along;
  for (const OutlinePlace& place : line) along.push_back(place.along);
  body.line_from = along.front();
  body.line_to = along.back();
  for (const Quantity quantity : kBeams) {
    std::vector<double> values;
    for (const Response& response : responses) values.push_back(light.value(response, quantity));
    if (const auto beam = beam_of(along, values)) body.beams[quantity] = *beam;
  }
  body.nested = beams_nested(body.beams);
}

}  // namespace

std::vector<BodyFindings> read_bodies(Setting& setting, double back, std::pair<double, double> size,
                                      const std::vector<Reading>& readings,
                                      const std::vector<Response>& responses,
                                      const std::optional<std::string>& sun_perch, std::uint64_t stream) {
  const Scene& scene = setting.scene;
  std::vector<BodyFindings> bodies;
  for (std::size_t i = 0; i < scene.perches.size(); ++i) {
    const Reading& reading = readings[i];
    if (!scene.inside(reading.at)) continue;
    BodyFindings body;
    body.perch = reading.name;
    body.back = back;
    body.length = size.first;
    body.height = size.second;
    const BodyAxis axis = body_axis(scene, scene.perches[i]);
    body.axis = axis.direction;
    body.axis_origin = axis.origin;
    body.direction = reading.direction;

    PerchBody light(setting, reading, responses[i], mix64(setting.stream(kBodyStage, stream), i));
    const std::vector<OutlinePlace> line =
        body_line(scene, reading.at, body.axis, kLineLengths * body.length, body.length / kStepsALength);
    light.trace_reflected(line, body.length);
    const std::vector<OutlinePlace> outline =
        body_outline(scene, reading.at, body.axis, body.length, body.height, body.direction);
    light.trace_reflected_on_flank(outline, body.length);
    const std::vector<Response> lit = light.light(outline, kOutline);
    for (std::size_t k = 0; k < outline.size(); ++k)
      body.places.push_back(light.place_of(outline[k], lit[k]));
    for (const Quantity quantity : kRead) {
      std::vector<double> values;
      for (const BodyPlace& place : body.places) values.push_back(place.values.at(quantity).value);
      if (!values.empty()) body.spread[quantity] = spread_of(values);
    }
    body.wants_share = share_met(body.places, false);
    body.flank_wants_share = share_met(body.places, true);
    find_beams(light, line, body);
    const auto heat = body.spread.find(Quantity::infrared);
    body.for_basking = (reading.name == sun_perch || asks_to_bask(reading)) && heat != body.spread.end() &&
                       heat->second.greatest >= kHeat && body.beams.contains(Quantity::infrared);
    bodies.push_back(std::move(body));
  }
  return bodies;
}

}  // namespace boughlight
