#include "scene/library.h"

#include <fmt/format.h>

#include <algorithm>

#include "spectrum/library_path.h"

namespace boughlight {

namespace {

// The first value of a key, where it is plain text.
const YamlNode* scalar_of(const YamlNode& map, std::string_view key) {
  for (const YamlEntry& entry : map.entries) {
    if (entry.key == key) return entry.value.kind == YamlNode::Kind::scalar ? &entry.value : nullptr;
  }
  return nullptr;
}

}  // namespace

std::unique_ptr<Document> open_document(const std::filesystem::path& file, const std::string& length_unit,
                                        Problems& problems, const std::string* text) {
  auto document = std::make_unique<Document>();
  document->file = file.string();
  document->problems = &problems;
  document->length_unit = length_unit;
  try {
    document->root =
        parse_yaml(text ? checked_text(*text, document->file) : read_text_file(file), document->file);
  } catch (const InputError& error) {
    problems.add_all(error);
    return nullptr;
  }
  return document;
}

bool check_version(const Field& top, std::string_view key, std::string_view kind) {
  if (!top.is_map()) {
    top.fail(fmt::format("is {}; {} is a mapping that starts with '{}: 1'", top.found(), kind, key));
    return false;
  }
  const YamlNode* version = scalar_of(top.node(), key);
  // What else the file may be, by the key that it starts with.
  static constexpr std::pair<std::string_view, std::string_view> kKinds[] = {
      {"boughlight", "a scene"}, {"fixture", "a lamp"}, {"material", "a material"}, {"range", "a range"}};
  for (const auto& other : kKinds) {
    if (!version && other.first != key && scalar_of(top.node(), other.first)) {
      top.fail(fmt::format("is the file of {}, not of {}: '{}: 1' is missing", other.second, kind, key));
      return false;
    }
  }
  if (!version) return true;  // reported with the other keys
  const Field field(top, *version, std::string(key));
  if (version->text == "1") return true;
  field.fail(fmt::format("is {}; 1 is the only version of the format that is read", field.found()));
  return false;
}

bool names_a_file(const YamlNode& node) {
  return std::any_of(node.items.begin(), node.items.end(), names_a_file) ||
         std::any_of(node.entries.begin(), node.entries.end(),
                     [](const YamlEntry& entry) { return entry.key == "file" || names_a_file(entry.value); });
}

std::filesystem::path library_file(std::string_view folder, const std::string& name) {
  return library_path() / folder / (name + ".yaml");
}

std::vector<std::string> names_in_library(std::string_view folder) {
  std::vector<std::string> names;
  std::error_code error;
  for (const auto& entry : std::filesystem::directory_iterator(library_path() / folder, error)) {
    if (entry.path().extension() == ".yaml") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace boughlight
