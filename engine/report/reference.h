// Reference pages: what a file may hold and what a quantity is, from the tables that the program goes by, as
// Markdown and as manual pages (roff).
#pragma once

#include <string>
#include <vector>

#include "report/schema.h"

namespace boughlight {

// One line of a list: a field, an option, a quantity.
struct PageEntry {
  std::string term;
  std::string meaning;
  std::string takes = {};     // what it may be; "" where there is nothing to say
  std::string left_out = {};  // what holds then; "" where it must be there
};

// `<<name>>` in a text stands for a link to the section of that name, `x` for something typed as it stands.
struct PageSection {
  std::string heading;
  std::string text = {};
  std::vector<PageEntry> entries = {};
  // Lines after the rest, kept as they are; of a manual page only those that begin with a blank, the others
  // are set anew.
  std::string verbatim = {};
};

struct Page {
  std::string name = {};  // "boughlight-scene"
  int part = 1;           // of the manual: 1 commands, 5 files, 7 the rest
  std::string purpose = {};
  std::string text = {};
  std::vector<PageSection> sections = {};
};

Page format_page(SchemaOf what);
Page quantities_page();

std::string page_as_markdown(const Page& page);
std::string page_as_manual(const Page& page);

}  // namespace boughlight
