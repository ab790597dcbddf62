// Any bytes as an OBJ model: triangles whose corners are there and finite, and a shell that knows its inside,
// or the mistakes are told.
#include <algorithm>
#include <cmath>

#include "memory_file.h"
#include "scene/obj_file.h"
#include "units/problem.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  using namespace boughlight;
  const fuzz::MemoryFile file(bytes, size);
  try {
    const ObjSurface surface = read_obj(file.path());
    if (surface.triangles.empty() || surface.lines.size() != surface.triangles.size()) std::abort();
    double far = 0;
    for (const Triangle& triangle : surface.triangles) {
      for (const std::uint32_t corner : triangle) {
        if (corner >= surface.vertices.size() || !surface.vertices[corner].allFinite()) std::abort();
        far = std::max(far, surface.vertices[corner].cwiseAbs().maxCoeff());
      }
    }
    // A scene's lengths end well before that: see where scenes place their models.
    if (far > 1000) return 0;
    const Shell shell(surface.vertices, surface.triangles);
    const Vec3 middle = 0.5 * (shell.low() + shell.high());
    if (!std::isfinite(shell.area()) || shell.area() < 0 || !middle.allFinite()) std::abort();
    if (shell.contains(middle) && !shell.closed()) std::abort();
    if (shell.contains(shell.high() + Vec3::Ones())) std::abort();
    std::vector<Shell::Stretch> inside;
    shell.stretches(middle.x(), middle.y(), inside);
    double last = shell.low().z();
    for (const auto& [from, to] : inside) {
      if (!(from >= last && to >= from && to <= shell.high().z())) std::abort();
      last = to;
    }
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
  }
  return 0;
}
