#include "units/problem.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "units/ascii.h"

namespace boughlight {

namespace {

std::string all_messages(const std::vector<Problem>& problems) {
  std::string text;
  for (const Problem& problem : problems) {
    if (!text.empty()) text += '\n';
    text += problem.message();
  }
  return text;
}

// Letters added, dropped, changed or swapped with their neighbour to get from a to b (restricted
// Damerau-Levenshtein distance).
std::size_t edit_distance(const std::string& a, const std::string& b) {
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  std::iota(last.begin(), last.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t changed = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, changed});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        row[j] = std::min(row[j], before[j - 2] + 1);
      }
    }
    before.swap(last);
    last.swap(row);
  }
  return last[b.size()];
}

}  // namespace

std::string Problem::message() const {
  std::string text_out = mark.file;
  if (mark.line > 0) {
    if (!text_out.empty()) text_out += ':';
    text_out += std::to_string(mark.line);
    if (mark.column > 0) text_out += ':' + std::to_string(mark.column);
  }
  for (const std::string* piece : {&path, &text}) {
    if (piece->empty()) continue;
    if (!text_out.empty()) text_out += ": ";
    text_out += *piece;
  }
  return text_out;
}

InputError::InputError(std::vector<Problem> problems)
    : std::runtime_error(all_messages(problems)), problems_(std::move(problems)) {}

std::string did_you_mean(const std::string& found, const std::vector<std::string>& allowed) {
  // A slip of one letter in a short word, up to three in a long one; names beyond 60 letters are no slip.
  if (found.empty() || found.size() > 60) return "";
  const std::size_t most = std::clamp<std::size_t>((found.size() + 1) / 3, 1, 3);
  const std::string* nearest = nullptr;
  std::size_t nearest_distance = most + 1;
  for (const std::string& name : allowed) {
    if (name.size() > found.size() + most) continue;
    const std::size_t distance = edit_distance(lower_case(found), lower_case(name));
    if (distance < nearest_distance && distance < found.size()) {
      nearest = &name;
      nearest_distance = distance;
    }
  }
  // Or a name of which only the beginning was written.
  constexpr std::size_t kTelling = 4;
  if (!nearest && found.size() >= kTelling)
    for (const std::string& name : allowed)
      if (lower_case(name).starts_with(lower_case(found)) && (!nearest || name.size() < nearest->size()))
        nearest = &name;
  return nearest ? " (did you mean '" + *nearest + "'?)" : "";
}

std::string one_of(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? " or " : ", ";
    text += names[i];
  }
  return text;
}

}  // namespace boughlight
