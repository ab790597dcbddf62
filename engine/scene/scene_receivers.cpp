// Perches and points, and the wants on zones.

#include <fmt/format.h>

#include "scene/scene_reader.h"

namespace boughlight {

void SceneReader::read_perches(const Field& field) {
  for (const Field& item : field.list("a list of perches").value_or(std::vector<Field>())) {
    const Fields keys(item, format::perch);
    Perch perch;
    perch.mark = item.mark();
    perch.name = item_name(keys, reading_names_);
    if (const auto at = keys.vector("at")) {
      perch.at = *at;
      if (!scene_.boxes.empty() && !scene_.inside(*at)) {
        keys.get("at")->fail("is outside the enclosure: a perch must be inside (a point may be anywhere)");
      }
    }
    if (const auto along = keys.get("along")) perch.along = along->direction(true);
    if (const auto facing = keys.get("facing")) {
      perch.facing = read_facing(*facing).value_or(perch.facing);
    }
    if (const auto wants = keys.get("wants")) perch.wants = read_wants(*wants, WantRules::any, day_wants_);
    scene_.perches.push_back(std::move(perch));
  }
}

void SceneReader::read_points(const Field& field) {
  for (const Field& item : field.list("a list of points").value_or(std::vector<Field>())) {
    const Fields keys(item, format::point);
    Point point;
    point.mark = item.mark();
    point.name = item_name(keys, reading_names_);
    point.at = keys.vector("at").value_or(Vec3::Zero());
    if (const auto facing = keys.get("facing")) {
      point.facing = read_facing(*facing).value_or(point.facing);
    }
    if (const auto wants = keys.get("wants")) point.wants = read_wants(*wants, WantRules::any, day_wants_);
    scene_.points.push_back(std::move(point));
  }
}

void SceneReader::read_zones(const Field& field) {
  static constexpr ZoneShare kShares[] = {ZoneShare::volume, ZoneShare::perch, ZoneShare::each_level};
  const Fields keys(field, format::zones);
  for (const std::string_view zone : {"basking", "refuge"}) {
    const auto zone_field = keys.get(zone);
    if (!zone_field) continue;
    const bool defined =
        scene_.animal && !(zone == "basking" ? scene_.animal->basking : scene_.animal->refuge).empty();
    if (!defined)
      zone_field->fail(fmt::format("needs 'animal.{}', which says what counts as such a place", zone));
    const Fields shares(*zone_field, format::zone_shares);
    for (ZoneShare share : kShares) {
      const auto share_field = shares.get(zone_share_name(share));
      if (!share_field) continue;
      if (share == ZoneShare::perch && scene_.branches.empty() && scene_.boards.empty()) {
        share_field->fail("there is neither branch nor board in the scene to take a share of");
      }
      if (const auto limits = read_share_limits(*share_field)) {
        scene_.zone_wants.push_back({std::string(zone), share, *limits, share_field->mark()});
      }
    }
  }
}

}  // namespace boughlight
