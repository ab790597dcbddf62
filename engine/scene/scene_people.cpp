// The room's air, and where people work.

#include <fmt/format.h>

#include <algorithm>

#include "scene/enclosure.h"
#include "scene/scene_reader.h"

namespace boughlight {

void SceneReader::read_air(const Field& field) {
  const Fields keys(field, format::air);
  Air air;
  air.mark = field.mark();
  const auto day = keys.number("day");
  air.day_c = day.value_or(0);
  air.night_c = keys.number("night");
  air.hot_c = keys.number("hot");
  air.cold_c = keys.number("cold");
  const auto check = [&](std::string_view key, const std::optional<double>& found, bool above,
                         std::string_view meaning) {
    if (!day || !found || (above ? *found >= *day : *found <= *day)) return;
    keys.get(key)->fail(fmt::format("{} C is {} the day's {} C: {}", print_number(*found, 4),
                                    above ? "below" : "above", print_number(*day, 4), meaning));
  };
  check("night", air.night_c, false, "the night is no warmer than the day");
  check("hot", air.hot_c, true, "'hot' is the hottest day that is expected");
  check("cold", air.cold_c, false, "'cold' is the coldest day that is expected");
  if (const auto from = keys.get("warm_from")) {
    if (const auto text = from->text("a time of day such as \"09:30\"")) {
      std::string why;
      air.warm_from_h = parse_clock_time(*text, why);
      if (!air.warm_from_h) from->fail(why);
    }
  }
  scene_.air = std::move(air);
}

void SceneReader::read_workplaces(const Field& field) {
  for (const Field& item : field.list("a list of workplaces").value_or(std::vector<Field>())) {
    const Fields keys(item, format::workplace);
    Workplace workplace;
    workplace.mark = item.mark();
    workplace.name = item_name(keys, workplace_names_);
    workplace.at = keys.vector("at").value_or(Vec3::Zero());
    if (const auto facing = keys.get("facing")) {
      workplace.facing = read_facing(*facing).value_or(workplace.facing);
    }
    if (const auto open = keys.get("open")) read_doors(*open, workplace);
    workplace.hours_a_day = keys.number("daily").value_or(0);
    scene_.workplaces.push_back(std::move(workplace));
  }
}

void SceneReader::read_doors(const Field& field, Workplace& workplace) {
  std::vector<std::string> boxes, sides;
  for (const Box& box : scene_.boxes) boxes.push_back(box.name);
  for (const Side side : kSides) sides.emplace_back(side_name(side));
  for (const NamedField& entry : named_fields(field, "a mapping of boxes to faces, {cage: [front]},")) {
    const auto box = std::find(boxes.begin(), boxes.end(), entry.name);
    if (box == boxes.end()) {
      // Without sound boxes there is nothing to compare with.
      if (boxes.empty()) continue;
      entry.value.fail_at(entry.key_mark, fmt::format("is no box of the enclosure{}; allowed: {}",
                                                      did_you_mean(entry.name, boxes), one_of(boxes)));
      continue;
    }
    const auto index = static_cast<std::size_t>(box - boxes.begin());
    const auto doors =
        entry.value.is_scalar()
            ? std::vector{entry.value}
            : entry.value.list("a list of faces such as [front]").value_or(std::vector<Field>());
    for (const Field& door : doors) {
      const auto word = door.word(sides);
      if (!word) continue;
      const Side side =
          kSides[static_cast<std::size_t>(std::find(sides.begin(), sides.end(), *word) - sides.begin())];
      const std::pair<std::size_t, Side> face{index, side};
      if (std::find(workplace.open.begin(), workplace.open.end(), face) != workplace.open.end()) {
        door.fail("is named twice: leave it out");
      } else if (uncovered_share(scene_.boxes, static_cast<int>(index), side) <= kCovered) {
        door.fail("another box covers this side wholly: it cannot be opened");
      } else if (scene_.boxes[index].face[static_cast<std::size_t>(side)] == -1) {
        door.fail("is open already: leave it out");
      } else {
        workplace.open.push_back(face);
      }
    }
  }
}

}  // namespace boughlight
