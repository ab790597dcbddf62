// The file of a lamp of which a box tells something, a lamp of the library standing in for the rest.
#pragma once

#include <map>
#include <string>

namespace boughlight::cli {

struct BoxLamp {
  std::string library;                       // the lamp that stands in
  std::string title, source;                 // instead of the library's
  std::map<std::string, std::string> lines;  // instead of the line that starts like that; "" leaves it out
};

// Every spectrum in it is marked as a guess: no box tells one.
std::string text_of(const BoxLamp& lamp);

}  // namespace boughlight::cli
