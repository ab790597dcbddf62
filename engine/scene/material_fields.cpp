// One material's mapping: the keys of each kind of surface and the physics they must obey.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>

#include "scene/materials.h"
#include "scene/tables.h"

namespace boughlight {

namespace {

const Key kReflectance = {"reflectance", true,
                          "the share of light sent back: a ratio, a table or {file: ...}"};
const Key kTransmittance = {"transmittance", true, "the share let through: a ratio, a table or {file: ...}"};
const Key kIndex = {"index", false, "the refractive index"};
const Key kLayers = {"layers", false, "how many lie on each other"};
const Key kSoiling = {"soiling", false, "the share that dirt lets through"};
const Key kSpread = {"spread", false, "the doubt in what it lets through, one standard deviation"};

Key wanted(Key key, bool required) {
  key.required = required;
  return key;
}

Keys keys_of(std::optional<SurfaceKind> kind, bool measured_mesh, bool library_file) {
  const bool woven = kind == SurfaceKind::mesh && !measured_mesh;
  const Key wire = {"wire", woven, "the wire's diameter"};
  const Key pitch = {"pitch", woven, "the spacing of the wires: one, or [along u, along v]"};
  Keys keys = {{"surface", true, "matte, mesh, pane or leaf"},
               {"title", library_file, "what it is, for people"},
               {"source", library_file, "where the figures come from"}};
  if (library_file) keys.push_back({"material", true, "the version of the format: 1"});
  Keys own;
  if (!kind) {
    own = {wanted(kReflectance, false),
           wanted(kTransmittance, false),
           kIndex,
           wire,
           pitch,
           kLayers,
           kSoiling,
           kSpread};
  } else if (*kind == SurfaceKind::matte) {
    own = {kReflectance};
  } else if (*kind == SurfaceKind::leaf) {
    own = {kReflectance, kTransmittance};
  } else if (*kind == SurfaceKind::pane) {
    own = {kTransmittance, kIndex};
  } else {
    own = {
        wanted(kReflectance, woven), wanted(kTransmittance, false), wire, pitch, kLayers, kSoiling, kSpread};
  }
  keys.insert(keys.end(), own.begin(), own.end());
  return keys;
}

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
      transmittance_field->fail(fmt::format(
          "reflectance and transmittance add up to {} at {} nm; a leaf cannot give back more than 1",
          print_number(sum), print_number(nm, 5)));
      return;
    }
  }
  material.reflectance = reflectance->bin_means();
  material.transmittance = transmittance->bin_means();
}

void read_pane(const Fields& keys, Material& material) {
  if (const auto index = keys.get("index")) {
    material.index = index->number(Dimension::number, "", Range::between(1, 3)).value_or(1.5);
  }
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
  if (const auto layers = keys.get("layers")) {
    material.layers = static_cast<int>(layers->whole_number(1, 10).value_or(1));
  }
  if (const auto soiling = keys.get("soiling")) {
    material.soiling = soiling->ratio(Range::above(0, 1)).value_or(1);
  }
  if (const auto spread = keys.get("spread")) material.spread = spread->ratio();
  if (const auto flat = keys.get("transmittance")) {
    material.flat = flat->ratio();
    for (std::string_view key : {"wire", "pitch", "reflectance"}) {
      if (const auto other = keys.get(key)) {
        other->fail("a mesh has either a measured transmittance or wire, pitch and reflectance, not both");
      }
    }
    return;
  }
  if (const auto reflectance = keys.get("reflectance")) {
    if (const auto table = read_spectral_ratio(*reflectance)) material.reflectance = table->bin_means();
  }
  const auto wire_field = keys.get("wire"), pitch_field = keys.get("pitch");
  const auto wire = wire_field ? wire_field->length(Range::between(1e-6, 0.1)) : std::nullopt;
  if (!pitch_field) return;
  const Range pitch_range = Range::between(1e-6, 1);
  std::array<std::optional<double>, 2> pitch;
  if (pitch_field->is_list()) {
    const auto pair = pitch_field->list_of(2, "one spacing or [along u, along v]");
    if (!pair) return;
    pitch = {(*pair)[0].length(pitch_range), (*pair)[1].length(pitch_range)};
  } else {
    pitch[0] = pitch[1] = pitch_field->length(pitch_range);
  }
  if (!wire || !pitch[0] || !pitch[1]) return;
  material.wire = *wire;
  material.pitch = {*pitch[0], *pitch[1]};
  const double narrowest = std::min(*pitch[0], *pitch[1]);
  if (*wire >= narrowest) {
    wire_field->fail(fmt::format("the wire of {} mm leaves no opening at a pitch of {} mm",
                                 print_number(*wire * 1000), print_number(narrowest * 1000)));
  }
}

}  // namespace

std::optional<Material> read_material(const Field& field, const std::string& name, bool library_file) {
  const std::size_t before = field.document().problems->count();
  // The kind decides which keys there are, so it is looked up before they are checked.
  std::optional<SurfaceKind> kind;
  bool measured_mesh = false;
  for (const YamlEntry& entry : field.node().entries) {
    for (SurfaceKind k : {SurfaceKind::matte, SurfaceKind::mesh, SurfaceKind::pane, SurfaceKind::leaf}) {
      if (entry.key == "surface" && entry.value.text == surface_kind_name(k)) kind = k;
    }
    measured_mesh = measured_mesh || entry.key == "transmittance";
  }
  const Fields keys(field, keys_of(kind, measured_mesh, library_file));
  Material material;
  material.name = name;
  if (const auto title = keys.get("title")) material.title = title->text("a title").value_or("");
  if (const auto source = keys.get("source")) material.source = source->text("a source").value_or("");
  if (const auto version = keys.get("material")) version->word({"1"});
  if (const auto surface = keys.get("surface")) surface->word({"matte", "mesh", "pane", "leaf"});
  if (kind) {
    material.kind = *kind;
    switch (*kind) {
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
