// The radiating shape of a lamp and the law by which it radiates.

#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "scene/fixture_file.h"
#include "scene/tables.h"
#include "spectrum/lm63.h"

namespace boughlight {

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kDegree = kPi / 180;
const Range kLampSize = Range::between(1e-4, 10);
// Below this the law is a beam narrower than the arithmetic can integrate.
constexpr double kNarrowest = 0.1 * kDegree;

std::string degrees(double angle) {
  return print_number(angle / kDegree, 4) + " deg";
}

std::unique_ptr<AngularForm> read_intensity_table(const Fields& keys, std::string& words) {
  const auto field = keys.get("intensity");
  if (!field) return nullptr;
  auto points = read_points(*field, {Dimension::angle, Range::between(0, kPi), Dimension::number,
                                     Range::at_least(0), "[angle, relative intensity]", 2});
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
  static const Key kForm = {"form", true, "lambert, isotropic, cosine-power, trough, table or ies"};
  std::optional<std::string> form;
  if (field.is_map()) {
    for (const YamlEntry& entry : field.node().entries) {
      if (entry.key == "form") form = entry.value.text;
    }
  } else {
    form = field.word(kForms);
    if (!form) return nullptr;
  }
  Keys allowed = {kForm};
  if (form == "cosine-power") allowed.push_back({"half_angle", true, "where the intensity has halved"});
  if (form == "trough") allowed.push_back({"cutoff", true, "how far either side of aim the light goes"});
  if (form == "table") allowed.push_back({"intensity", true, "entries [angle, relative intensity]"});
  if (form == "ies") allowed.push_back({"file", true, "the name of an LM-63 file"});
  // A bare word stands for a form without further figures; one that needs some is told so.
  if (!field.is_map() && allowed.size() > 1) {
    field.fail(fmt::format("the form {0} needs a figure: {{form: {0}, {1}: ...}} ({2})", *form,
                           allowed[1].name, allowed[1].meaning));
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
  const Fields keys(field, allowed);
  if (const auto name = keys.get("form")) name->word(kForms);
  if (form == "isotropic") {
    words = "equal in all directions";
    return make_isotropic();
  }
  if (form == "cosine-power") {
    const auto angle = keys.get("half_angle");
    const auto half =
        angle ? angle->number(Dimension::angle, "", {kNarrowest, kPi / 2, false, true}) : std::nullopt;
    if (!half) return nullptr;
    words = fmt::format("cosine power, half at {}", degrees(*half));
    return make_cosine_power(*half);
  }
  if (form == "trough") {
    const auto angle = keys.get("cutoff");
    const auto cutoff =
        angle ? angle->number(Dimension::angle, "", Range::between(kNarrowest, kPi)) : std::nullopt;
    if (!cutoff) return nullptr;
    words = fmt::format("trough, cut off at {}", degrees(*cutoff));
    return make_trough(*cutoff);
  }
  if (form == "ies") return read_photometric_form(keys, words);
  return form == "table" ? read_intensity_table(keys, words) : nullptr;
}

}  // namespace

std::optional<EmitterRead> read_emitter(const Field& field, const std::optional<Field>& distribution) {
  static const std::vector<std::string> kShapes = {"tube", "disc", "rectangle", "sphere", "point"};
  static const Key kLength = {"length", true, "its lit length"},
                   kDiameter = {"diameter", true, "its diameter"}, kWidth = {"width", true, "its width"};
  const std::size_t before = field.document().problems->count();
  std::string shape;
  for (const YamlEntry& entry : field.node().entries) {
    if (entry.key == "shape") shape = entry.value.text;
  }
  Keys allowed = {{"shape", true, "tube, disc, rectangle, sphere or point"}};
  if (shape == "tube" || shape == "rectangle") allowed.push_back(kLength);
  if (shape == "tube" || shape == "disc" || shape == "sphere") allowed.push_back(kDiameter);
  if (shape == "rectangle") allowed.push_back(kWidth);
  const Fields keys(field, allowed);
  if (const auto name = keys.get("shape")) name->word(kShapes);
  const auto size = [&](std::string_view key) {
    const auto value = keys.get(key);
    return value ? value->length(kLampSize).value_or(0) : 0;
  };
  const double length = size("length"), diameter = size("diameter"), width = size("width");

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
