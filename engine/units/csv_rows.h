// Tables of separated values, row by row: every cell knows where it stands. What a spectrum's file and a log
// of meter readings have in common.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace boughlight {

struct CsvCell {
  std::string text;          // unquoted, without blanks at its ends
  int line = 0, column = 0;  // of its first character, from 1
};

// RFC 4180, or with semicolons or tabs for commas. Lines that start with #, blanks aside, are left out.
class CsvRows {
 public:
  // `text` must outlive this; `file` is for messages.
  CsvRows(std::string_view text, std::string file, char separator);

  // The next row, an empty line being one of one empty cell; false at the end. Throws InputError for a quote
  // that never closes, and for a row of more than 10 000 cells.
  bool next(std::vector<CsvCell>& row);

 private:
  bool is_blank(std::size_t at) const;
  void step();
  void skip_comments();
  CsvCell cell();

  std::string_view text_;
  std::string file_;
  char separator_;
  std::size_t at_ = 0;
  int line_ = 1, column_ = 1;
};

// How the numbers of one file write their decimals: with a point, and where no comma stands between the
// cells, with a comma as well. Whether "1,250" is 1.25 or 1250 only the file's other numbers can tell.
class DecimalMark {
 public:
  explicit DecimalMark(char separator) : separator_(separator) {}

  // The text of a number, with a unit or without, a decimal comma made a point.
  std::string with_point(const CsvCell& cell);

  // After all numbers: one that can be read in two ways, and why; nothing where all are clear.
  std::optional<std::pair<CsvCell, std::string>> doubt() const;

 private:
  // The first number with this mark that is certainly a fraction, and the first that may be a thousand.
  struct Seen {
    std::optional<CsvCell> fraction, either;
    const CsvCell* any() const { return fraction ? &*fraction : either ? &*either : nullptr; }
  };
  char separator_;
  Seen point_, comma_;
};

}  // namespace boughlight
