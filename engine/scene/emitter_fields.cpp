// The radiating shape of a lamp and the law by which it radiates.

#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "scene/fixture_file.h"
#include "scene/tables.h"
#include "spectrum/lm63.h"

namespace boughlight {

namespace {

constexpr double kDegree = std::numbers::pi / 180;

std::string degrees(double angle) {
  return print_number(angle / kDegree, 4) + " deg";
}

std::unique_ptr<AngularForm> read_intensity_table(const Fields& keys, std::string& words) {
  const auto field = keys.get("intensity");
  if (!field) return nullptr;
  auto points = read_points(*field, keys.key("intensity").form(Form::Kind::list));
  if (!points) return nullptr;
  if (std::none_of(points->y.begin(), points->y.end(), [](double y) { return y > 0; })) {
    field->fail("holds no intensity above 0");
    return nullptr;
  }
  words = fmt::format("intensity table of {} angles", points->x.size());
  return make_intensity_table(std::move(points->x), std::move(points->y));
}

std::unique_ptr<AngularForm> read_photometric_form(const Fields& keys, std::string& words) {
  const auto field = keys.get("file");
  const auto path = field ? file_beside(*field, "the name of an LM-63 file") : std::nullopt;
  if (!path) return nullptr;
  try {
    Photometry photometry = read_lm63(*path);
    words = fmt::format("photometric file {}", path->filename().string());
    return make_photometric_form(std::move(photometry));
  } catch (const InputError& problems) {
    field->document().problems->add_all(problems);
    return nullptr;
  }
}

// The law of a distribution other than Lambert's; null for Lambert's, or after a mistake was reported.
std::unique_ptr<AngularForm> read_form(const Field& field, const std::string& shape, std::string& words) {
  static const std::vector<std::string> kForms = {"lambert", "isotropic", "cosine-power",
                                                  "trough",  "table",     "ies"};
  std::optional<std::string> form;
  if (field.is_map()) {
    for (const YamlEntry& entry : field.node().entries) {
      if (entry.key == "form") form = entry.value.text;
    }
  } else {
    form = field.word(kForms);
    if (!form) return nullptr;
  }
  const MappingKind* kind = form ? format::distribution.kind(*form, {}) : nullptr;
  // A bare word stands for a form without further figures; one that needs some is told so.
  if (!field.is_map() && !kind->keys.empty()) {
    const Key& figure = kind->keys.front();
    field.fail(fmt::format("the form {0} needs a figure: {{form: {0}, {1}: ...}} ({2})", *form, figure.name,
                           figure.meaning));
    return nullptr;
  }
  if (form == "trough" && shape != "tube") {
    field.fail(fmt::format("a trough holds a tube, but the emitter is of shape {}", shape));
    return nullptr;
  }
  if (!field.is_map()) {
    if (form == "lambert") return nullptr;
    words = "equal in all directions";
    return make_isotropic();
  }
  const Fields keys(field, format::distribution);
  keys.word("form");
  if (form == "isotropic") {
    words = "equal in all directions";
    return make_isotropic();
  }
  if (form == "cosine-power") {
    const auto half = keys.number("half_angle");
    if (!half) return nullptr;
    words = fmt::format("cosine power, half at {}", degrees(*half));
    return make_cosine_power(*half);
  }
  if (form == "trough") {
    const auto cutoff = keys.number("cutoff");
    if (!cutoff) return nullptr;
    words = fmt::format("trough, cut off at {}", degrees(*cutoff));
    return make_trough(*cutoff);
  }
  if (form == "ies") return read_photometric_form(keys, words);
  return form == "table" ? read_intensity_table(keys, words) : nullptr;
}

}  // namespace

std::optional<EmitterRead> read_emitter(const Field& field, const std::optional<Field>& distribution) {
  const std::size_t before = field.document().problems->count();
  const Fields keys(field, format::emitter);
  const std::string shape = keys.word("shape").value_or("");
  const double length = keys.number("length").value_or(0), diameter = keys.number("diameter").value_or(0),
               width = keys.number("width").value_or(0);

  EmitterRead read;
  read.distribution = "Lambert's cosine law";
  std::unique_ptr<AngularForm> form;
  if (distribution) form = read_form(*distribution, shape, read.distribution);
  if (field.document().problems->count() > before) return std::nullopt;
  if (shape == "tube") read.emitter = make_tube_emitter(length, diameter, std::move(form));
  if (shape == "disc") read.emitter = make_disc_emitter(diameter, std::move(form));
  if (shape == "rectangle") read.emitter = make_rectangle_emitter(length, width, std::move(form));
  if (shape == "sphere") read.emitter = make_sphere_emitter(diameter, std::move(form));
  if (shape == "point") read.emitter = make_point_emitter(std::move(form));
  return read.emitter ? std::optional(read) : std::nullopt;
}

}  // namespace boughlight
