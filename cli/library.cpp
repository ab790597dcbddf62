// boughlight library

#include <fmt/format.h>

#include <set>
#include <string>
#include <utility>
#include <vector>

#include "assess/facts.h"
#include "commands.h"
#include "report/inventory.h"
#include "scene/load.h"
#include "terminal.h"

namespace boughlight::cli {
namespace {

std::string percent(double share) {
  return fmt::format("{:.0f} %", 100 * share);
}

std::string bands_text(const char* what, const SpectralD& factor) {
  const BandMeans means = band_means(factor);
  return fmt::format("{} UVB {}, UVA {}, visible {}", what, percent(means.uvb), percent(means.uva),
                     percent(means.visible));
}

std::string figures(const Material& material) {
  switch (material.kind) {
    case SurfaceKind::mesh:
      return fmt::format("{} goes straight through, face on", percent(open_share(material).value_or(0)));
    case SurfaceKind::pane:
      return bands_text("passes", material.transmittance);
    case SurfaceKind::leaf:
      return bands_text("reflects", material.reflectance) + "; " +
             bands_text("passes", material.transmittance);
    case SurfaceKind::matte:
      break;
  }
  return bands_text("reflects", material.reflectance);
}

std::string ranges_text(const std::vector<NamedRange>& ranges) {
  std::string text;
  for (const NamedRange& range : ranges) {
    const QuantityInfo& about = info(range.quantity);
    std::string line = fmt::format("{} {}. {}: {}. Known only {}.", about.label, limits_text(range.limits),
                                   range.title, range.meaning, range.status);
    for (const RangeDissent& dissent : range.dissents)
      line += fmt::format(" SOURCES DIFFER: {}: {}.", limits_text(dissent.limits), dissent.text);
    text += item(range.name, line);
  }
  return text;
}

std::string library_text(const std::vector<Fixture>& lamps, const std::vector<Material>& materials,
                         const std::vector<NamedRange>& ranges) {
  std::string text = "Lamps (fixture: NAME; 'boughlight fixture NAME' shows one)\n";
  for (const Fixture& lamp : lamps) {
    text +=
        item(lamp.name, fmt::format("{} [{}; {}]", lamp.title, lamp.emitter->describe(), lamp.distribution));
  }
  constexpr std::pair<SurfaceKind, const char*> kGroups[] = {
      {SurfaceKind::mesh, "Meshes (faces: NAME)"},
      {SurfaceKind::pane, "Panes (faces: NAME)"},
      {SurfaceKind::matte, "Surfaces (faces, branches, boards, models: NAME)"},
      {SurfaceKind::leaf, "Leaves (leaf: {material: NAME})"}};
  for (const auto& [kind, heading] : kGroups) {
    text += fmt::format("\n{}\n", heading);
    for (const Material& material : materials) {
      if (material.kind != kind) continue;
      text += item(material.name, fmt::format("{} [{}]", material.title, figures(material)));
    }
  }
  text += "\nNamed ranges (wants: {uvi: {range: NAME}})\n" + ranges_text(ranges);
  std::set<std::string> sources;
  for (const NamedRange& range : ranges)
    if (sources.insert(range.source).second) text += "\n  " + set_in_columns(range.source, 2, 2) + "\n";
  return text + "\nEach file under fixtures/ names the source of its figures.\n";
}

int run_library(const CommonOptions& options) {
  std::vector<Fixture> lamps;
  for (const std::string& name : library_lamp_names()) lamps.push_back(*load_fixture(name, {}));
  std::vector<Material> materials;
  for (const std::string& name : library_material_names()) materials.push_back(load_library_material(name));
  const std::vector<NamedRange> ranges = load_library_ranges();
  if (options.json) {
    put(library_json(lamps, materials, ranges) + "\n");
  } else if (!options.quiet) {
    put(library_text(lamps, materials, ranges));
  }
  return kAllMet;
}

}  // namespace

Run declare_library(CLI::App& app) {
  app.footer(
      "Examples:\n"
      "  boughlight library\n"
      "  boughlight library | grep -i mesh\n"
      "  boughlight library --json | jq -r '.lamps[].name'");
  return [](const CommonOptions& options) { return run_library(options); };
}

}  // namespace boughlight::cli
