#include "report/html.h"

#include <algorithm>
#include <stdexcept>

#include "report/text.h"

namespace boughlight {

std::string escaped(std::string_view utf8) {
  std::string out;
  for (const char letter : printable(utf8)) {
    switch (letter) {
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '&':
        out += "&amp;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out.push_back(letter);
    }
  }
  return out;
}

std::string escaped_lines(std::string_view utf8) {
  std::string out;
  for (std::size_t from = 0; from < utf8.size();) {
    const std::size_t end = std::min(utf8.find('\n', from), utf8.size());
    out += escaped(utf8.substr(from, end - from)) + "\n";
    from = end + 1;
  }
  return out;
}

std::string inside_script(std::string_view json) {
  std::string out;
  out.reserve(json.size());
  for (const char letter : json) {
    if (letter == '<')
      out += "\\u003c";
    else
      out.push_back(letter);
  }
  return out;
}

std::string filled(std::string_view frame,
                   const std::vector<std::pair<std::string_view, std::string>>& slots) {
  std::string out;
  for (std::size_t at = 0; at < frame.size();) {
    const std::size_t open = frame.find("{{", at), close = frame.find("}}", open);
    out += frame.substr(at, std::min(open, frame.size()) - at);
    if (open == std::string_view::npos) break;
    const std::string_view name = frame.substr(open + 2, close - open - 2);
    bool found = false;
    for (const auto& [slot, text] : slots)
      if (slot == name) out += text, found = true;
    if (!found) throw std::logic_error("the page's frame asks for '" + std::string(name) + "'");
    at = close + 2;
  }
  return out;
}

}  // namespace boughlight
