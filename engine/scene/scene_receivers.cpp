// Perches and points, and the wants on zones.

#include <fmt/format.h>

#include "scene/scene_reader.h"

namespace boughlight {

void SceneReader::read_perches(const Field& field) {
  static const Keys kKeys = {{"name", true, "what it is called"},
                             {"at", true, "the place [x, y, z] on the branch"},
                             {"along", false, "the branch's direction there"},
                             {"facing", false, "brightest, up or a direction [x, y, z]"},
                             {"wants", false, "limits on what the animal gets"}};
  for (const Field& item : field.list("a list of perches").value_or(std::vector<Field>())) {
    const Fields keys(item, kKeys);
    Perch perch;
    perch.mark = item.mark();
    perch.name = item_name(keys, reading_names_);
    if (const auto at_field = keys.get("at")) {
      const auto at = at_field->position();
      if (at) perch.at = *at;
      if (at && !scene_.boxes.empty() && !scene_.inside(*at)) {
        at_field->fail("is outside the enclosure: a perch must be inside (a point may be anywhere)");
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
  static const Keys kKeys = {{"name", true, "what it is called"},
                             {"at", true, "the place [x, y, z] of the sensor"},
                             {"facing", false, "up, brightest or a direction [x, y, z]"},
                             {"wants", false, "limits on what the sensor reads"}};
  for (const Field& item : field.list("a list of points").value_or(std::vector<Field>())) {
    const Fields keys(item, kKeys);
    Point point;
    point.mark = item.mark();
    point.name = item_name(keys, reading_names_);
    if (const auto at = keys.get("at")) point.at = at->position().value_or(Vec3::Zero());
    if (const auto facing = keys.get("facing")) {
      point.facing = read_facing(*facing).value_or(point.facing);
    }
    if (const auto wants = keys.get("wants")) point.wants = read_wants(*wants, WantRules::any, day_wants_);
    scene_.points.push_back(std::move(point));
  }
}

void SceneReader::read_zones(const Field& field) {
  static const Keys kKeys = {{"basking", false, "wants on the basking zone"},
                             {"refuge", false, "wants on the refuge"}};
  static constexpr ZoneShare kShares[] = {ZoneShare::volume, ZoneShare::perch, ZoneShare::each_level};
  static const Keys kShareKeys = {{"volume", false, "its share of the free volume"},
                                  {"perch", false, "its share of branches and boards by length"},
                                  {"each_level", false, "its share at every level"}};
  const Fields keys(field, kKeys);
  for (const std::string_view zone : {"basking", "refuge"}) {
    const auto zone_field = keys.get(zone);
    if (!zone_field) continue;
    const bool defined =
        scene_.animal && !(zone == "basking" ? scene_.animal->basking : scene_.animal->refuge).empty();
    if (!defined)
      zone_field->fail(fmt::format("needs 'animal.{}', which says what counts as such a place", zone));
    const Fields shares(*zone_field, kShareKeys);
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
