// JSON as text for files that people open as well. Private to this room.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

namespace boughlight {

// Indented by two blanks, but a list of numbers on one line; a newline at the end. Bytes that are no UTF-8
// become U+FFFD, so that a name cannot cost the whole result.
std::string json_text(const nlohmann::ordered_json& json);

}  // namespace boughlight
