// Words and figures as text: names made safe and short for a terminal or a label, lines wrapped, figures
// rounded for files. Names come from scene files, so they may hold any UTF-8, or bytes that are not UTF-8 at
// all.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace boughlight {

// The code points of UTF-8 text; U+FFFD stands for each byte that belongs to none.
std::vector<char32_t> code_points(std::string_view utf8);

// The text with control characters (line breaks, escapes) turned into blanks and broken bytes into U+FFFD, so
// that a name cannot move the cursor or colour a terminal.
std::string printable(std::string_view utf8);

// Terminal columns that printable(text) takes: 2 for wide East Asian letters and pictures, 0 for combining
// marks.
int display_width(std::string_view utf8);

// printable(text), cut to at most `columns` (>= 4) terminal columns; what was cut ends in "...".
std::string shortened(std::string_view utf8, int columns);

// Padded with blanks to `columns`, after shortened().
std::string left_aligned(std::string_view utf8, int columns);
std::string right_aligned(std::string_view utf8, int columns);

// Broken at blanks into lines of at most `columns`, the first starting with `first`, the others with `rest`;
// a word longer than a line is broken inside. Each line comes without its newline.
std::vector<std::string> wrapped(std::string_view utf8, int columns, std::string_view first,
                                 std::string_view rest);

// The text with no-break spaces for its blanks, so that "x 12.5" or "11 100 lx" stays on one line in
// wrapped().
std::string unbroken(std::string text);

// The double nearest to the value's first 6 significant digits: what result files hold, so that they are
// short and do not change with the last bits. `what` names the value in the std::runtime_error thrown when it
// is NaN or infinite.
double six_digits(double value, std::string_view what);
// The same as text: "0.0123457", "151", "1e+06".
std::string six_digit_text(double value, std::string_view what);

// RFC 4180: quoted where it holds a comma, a quote or a line break, quotes doubled.
std::string csv_field(std::string_view text);

}  // namespace boughlight
