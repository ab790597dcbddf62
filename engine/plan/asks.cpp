#include "plan/asks.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "assess/judge.h"

namespace boughlight {
namespace {

std::size_t figure_index(Asks& asks, const FigureKey& key) {
  const auto found = std::find(asks.figures.begin(), asks.figures.end(), key);
  if (found != asks.figures.end()) return static_cast<std::size_t>(found - asks.figures.begin());
  asks.figures.push_back(key);
  return asks.figures.size() - 1;
}

void add(Asks& asks, const FigureKey& key, const Limits& limits) {
  const std::size_t figure = figure_index(asks, key);
  if (limits.min && *limits.min > 0) asks.asks.push_back({figure, true, *limits.min});
  if (limits.max) asks.asks.push_back({figure, false, *limits.max});
}

}  // namespace

Asks asks_of(const Scene& scene) {
  Asks asks;
  std::size_t item = 0;
  const auto add_reading = [&](const std::vector<Want>& wants) {
    for (const Want& want : wants) add(asks, {FigureKind::reading, item, want.quantity, {}, {}}, want.limits);
    ++item;
  };
  for (const Perch& perch : scene.perches) add_reading(perch.wants);
  for (const Plant& plant : scene.plants) add_reading(plant.needs);
  for (const Point& point : scene.points) add_reading(point.wants);
  if (scene.animal) {
    figure_index(asks, {FigureKind::reach, 0, Quantity::uvi, {}, {}});
    for (const Want& want : scene.animal->never)
      add(asks, {FigureKind::reach, 0, want.quantity, {}, {}}, want.limits);
    if (!scene.animal->refuge.empty())
      figure_index(asks, {FigureKind::share, 0, {}, "refuge", ZoneShare::volume});
  }
  for (const ZoneWant& want : scene.zone_wants)
    add(asks, {FigureKind::share, 0, {}, want.zone, want.share}, want.limits);
  return asks;
}

Limits limits_on(const Asks& asks, std::size_t figure) {
  Limits limits;
  for (const Ask& ask : asks.asks)
    if (ask.figure == figure) (ask.at_least ? limits.min : limits.max) = ask.limit;
  return limits;
}

const std::string& reading_name(const Scene& scene, std::size_t item) {
  if (item < scene.perches.size()) return scene.perches[item].name;
  item -= scene.perches.size();
  if (item < scene.plants.size()) return scene.plants[item].name;
  item -= scene.plants.size();
  if (item < scene.points.size()) return scene.points[item].name;
  throw std::out_of_range("reading_name: no such reading");
}

Margin margin_of(const Figure& figure, const Ask& ask) {
  const double half = kIntervalFactor * figure.se, size = ask.limit > 0 ? ask.limit : 1;
  const double spare = (ask.at_least ? figure.value - ask.limit : ask.limit - figure.value) / size;
  return {spare - half / size, spare + half / size};
}

Margin least_margin(const std::vector<Figure>& figures, const Asks& asks) {
  Margin least;
  for (const Ask& ask : asks.asks) {
    const Margin margin = margin_of(figures[ask.figure], ask);
    least.sure = std::min(least.sure, margin.sure);
    least.maybe = std::min(least.maybe, margin.maybe);
  }
  return least;
}

}  // namespace boughlight
