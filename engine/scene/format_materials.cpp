// What materials may hold.
#include "scene/format.h"
#include "scene/format_forms.h"

namespace boughlight::format {

namespace {

const Key kReflectance{"reflectance", true, "the share of light sent back: a ratio, a table or {file: ...}",
                       spectral_ratio_forms()};
const Key kTransmittance{"transmittance", true, "the share let through: a ratio, a table or {file: ...}",
                         spectral_ratio_forms()};
const Key kIndex{
    "index", false, "the refractive index", {number_form(Dimension::number, Range::between(1, 3))}, "1.5"};
const Key kLayers{"layers", false, "how many lie on each other", {whole_form(1, 10)}, "1"};
const Key kSoiling{
    "soiling", false, "the share that dirt lets through", {ratio_form(Range::above(0, 1))}, "100 %"};
const Key kSpread{"spread",       false, "the doubt in what it lets through, one standard deviation",
                  {ratio_form()}, {},    "doubt.mesh"};
const Key kWire{"wire", true, "the wire's diameter", {length_form(Range::between(1e-6, 0.1))}};

Key pitch() {
  const Form one = length_form(Range::between(1e-6, 1));
  return {"pitch",
          true,
          "the spacing of the wires: one, or [along u, along v]",
          {one, tuple_form("one spacing or [along u, along v]", {one, one})},
          {},
          {},
          "From centre to centre. u and v are x and y on top and floor, x and z on front and back, y and z "
          "on left and "
          "right."};
}

Key flat_transmittance() {
  return {"transmittance",
          true,
          "the share let through: a ratio, a table or {file: ...}",
          {ratio_form()},
          {},
          {},
          "Measured, and taken to be the same at all angles."};
}

std::vector<MappingKind> surfaces() {
  return {
      {"matte", {kReflectance}},
      {.word = "mesh",
       .keys = {flat_transmittance(), kLayers, kSoiling, kSpread},
       .given = "transmittance",
       .barred = {"wire", "pitch", "reflectance"},
       .why_barred = "a mesh has either a measured transmittance or wire, pitch and reflectance, not both"},
      {"mesh", {kReflectance, kWire, pitch(), kLayers, kSoiling, kSpread}},
      {"pane", {kTransmittance, kIndex}},
      {"leaf", {kReflectance, kTransmittance}}};
}

Keys keys(bool of_library) {
  Keys keys = {
      {"surface", true, "matte, mesh, pane or leaf", {word_form({"matte", "mesh", "pane", "leaf"})}},
      {"title", of_library, "what it is, for people", {text_form("a title")}, {}, "none"},
      {"source", of_library, "where the figures come from", {text_form("a source")}, {}, "not told"}};
  if (of_library) keys.push_back({"material", true, "the version of the format: 1", {word_form({"1"})}});
  return keys;
}

}  // namespace

const Mapping own_material{.name = "material",
                           .meaning = "what light does at a surface",
                           .keys = keys(false),
                           .by = "surface",
                           .kinds = surfaces()};

const Mapping library_material{.name = "library-material",
                               .meaning = "a material in a file of the library",
                               .keys = keys(true),
                               .by = "surface",
                               .kinds = surfaces()};

const Mapping ratio_file{.name = "ratio-file",
                         .meaning = "a table in a CSV file",
                         .keys = {{"file",
                                   true,
                                   "the name of a CSV file of wavelength (nm) and ratio",
                                   {file_form("the name of a CSV file")}}}};

Forms spectral_ratio_forms() {
  return {ratio_form(),
          entries_form("[wavelength, ratio]", number_form(Dimension::wavelength, Range::above(0, 1e6)),
                       ratio_form()),
          mapping_form(ratio_file)};
}

Form entries_form(std::string_view entry, const Form& x, const Form& y, std::size_t fewest) {
  return list_form("a table", {tuple_form(entry, {x, y})}, fewest);
}

}  // namespace boughlight::format
