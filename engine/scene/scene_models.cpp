// Models: objects read from OBJ files, put where they stand.

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <numbers>

#include "scene/obj_file.h"
#include "scene/scene_reader.h"
#include "scene/tables.h"
#include "scene/triangle_tests.h"

namespace boughlight {

namespace {

constexpr double kLargestModel = 20;     // m, along x, y or z
constexpr double kSmallestModel = 0.01;  // m; below it the scale is probably a slip
constexpr double kOut = 1e-3;            // m; what stands this little out of the enclosure is not told

// From the file's axes to the scene's: its y axis to up where `y_is_up`, then about x, y and z in turn.
std::optional<Eigen::Matrix3d> read_rotation(const Fields& keys) {
  using Turn = Eigen::AngleAxisd;
  Eigen::Matrix3d rotation = Eigen::Matrix3d::Identity();
  bool good = true;
  if (keys.has("up")) {
    const auto axis = keys.word("up");
    good = axis.has_value();
    // Exact, so that what is level in the file stays level.
    if (axis == "y") rotation << 1, 0, 0, 0, 0, -1, 0, 1, 0;
  }
  const auto turn = keys.get("turn");
  if (!turn) return good ? std::optional(rotation) : std::nullopt;
  if (turn->is_scalar()) {
    const auto angle = keys.number("turn");
    if (!angle || !good) return std::nullopt;
    return Turn(*angle, Vec3::UnitZ()) * rotation;
  }
  const auto angles = keys.vector("turn");
  for (int axis = 0; angles && axis < 3; ++axis)
    rotation = Turn((*angles)[axis], Vec3::Unit(axis)) * rotation;
  return angles && good ? std::optional(rotation) : std::nullopt;
}

// The surface where it stands, or nothing after reporting at `field` what is wrong with its size or place.
std::shared_ptr<const Shell> placed(const ObjSurface& surface, const Vec3& at, const Eigen::Matrix3d& matrix,
                                    const Field& field) {
  constexpr std::uint32_t kUnused = std::numeric_limits<std::uint32_t>::max();
  std::vector<std::uint32_t> number(surface.vertices.size(), kUnused);
  std::vector<Vec3> vertices;
  std::vector<Triangle> triangles = surface.triangles;
  Eigen::AlignedBox3d box;
  for (Triangle& triangle : triangles)
    for (std::uint32_t& corner : triangle) {
      if (number[corner] == kUnused) {
        number[corner] = static_cast<std::uint32_t>(vertices.size());
        vertices.push_back(at + matrix * surface.vertices[corner]);
        box.extend(vertices.back());
      }
      corner = number[corner];
    }
  const std::string& unit = field.document().length_unit;
  if (const double size = box.sizes().maxCoeff(); size > kLargestModel) {
    field.fail(
        fmt::format("the model is {} m across; at most {} m is allowed (the file's numbers are in {}, the "
                    "scene's length_unit, times scale)",
                    print_number(size), print_number(kLargestModel), unit));
    return nullptr;
  }
  if (const double far = std::max(box.max().maxCoeff(), -box.min().minCoeff()); far > kLongest) {
    field.fail(
        fmt::format("the model lies {} m from the scene's origin; at most {} m is allowed ('at' is where the "
                    "file's own origin comes to stand)",
                    print_number(far), print_number(kLongest)));
    return nullptr;
  }
  auto shell = std::make_shared<const Shell>(vertices, triangles);
  if (!(shell->area() > 0)) {
    field.fail("no face of the model has an area");
    return nullptr;
  }
  return shell;
}

double distance_to(const std::vector<Box>& boxes, const Vec3& place) {
  double least = std::numeric_limits<double>::infinity();
  for (const Box& box : boxes) {
    least = std::min(least, (place - place.cwiseMax(box.corner).cwiseMin(box.far_corner())).norm());
  }
  return least;
}

// Whether any part of the surface lies in the box.
bool reaches_into(const Shell& shell, const Box& box) {
  const auto& at = shell.vertices();
  return std::any_of(shell.triangles().begin(), shell.triangles().end(), [&](const Triangle& t) {
    return meets_box({at[t[0]], at[t[1]], at[t[2]]}, box.corner, box.far_corner());
  });
}

std::string counted(std::size_t count, const char* thing) {
  return fmt::format("{} {}{}", count, thing, count == 1 ? "" : "s");
}

// What a keeper should know of the surface's faults.
std::vector<std::string> notes_on(const Model& model, const ObjSurface& surface, const std::string& unit) {
  const Shell& shell = *model.shell;
  std::vector<std::string> notes;
  const auto place = [&](const ShellFault& fault) {
    const Vec3 at = fault.at / size_of_unit(unit, Dimension::length);
    return fmt::format("the first at {}, {}, {} {} ({} line {})", print_number(at.x()), print_number(at.y()),
                       print_number(at.z()), unit, model.file, surface.lines[fault.triangle]);
  };
  if (!shell.closed()) {
    notes.push_back(
        fmt::format("model '{}' is not closed: {} of its surface {} open, {}; it stops light, but it "
                    "encloses nothing, and places within it count as open air",
                    model.name, counted(shell.open_edges(), "edge"), shell.open_edges() == 1 ? "is" : "are",
                    place(shell.first_open())));
  }
  if (shell.turned_edges() > 0) {
    notes.push_back(
        fmt::format("model '{}' has {} between faces that look to opposite sides, {}; both sides of a "
                    "face reflect alike, so no figure changes",
                    model.name, counted(shell.turned_edges(), "edge"), place(shell.first_turned())));
  } else if (shell.closed() && shell.signed_volume() < 0) {
    notes.push_back(
        fmt::format("model '{}' is inside out: its faces look inwards; both sides of a face reflect "
                    "alike, so no figure changes",
                    model.name));
  }
  if (shell.without_area() > 0) {
    notes.push_back(fmt::format("model '{}' has {} without area, which nothing meets", model.name,
                                counted(shell.without_area(), "triangle")));
  }
  const Vec3 size = shell.high() - shell.low();
  if (size.maxCoeff() < kSmallestModel) {
    notes.push_back(
        fmt::format("model '{}' is only {} mm across: the file's numbers are taken in {}, times scale",
                    model.name, print_number(1000 * size.maxCoeff()), unit));
  }
  return notes;
}

}  // namespace

void SceneReader::read_models(const Field& field) {
  std::map<std::string, std::shared_ptr<const ObjSurface>> files;  // null: wrong, and reported
  for (const Field& item : field.list("a list of models").value_or(std::vector<Field>())) {
    read_model(item, [&](const Field& file) -> std::shared_ptr<const ObjSurface> {
      const auto path = file_beside(file, "the name of an OBJ file");
      if (!path) return nullptr;
      const auto [at, fresh] = files.emplace(path->string(), nullptr);
      if (!fresh) return at->second;
      try {
        at->second = std::make_shared<const ObjSurface>(read_obj(*path));
      } catch (const InputError& mistakes) {
        problems_.add_all(mistakes);
      }
      return at->second;
    });
  }
}

void SceneReader::read_model(const Field& item, const ObjOpener& open) {
  const Fields keys(item, format::model);
  Model model;
  model.name = item_name(keys, solid_names_);
  const auto file = keys.get("file"), scale_field = keys.get("scale");
  const auto surface = file ? open(*file) : nullptr;
  const auto at = keys.vector("at");
  const auto scale = scale_field ? keys.number("scale") : std::optional(1.0);
  const auto rotation = read_rotation(keys);
  if (const auto material = keys.get("material")) {
    model.material = materials_.find(*material, {SurfaceKind::matte});
  }
  if (!surface || !at || !scale || !rotation) return;
  triangles_ += surface->triangles.size();
  if (triangles_ > kMostTriangles) {
    file->fail(fmt::format("with this one the models have {} triangles; all together may have {}", triangles_,
                           kMostTriangles));
    return;
  }
  const double unit = size_of_unit(document_.length_unit, Dimension::length);
  model.shell = placed(*surface, *at, *scale * unit * *rotation, scale_field.value_or(*file));
  if (!model.shell) return;
  model.file = file->node().text;
  for (std::string& note : notes_on(model, *surface, document_.length_unit)) {
    scene_.notes.push_back(std::move(note));
  }
  scene_.models.push_back(std::move(model));
}

void SceneReader::check_models() {
  const auto note_inside = [&](const Model& model, const char* kind, const std::string& name,
                               const char* what, const Vec3& place, const char* so) {
    if (!model.shell->contains(place)) return;
    scene_.notes.push_back(
        fmt::format("{} '{}'{} is inside model '{}': {}", kind, name, what, model.name, so));
  };
  const double back = scene_.animal ? scene_.animal->back : 0;
  for (const Model& model : scene_.models) {
    double out = 0;
    for (const Triangle& triangle : model.shell->triangles())
      for (const std::uint32_t corner : triangle)
        out = std::max(out, distance_to(scene_.boxes, model.shell->vertices()[corner]));
    // A slab may pass through with all its corners out, and a shell may hold the whole of a box.
    const bool any_inside = std::any_of(scene_.boxes.begin(), scene_.boxes.end(), [&](const Box& box) {
      return reaches_into(*model.shell, box) || model.shell->contains(box.corner + 0.5 * box.size);
    });
    if (scene_.boxes.empty()) out = 0;
    if (out > kOut) {
      scene_.notes.push_back(any_inside ? fmt::format("model '{}' stands {} cm out of the enclosure",
                                                      model.name, print_number(out * 100))
                                        : fmt::format("model '{}' is outside the enclosure", model.name));
    }
    for (const Perch& perch : scene_.perches) {
      note_inside(model, "perch", perch.name, ", where the back is,", perch.at + back * Vec3::UnitZ(),
                  "it reads nothing");
    }
    for (const Point& point : scene_.points) {
      note_inside(model, "point", point.name, "", point.at, "it reads nothing");
    }
    for (const Lamp& lamp : scene_.lamps) {
      note_inside(model, "lamp", lamp.name, "", lamp.at, "its light stays in there");
    }
  }
}

}  // namespace boughlight
