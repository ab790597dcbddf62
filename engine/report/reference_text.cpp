// Pages as Markdown and as roff.

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "report/reference.h"

namespace boughlight {

namespace {

std::string replaced(std::string text, std::string_view from, std::string_view to) {
  for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos; at += to.size())
    text.replace(at, from.size(), to);
  return text;
}

// Each stretch between `open` and `close`, given to `change`.
template <class Change>
std::string between(const std::string& text, std::string_view open, std::string_view close, Change change) {
  std::string out;
  for (std::size_t at = 0;;) {
    const std::size_t from = text.find(open, at);
    const std::size_t to = from == std::string::npos ? from : text.find(close, from + open.size());
    if (to == std::string::npos) return out + text.substr(at);
    out += text.substr(at, from - at) + change(text.substr(from + open.size(), to - from - open.size()));
    at = to + close.size();
  }
}

std::string markdown_text(const std::string& text) {
  return between(text, "<<", ">>", [](const std::string& name) {
    return fmt::format("[{}](#{})", name, replaced(name, " ", "-"));
  });
}

std::string cell(const std::string& text) {
  return replaced(markdown_text(text), "|", "\\|");
}

void put_table(const PageSection& section, std::string& out) {
  const auto any = [&](std::string PageEntry::*part) {
    return std::any_of(section.entries.begin(), section.entries.end(),
                       [&](const PageEntry& entry) { return !(entry.*part).empty(); });
  };
  const bool takes = any(&PageEntry::takes), left_out = any(&PageEntry::left_out);
  out += fmt::format("| | |{}{}\n| --- | --- |{}{}\n", takes ? " takes |" : "",
                     left_out ? " if left out |" : "", takes ? " --- |" : "", left_out ? " --- |" : "");
  for (const PageEntry& entry : section.entries) {
    out += fmt::format("| `{}` | {} |", replaced(entry.term, "|", "\\|"), cell(entry.meaning));
    if (takes) out += fmt::format(" {} |", cell(entry.takes));
    if (left_out) out += fmt::format(" {} |", cell(entry.left_out));
    out += '\n';
  }
  out += '\n';
}

// What roff would take for its own signs is told to be text.
std::string roff_escaped(const std::string& text) {
  std::string out = replaced(replaced(text, "\\", "\\e"), "-", "\\-");
  if (out.starts_with('.') || out.starts_with('\'')) out.insert(0, "\\&");
  return replaced(replaced(out, "\n.", "\n\\&."), "\n'", "\n\\&'");
}

std::string roff_text(const std::string& text) {
  const std::string linked =
      between(roff_escaped(text), "<<", ">>", [](const std::string& name) { return "\\fI" + name + "\\fR"; });
  return between(linked, "`", "`", [](const std::string& typed) { return "\\fB" + typed + "\\fR"; });
}

// Lines that begin with a blank stay as they are, as examples do; the others are set in paragraphs, since a
// manual page is indented and 80 columns of them would not fit.
std::string roff_lines(const std::string& text) {
  std::string out;
  bool kept = false;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    const bool keep = line.starts_with(' ');
    if (keep != kept) out += keep ? ".nf\n" : ".fi\n";
    kept = keep;
    out += line.empty() ? ".PP\n" : roff_escaped(line) + "\n";
  }
  return out + (kept ? ".fi\n" : "");
}

std::string upper(std::string text) {
  for (char& c : text) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return text;
}

}  // namespace

std::string page_as_markdown(const Page& page) {
  std::string out = fmt::format("# {}\n\n{}\n", page.name, markdown_text(page.purpose));
  out[out.find("\n\n") + 2] =
      static_cast<char>(std::toupper(static_cast<unsigned char>(out[out.find("\n\n") + 2])));
  out.insert(out.size() - 1, ".");
  out += '\n';
  if (!page.text.empty()) out += markdown_text(page.text) + "\n\n";
  for (const PageSection& section : page.sections) {
    out += fmt::format("## {}\n\n", section.heading);
    if (!section.text.empty()) out += markdown_text(section.text) + "\n\n";
    if (!section.entries.empty()) put_table(section, out);
    if (!section.verbatim.empty()) out += fmt::format("```\n{}\n```\n\n", section.verbatim);
  }
  while (out.ends_with("\n\n")) out.pop_back();
  return out;
}

std::string page_as_manual(const Page& page) {
  std::string out = fmt::format(".TH {} {} \"\" \"boughlight {}\" \"Boughlight\"\n", upper(page.name),
                                page.part, BOUGHLIGHT_VERSION);
  out += fmt::format(".SH NAME\n{} \\- {}\n", roff_escaped(page.name), roff_text(page.purpose));
  if (!page.text.empty()) out += fmt::format(".SH DESCRIPTION\n{}\n", roff_text(page.text));
  for (const PageSection& section : page.sections) {
    out += fmt::format(".SH {}\n", upper(roff_escaped(section.heading)));
    if (!section.text.empty()) out += roff_text(section.text) + "\n";
    for (const PageEntry& entry : section.entries) {
      out += fmt::format(".TP\n.B {}\n{}", roff_escaped(entry.term), roff_text(entry.meaning));
      if (!entry.takes.empty()) out += fmt::format("; takes {}", roff_text(entry.takes));
      if (!entry.left_out.empty()) out += fmt::format("; if left out: {}", roff_text(entry.left_out));
      out += "\n";
    }
    if (!section.verbatim.empty()) out += ".PP\n" + roff_lines(section.verbatim);
  }
  return out;
}

}  // namespace boughlight
