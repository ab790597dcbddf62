// Opening the files that a scene leads to: documents, their version, and the library's folders. Private to
// this room.
#pragma once

#include <memory>

#include "scene/field.h"

namespace boughlight {

// Reads and parses a file, or `text` in its stead; nothing when it cannot be, which has then been reported.
std::unique_ptr<Document> open_document(const std::filesystem::path& file, const std::string& length_unit,
                                        Problems& problems, const std::string* text = nullptr);

// Checks that `key` of the document's top is the one version that is known, 1. False when the file is of
// another version or another kind, which has been reported: reading on would only raise further, false
// alarms.
bool check_version(const Field& top, std::string_view key, std::string_view kind);

// Whether anything in it stands in a file of its own, under a key `file`.
bool names_a_file(const YamlNode& node);

// Names of the YAML files of a folder of the library, sorted; empty where there is no such folder.
std::vector<std::string> names_in_library(std::string_view folder);
std::filesystem::path library_file(std::string_view folder, const std::string& name);

}  // namespace boughlight
