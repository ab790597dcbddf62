// A perch moved up or down, with what it sits on.
#pragma once

#include <optional>
#include <string>
#include <utility>

#include "plan/top.h"

namespace boughlight {

// What moves with a perch: the branch or board that it sits on, and every other perch on that.
struct PerchSeat {
  std::size_t perch = 0;              // index into Scene::perches
  std::optional<std::size_t> branch;  // the one that it sits on
  std::optional<std::size_t> board;
  std::vector<std::size_t> perches;  // all that move, the perch among them
  std::string name;                  // of the branch or board; "" where it sits on neither
};
PerchSeat seat_of(const Scene& scene, std::size_t perch);

// How deep the animal's back on the perch is below the top's plane, m.
double depth_of(const Scene& scene, std::size_t perch, const Top& top);

// How far the seat may go, down (negative) and up, m: all of it stays inside the enclosure, perches' readings
// included, and those at least the animal's reach below the top.
std::pair<double, double> room_to_move(const Scene& scene, const PerchSeat& seat, const Top& top);

// The scene with the seat that much higher (lower where negative), m.
Scene with_seat_moved(const Scene& scene, const PerchSeat& seat, double up);

}  // namespace boughlight
