// Materials: reading one, and finding those that a scene names, its own first and then the library's. Private
// to this room.
#pragma once

#include <map>

#include "scene/field.h"
#include "scene/model.h"

namespace boughlight {

// Reads a material's mapping. In a library file `material`, `title` and `source` are required beside the
// rest. Nothing when something is wrong; it has then been reported.
std::optional<Material> read_material(const Field& field, const std::string& name, bool library_file);

// Reads a material of the library from its file; its mistakes are added to `problems`.
std::optional<Material> read_library_material(const std::string& name, Problems& problems);

// Not -1, which is an open face: a wrong name must not raise a second alarm about an opening.
inline constexpr int kWrongMaterial = -2;

class MaterialPool {
 public:
  // `used` grows by each material that is asked for.
  MaterialPool(std::vector<Material>& used, Problems& problems) : used_(used), problems_(problems) {}

  // The scene's `materials`, all checked whether in use or not.
  void read_own(const Field& field);

  // The index in `used` of the material that a field names; kWrongMaterial when there is none of that name or
  // of one of the kinds, which has then been reported.
  int find(const Field& field, const std::vector<SurfaceKind>& kinds);

 private:
  // What became of a name: an index into used_, or kWrongMaterial when its declaration is wrong.
  std::optional<int> load(const std::string& name);

  std::vector<Material>& used_;
  Problems& problems_;
  std::map<std::string, std::optional<Material>> own_;
  std::map<std::string, int> loaded_;
};

}  // namespace boughlight
