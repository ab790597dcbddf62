// One material's mapping: the keys of each kind of surface and the physics they must obey.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>

#include "scene/materials.h"
#include "scene/tables.h"

namespace boughlight {

namespace {

// Every wavelength where either table bends, so that a limit on both can be checked everywhere.
std::vector<double> knots(const Table& a, const Table& b) {
  std::vector<double> all = a.x();
  all.insert(all.end(), b.x().begin(), b.x().end());
  if (all.empty()) all.push_back(kFirstNm);
  return all;
}

void read_leaf(const Fields& keys, Material& material) {
  const auto reflectance_field = keys.get("reflectance"), transmittance_field = keys.get("transmittance");
  const auto reflectance = reflectance_field ? read_spectral_ratio(*reflectance_field) : std::nullopt;
  const auto transmittance = transmittance_field ? read_spectral_ratio(*transmittance_field) : std::nullopt;
  if (!reflectance || !transmittance) return;
  for (double nm : knots(*reflectance, *transmittance)) {
    const double sum = reflectance->at(nm) + transmittance->at(nm);
    if (sum > 1 + 1e-9) {  // slack for decimal fractions that add up to 1
      const bool everywhere = reflectance->x().size() < 2 && transmittance->x().size() < 2;
      transmittance_field->fail(
          fmt::format("reflectance and transmittance add up to {}{}; a leaf cannot give back more than 1",
                      print_number(sum), everywhere ? "" : fmt::format(" at {} nm", print_number(nm, 5))));
      return;
    }
  }
  material.reflectance = reflectance->bin_means();
  material.transmittance = transmittance->bin_means();
}

void read_pane(const Fields& keys, Material& material) {
  material.index = keys.number("index").value_or(material.index);
  const auto field = keys.get("transmittance");
  const auto transmittance = field ? read_spectral_ratio(*field) : std::nullopt;
  if (!transmittance) return;
  // Both faces of a pane that absorbs nothing, with all reflections between them: (1 - R) / (1 + R).
  const double face = std::pow((material.index - 1) / (material.index + 1), 2);
  const double most = (1 - face) / (1 + face);
  const double given = transmittance->x().empty()
                           ? transmittance->at(kFirstNm)
                           : *std::max_element(transmittance->y().begin(), transmittance->y().end());
  if (given > most) {
    field->fail(fmt::format("is {}; the two faces of a pane of index {} let at most {} through",
                            print_number(given, 4), print_number(material.index),
                            print_number(std::floor(most * 1e4) / 1e4, 4)));
    return;
  }
  material.transmittance = transmittance->bin_means();
}

void read_mesh(const Fields& keys, Material& material) {
  material.layers = static_cast<int>(keys.whole_number("layers").value_or(1));
  material.soiling = keys.number("soiling").value_or(1);
  material.spread = keys.number("spread");
  if (keys.has("transmittance")) {
    material.flat = keys.number("transmittance");
    return;
  }
  if (const auto reflectance = keys.get("reflectance")) {
    if (const auto table = read_spectral_ratio(*reflectance)) material.reflectance = table->bin_means();
  }
  const auto wire = keys.number("wire");
  const auto pitch_field = keys.get("pitch");
  std::optional<std::array<double, 2>> pitch;
  if (pitch_field && pitch_field->is_list()) {
    if (const auto pair = keys.numbers("pitch")) pitch = {(*pair)[0], (*pair)[1]};
  } else if (const auto both = keys.number("pitch")) {
    pitch = {*both, *both};
  }
  if (!wire || !pitch) return;
  material.wire = *wire;
  material.pitch = {(*pitch)[0], (*pitch)[1]};
  const double narrowest = std::min((*pitch)[0], (*pitch)[1]);
  if (*wire >= narrowest) {
    keys.get("wire")->fail(fmt::format("the wire of {} mm leaves no opening at a pitch of {} mm",
                                       print_number(*wire * 1000), print_number(narrowest * 1000)));
  }
}

}  // namespace

std::optional<Material> read_material(const Field& field, const std::string& name, bool library_file) {
  const std::size_t before = field.document().problems->count();
  const Fields keys(field, library_file ? format::library_material : format::own_material);
  Material material;
  material.name = name;
  material.title = keys.text("title").value_or("");
  material.source = keys.text("source").value_or("");
  if (library_file) keys.word("material");
  if (const auto surface = keys.word("surface")) {
    for (SurfaceKind kind : {SurfaceKind::matte, SurfaceKind::mesh, SurfaceKind::pane, SurfaceKind::leaf})
      if (*surface == surface_kind_name(kind)) material.kind = kind;
    switch (material.kind) {
      case SurfaceKind::matte:
        if (const auto reflectance = keys.get("reflectance")) {
          if (const auto table = read_spectral_ratio(*reflectance)) material.reflectance = table->bin_means();
        }
        break;
      case SurfaceKind::leaf:
        read_leaf(keys, material);
        break;
      case SurfaceKind::pane:
        read_pane(keys, material);
        break;
      case SurfaceKind::mesh:
        read_mesh(keys, material);
        break;
    }
  }
  return field.document().problems->count() == before ? std::optional(material) : std::nullopt;
}

}  // namespace boughlight
