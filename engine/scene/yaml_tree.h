// A YAML file as a plain tree in which every value knows its line and column. Private to this room: the
// loader reads it through Field (scene/field.h). Built from the parser's events, so that duplicate keys stay
// visible and aliases, tags and runaway nesting are refused before they cost anything.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "units/problem.h"
#include "units/read_file.h"

namespace boughlight {

struct YamlEntry;

struct YamlNode {
  enum class Kind { null, scalar, list, map };
  Kind kind = Kind::null;
  int line = 0, column = 0;        // from 1
  std::string text;                // scalars: unquoted
  std::vector<YamlNode> items;     // lists
  std::vector<YamlEntry> entries;  // maps, in the file's order, repeated keys included
};

struct YamlEntry {
  std::string key;
  int line = 0, column = 0;  // of the key
  YamlNode value;
};

// What a scene or fixture file may hold at most.
inline constexpr std::size_t kMostBytes = std::size_t{4} << 20;
inline constexpr int kDeepestNesting = 40;
inline constexpr std::size_t kMostValues = 200'000;

// The text of a file, checked: a regular readable file within kMostBytes, valid UTF-8, no control characters,
// no tab before the first word of a line. Throws InputError naming `file` as the user knows it.
std::string read_text_file(const std::filesystem::path& file);
// The same check of text that is here already, without its byte order mark.
std::string checked_text(std::string text, const std::string& file);

// Parses one YAML document; `file` is for messages. Throws InputError for bad syntax, aliases, tags, keys
// that are not plain text, a second document, and for more values or deeper nesting than allowed.
YamlNode parse_yaml(const std::string& text, const std::string& file);

}  // namespace boughlight
