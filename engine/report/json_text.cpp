#include "report/json_text.h"

#include <algorithm>

namespace boughlight {
namespace {

using Json = nlohmann::ordered_json;

std::string plain(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

void put_json(std::string& out, const Json& json, std::size_t depth) {
  const auto new_line = [&](std::size_t indent) { out += "\n" + std::string(2 * indent, ' '); };
  if (json.is_object() && !json.empty()) {
    const char* separator = "{";
    for (const auto& [key, value] : json.items()) {
      out += separator;
      separator = ",";
      new_line(depth + 1);
      out += plain(Json(key)) + ": ";
      put_json(out, value, depth + 1);
    }
    new_line(depth);
    out += "}";
  } else if (json.is_array() && !json.empty()) {
    const bool numbers =
        std::all_of(json.begin(), json.end(), [](const Json& item) { return item.is_number(); });
    const char* separator = "[";
    for (const Json& item : json) {
      out += separator;
      separator = numbers ? ", " : ",";
      if (!numbers) new_line(depth + 1);
      put_json(out, item, depth + 1);
    }
    if (!numbers) new_line(depth);
    out += "]";
  } else {
    out += plain(json);
  }
}

}  // namespace

std::string json_text(const Json& json) {
  std::string out;
  put_json(out, json, 0);
  return out + "\n";
}

}  // namespace boughlight
