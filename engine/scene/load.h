// Reading scenes and fixtures from YAML, with every mistake located. The only room that names yaml-cpp.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "scene/model.h"
#include "scene/range.h"

namespace boughlight {

// Throws InputError with all mistakes of the file and of the fixture files it names.
Scene load_scene(const std::filesystem::path& file);
// The same, as though the file held `text`.
Scene load_scene(const std::filesystem::path& file, const std::string& text);

// A lamp by the library's name or by path, the latter relative to a folder. A name without '/' and without
// .yaml is looked up in the library. Throws InputError.
std::shared_ptr<const Fixture> load_fixture(const std::string& name_or_path,
                                            const std::filesystem::path& relative_to);

// A material of the library; throws InputError when there is none of that name.
Material load_library_material(const std::string& name);

// Every named range of the library, files by name. Throws InputError.
std::vector<NamedRange> load_library_ranges();

// Names in the library, sorted.
std::vector<std::string> library_lamp_names();
std::vector<std::string> library_material_names();

}  // namespace boughlight
