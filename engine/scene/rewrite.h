// A scene file with a few values changed and everything else kept byte by byte: comments, order, spelling,
// line ends.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "units/units.h"

namespace boughlight {

// Text as a scene's value: as it is where YAML reads it as that very text, else in double quotes.
std::string yaml_text(std::string_view text);

// A length (m) or ratio as the file would spell it: in the unit that `old` carries (bare where it carries
// none, then in `bare_unit`), with `digits` significant digits. `old` may be empty: bare, a ratio in per
// cent.
std::string length_like(std::string_view old, double metres, std::string_view bare_unit, int digits = 5);
std::string ratio_like(std::string_view old, double ratio, int digits = 4);

class SceneText {
 public:
  // Reads the file as the loader does (which refuses anchors and aliases). Throws InputError.
  explicit SceneText(const std::filesystem::path& file);
  ~SceneText();
  SceneText(SceneText&&) noexcept;

  // Paths are those of messages: "lamps[1].over.gap". Keys with dots or brackets in them cannot be named.
  bool has(std::string_view path) const;
  // Unquoted; nothing where there is no such value, or a list or mapping.
  std::optional<std::string> scalar(std::string_view path) const;

  // Puts `value` (YAML on one line) in the place of a scalar that is there.
  void set(std::string_view path, std::string value);
  // Adds `key: value` to the mapping at `map`, right behind its entry `after`, which holds a scalar.
  void add(std::string_view map, std::string_view after, std::string_view key, const std::string& value);
  // Sets where it is there, else adds.
  void set_or_add(std::string_view map, std::string_view after, std::string_view key, std::string value);
  // Takes the top-level entry `key` out where there is one, and writes a new one at the end: `lines` as in a
  // block file, the first "key:". In a file that is one flow mapping, `flow` is the value.
  void put_section(std::string_view key, const std::vector<std::string>& lines, const std::string& flow);

  // The whole file with all changes, line ends and byte order mark as they were. Read back, it holds what it
  // held but for the changes, which is checked: throws InputError naming the value that is written so that it
  // cannot be changed by itself.
  std::string text() const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace boughlight
