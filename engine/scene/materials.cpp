#include "scene/materials.h"

#include <fmt/format.h>

#include <algorithm>

#include "scene/library_cache.h"
#include "scene/load.h"

namespace boughlight {

namespace {

bool contains(const std::vector<std::string>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

}  // namespace

std::optional<Material> read_library_material(const std::string& name, Problems& problems) {
  static LibraryCache<Material> known;
  return known.get(library_file("materials", name), problems,
                   [&](const Document& document) -> std::optional<Material> {
                     const Field top(document);
                     if (!check_version(top, "material", "a material")) return std::nullopt;
                     return read_material(top, name, true);
                   });
}

void MaterialPool::read_own(const Field& field) {
  const std::vector<std::string> library = library_material_names();
  for (const NamedField& entry : named_fields(field, "a mapping of names to materials")) {
    if (entry.name == "open") {
      entry.value.fail_at(entry.key_mark, "'open' stands for no material: choose another name");
    } else if (contains(library, entry.name)) {
      entry.value.fail_at(entry.key_mark, "the library has a material of this name: choose another name");
    }
    own_[entry.name] = read_material(entry.value, entry.name, false);
  }
}

std::optional<int> MaterialPool::load(const std::string& name) {
  if (const auto at = loaded_.find(name); at != loaded_.end()) return at->second;
  std::optional<Material> material;
  if (const auto own = own_.find(name); own != own_.end()) {
    material = own->second;
  } else if (contains(library_material_names(), name)) {
    material = read_library_material(name, problems_);
  } else {
    return std::nullopt;
  }
  if (material) used_.push_back(*material);
  return loaded_[name] = material ? static_cast<int>(used_.size()) - 1 : kWrongMaterial;
}

int MaterialPool::find(const Field& field, const std::vector<SurfaceKind>& kinds) {
  const auto name = field.text("the name of a material");
  if (!name) return kWrongMaterial;
  const std::optional<int> index = load(*name);
  if (!index) {
    std::vector<std::string> known = library_material_names();
    for (const auto& [own, material] : own_) known.push_back(own);
    field.fail(
        fmt::format("there is no material {}{}: it must be one of 'materials' here or of the library "
                    "(boughlight library)",
                    field.found(), did_you_mean(*name, known)));
    return kWrongMaterial;
  }
  if (*index < 0) return kWrongMaterial;
  const Material& material = used_[static_cast<std::size_t>(*index)];
  if (std::find(kinds.begin(), kinds.end(), material.kind) == kinds.end()) {
    std::vector<std::string> names;
    for (SurfaceKind kind : kinds) names.emplace_back(surface_kind_name(kind));
    field.fail(fmt::format("'{}' is a material of kind {}; {} is allowed here", *name,
                           surface_kind_name(material.kind), one_of(names)));
    return kWrongMaterial;
  }
  return *index;
}

}  // namespace boughlight
