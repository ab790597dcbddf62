// The page's frame, styles and program as files inside this program; see CMakeLists.txt for how they are
// joined.
#include "report/page.h"

#include <stdexcept>

#define BOUGHLIGHT_HOLD(name, file)   \
  asm(".pushsection .rodata\n"        \
      ".hidden boughlight_page_" name \
      "_begin\n"                      \
      ".global boughlight_page_" name \
      "_begin\n"                      \
      "boughlight_page_" name         \
      "_begin:\n"                     \
      ".incbin \"" file               \
      "\"\n"                          \
      ".hidden boughlight_page_" name \
      "_end\n"                        \
      ".global boughlight_page_" name \
      "_end\n"                        \
      "boughlight_page_" name         \
      "_end:\n"                       \
      ".byte 0\n"                     \
      ".popsection\n")

BOUGHLIGHT_HOLD("frame", BOUGHLIGHT_PAGE "/page.html");
BOUGHLIGHT_HOLD("style", BOUGHLIGHT_PAGE "/page.css");
BOUGHLIGHT_HOLD("script", BOUGHLIGHT_PAGE "/page.js");
BOUGHLIGHT_HOLD("watch", BOUGHLIGHT_PAGE "/watch.html");

extern "C" const char boughlight_page_frame_begin[], boughlight_page_frame_end[];
extern "C" const char boughlight_page_style_begin[], boughlight_page_style_end[];
extern "C" const char boughlight_page_script_begin[], boughlight_page_script_end[];
extern "C" const char boughlight_page_watch_begin[], boughlight_page_watch_end[];

namespace boughlight {

std::string_view page_part(PagePart part) {
  switch (part) {
    case PagePart::frame:
      return {boughlight_page_frame_begin, boughlight_page_frame_end};
    case PagePart::style:
      return {boughlight_page_style_begin, boughlight_page_style_end};
    case PagePart::script:
      return {boughlight_page_script_begin, boughlight_page_script_end};
    case PagePart::watch:
      return {boughlight_page_watch_begin, boughlight_page_watch_end};
  }
  throw std::logic_error("page_part: no such part");
}

}  // namespace boughlight
