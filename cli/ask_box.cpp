#include "ask_box.h"

#include <fmt/format.h>

#include <fstream>

#include "spectrum/library_path.h"

namespace boughlight::cli {

std::string text_of(const BoxLamp& lamp) {
  std::ifstream in(library_path() / "lamps" / (lamp.library + ".yaml"));
  std::map<std::string, std::string> lines = lamp.lines;
  lines["title:"] = fmt::format("title: \"{}\"", lamp.title);
  lines["source:"] = fmt::format("source: \"{}\"", lamp.source);
  std::string text;
  bool in_source = false;
  for (std::string line; std::getline(in, line);) {
    in_source = in_source && line.starts_with(' ');  // it goes on over lines of its own
    if (in_source || line.starts_with('#')) continue;
    in_source = line.starts_with("source:");
    if (line.starts_with("    spectrum:")) text += "    spectrum_basis: guessed\n";
    for (const auto& [start, other] : lines)
      if (line.starts_with(start)) line = other;
    if (!line.empty()) text += line + '\n';
  }
  return text;
}

}  // namespace boughlight::cli
