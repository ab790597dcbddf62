// place-LAMP.json. Its names and shape are a contract with programs that read it.
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <set>

#include "assess/judge.h"
#include "report/ask_words.h"
#include "report/json_parts.h"
#include "report/json_plan.h"
#include "report/json_text.h"
#include "report/place_report.h"
#include "report/text.h"
#include "units/utf8.h"

namespace boughlight {
namespace {

constexpr std::array<std::array<std::string_view, 2>, 3> kSlackKeys = {
    {{"left", "right"}, {"front", "back"}, {"down", "up"}}};

Json hang_json(const Hang& hang) {
  return {{"x", six_digits(hang.x, "a place")},
          {"y", six_digits(hang.y, "a place")},
          {"gap", six_digits(hang.gap, "a place")}};
}

Json place_with_figures(const PlaceMap& map, const Hang& hang, const std::vector<Figure>& figures) {
  Json json = hang_json(hang);
  json["figures"] = at_place_json(map.scene, map.field.asks, figures);
  return json;
}

Json best(const PlaceMap& map) {
  Json json = place_with_figures(map, *map.spot, map.at_spot);
  for (std::size_t axis = 0; axis < 3; ++axis)
    for (std::size_t up = 0; up < 2; ++up)
      if (map.field.axes[axis].size() > 1)
        json["slack"][std::string(kSlackKeys[axis][up])] =
            slack_json(map.scene, map.field.asks, map.region.ways[axis][up]);
  return json;
}

Json map_json(const PlaceMap& map) {
  Json json = {{"x", numbers_json(map.lattice.x)},
               {"y", numbers_json(map.lattice.y)},
               {"gap", numbers_json(map.lattice.gap)},
               {"order", "x runs fastest, then y, then gap"}};
  put_region_maps(json, map.scene, map.field, map.region, map.changed);
  return json;
}

}  // namespace

std::string place_json(const PlaceMap& map) {
  const Scene& scene = map.scene;
  Json json = plan_head(scene);
  json["lamp"] = scene.lamps[map.lamp].name;
  json["top"] = {{"x", numbers_json({map.top.x0, map.top.x1})},
                 {"y", numbers_json({map.top.y0, map.top.y1})},
                 {"z", six_digits(map.top.z, "the top")}};
  json["own_body"] = scene.lamps[map.lamp].fixture->body ? "left out of the light" : "none";
  json["allowed"] = map.region.allowed;
  json["unsure"] = map.region.unsure;
  json["touching_another_lamp"] = map.region.blocked;
  json["places"] = map.lattice.size();
  if (map.present) json["now"] = place_with_figures(map, *map.present, map.at_present);
  if (map.region.allowed > 0) json["best"] = best(map);
  put_region(json, scene, map.field, map.region,
             [&](std::size_t choice) { return hang_json(map.lattice.hang(choice)); });
  json["unchanged"] = unchanged_json(scene, map.field, map.changed);
  json["map"] = map_json(map);
  json["verdict"] = whole_verdict_name(verdict_of(map));
  return json_text(json);
}

namespace {

std::string plain_name(const std::string& command, const std::string& lamp) {
  std::string name = command + "-";
  for (const char letter : lamp) {
    const auto byte = static_cast<unsigned char>(letter);
    const bool plain = byte >= 128 || std::isalnum(byte);
    if (plain) {
      name += letter;
    } else if (name.back() != '-') {
      name += '-';
    }
  }
  constexpr std::size_t kMost = 120;
  name.resize(letters_within(name, kMost).size());
  while (name.back() == '-') name.pop_back();
  return name;
}

}  // namespace

std::string lamp_file_name(const std::string& command, const std::vector<Lamp>& lamps, std::size_t lamp) {
  std::set<std::string> taken;
  std::string name;
  for (std::size_t i = 0; i <= lamp; ++i) {
    const std::string plain = name = plain_name(command, lamps[i].name);
    for (int number = 2; !taken.insert(name).second; ++number) name = fmt::format("{}-{}", plain, number);
  }
  return name;
}

}  // namespace boughlight
