#include "scene/rewrite.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "scene/yaml_tree.h"
#include "units/utf8.h"

namespace boughlight {
namespace {

// One step of a path: a key, or a place in a list.
struct Step {
  std::string key;
  std::optional<std::size_t> item;
};

std::vector<Step> steps_of(std::string_view path) {
  std::vector<Step> steps;
  while (!path.empty()) {
    if (path[0] == '.') path.remove_prefix(1);
    if (path[0] == '[') {
      const std::size_t end = path.find(']');
      std::size_t item = 0;
      std::from_chars(path.data() + 1, path.data() + end, item);
      steps.push_back({"", item});
      path.remove_prefix(end + 1);
    } else {
      const std::size_t end = std::min(path.find_first_of(".["), path.size());
      steps.push_back({std::string(path.substr(0, end)), std::nullopt});
      path.remove_prefix(end);
    }
  }
  return steps;
}

YamlEntry* entry_of(YamlNode& map, std::string_view key) {
  const auto at = std::find_if(map.entries.begin(), map.entries.end(),
                               [key](const YamlEntry& entry) { return entry.key == key; });
  return at == map.entries.end() ? nullptr : &*at;
}

YamlNode* find_node(YamlNode& root, std::string_view path) {
  YamlNode* node = &root;
  for (const Step& step : steps_of(path)) {
    if (step.item) {
      if (*step.item >= node->items.size()) return nullptr;
      node = &node->items[*step.item];
    } else {
      YamlEntry* entry = entry_of(*node, step.key);
      if (!entry) return nullptr;
      node = &entry->value;
    }
  }
  return node;
}

bool same(const YamlNode& a, const YamlNode& b) {
  return a.kind == b.kind && a.text == b.text &&
         std::equal(a.items.begin(), a.items.end(), b.items.begin(), b.items.end(), same) &&
         std::equal(
             a.entries.begin(), a.entries.end(), b.entries.begin(), b.entries.end(),
             [](const YamlEntry& x, const YamlEntry& y) { return x.key == y.key && same(x.value, y.value); });
}

// Line and column of a place deep in a node, the last in the text.
std::pair<int, int> last_mark(const YamlNode& node) {
  std::pair<int, int> last(node.line, node.column);
  for (const YamlNode& item : node.items) last = std::max(last, last_mark(item));
  for (const YamlEntry& entry : node.entries) last = std::max(last, last_mark(entry.value));
  return last;
}

// Digits without an exponent or needless zeros.
std::string digits_of(double value, int digits) {
  const double size = std::abs(value) > 0 ? std::floor(std::log10(std::abs(value))) : 0;
  const int decimals = std::max(0, digits - 1 - static_cast<int>(size));
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

// What follows the number in "18 in" or "85%", blanks before it included.
std::string_view unit_part(std::string_view text) {
  const std::size_t end = text.find_last_of("0123456789.");
  return end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
}

}  // namespace

std::string yaml_text(std::string_view text) {
  const auto plain = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == ' ' ||
           c == '_' || c == '-' || c == '.' || c == '/' || static_cast<unsigned char>(c) >= 0x80;
  };
  const bool starts =
      !text.empty() && text[0] != ' ' && text[0] != '-' && text[0] != '.' && text.back() != ' ';
  static constexpr std::string_view kNulls[] = {"null", "Null", "NULL"};
  if (starts && std::all_of(text.begin(), text.end(), plain) &&
      std::find(std::begin(kNulls), std::end(kNulls), text) == std::end(kNulls))
    return std::string(text);
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') quoted += '\\';
    quoted += c;
  }
  return quoted + '"';
}

std::string length_like(std::string_view old, double metres, std::string_view bare_unit, int digits) {
  const std::string_view suffix = unit_part(old);
  const std::size_t start = suffix.find_first_not_of(' ');
  const std::string_view unit = start == std::string_view::npos ? bare_unit : suffix.substr(start);
  return digits_of(metres / size_of_unit(unit, Dimension::length), digits) +
         std::string(start == std::string_view::npos ? "" : suffix);
}

std::string ratio_like(std::string_view old, double ratio, int digits) {
  if (old.empty()) return digits_of(100 * ratio, digits) + " %";
  const std::string_view suffix = unit_part(old);
  return digits_of(suffix.empty() ? ratio : 100 * ratio, digits) + std::string(suffix);
}

struct SceneText::Parts {
  struct Edit {
    std::size_t offset = 0, removed = 0;
    std::string put;
    std::string path;
  };
  std::string file, text, mark;  // mark: the byte order mark, if any
  std::string line_end = "\n";
  std::vector<std::size_t> lines;  // where each starts
  YamlNode tree, expected;         // as read; with the changes made
  std::vector<Edit> edits;

  std::size_t offset(int line, int column) const {
    std::size_t at = lines[static_cast<std::size_t>(line - 1)];
    for (int passed = 1; passed < column && at < text.size(); ++passed) {
      do {
        ++at;
      } while (at < text.size() && continues_letter(text[at]));
    }
    return at;
  }
  std::size_t offset(const YamlNode& node) const { return offset(node.line, node.column); }
  std::size_t line_finish(std::size_t at) const {
    std::size_t end = std::min(text.find('\n', at), text.size());
    if (end > at && text[end - 1] == '\r') --end;
    return end;
  }

  [[noreturn]] void fail(const YamlNode& node, std::string_view path) const {
    throw InputError(
        {{{file, node.line, node.column},
          std::string(path),
          "is written in a way that cannot be changed by itself: write it on one line, as plain text"}});
  }

  std::size_t scalar_end(const YamlNode& node, std::string_view path) const {
    const std::size_t start = offset(node);
    if (node.kind != YamlNode::Kind::scalar || start >= text.size()) fail(node, path);
    const char quote = text[start];
    if (quote != '"' && quote != '\'') {
      if (text.compare(start, node.text.size(), node.text) != 0) fail(node, path);
      return start + node.text.size();
    }
    for (std::size_t i = start + 1; i < text.size(); ++i) {
      if (text[i] == '\n') break;
      if (quote == '"' && text[i] == '\\') {
        ++i;
      } else if (text[i] == quote) {
        if (quote == '"' || i + 1 >= text.size() || text[i + 1] != '\'') return i + 1;
        ++i;
      }
    }
    fail(node, path);
  }

  void change(YamlNode& node, std::string_view value, std::string_view path) {
    const YamlNode read = parse_yaml(std::string(value), std::string(path));
    node.kind = read.kind, node.text = read.text, node.items = read.items, node.entries = read.entries;
  }
};

SceneText::SceneText(const std::filesystem::path& file) : parts_(std::make_unique<Parts>()) {
  Parts& parts = *parts_;
  parts.file = file.string();
  parts.text = read_text_file(file);
  if (read_bytes(file, kMostBytes).starts_with("\xEF\xBB\xBF")) parts.mark = "\xEF\xBB\xBF";
  parts.lines.push_back(0);
  for (std::size_t i = 0; i < parts.text.size(); ++i)
    if (parts.text[i] == '\n') parts.lines.push_back(i + 1);
  if (parts.text.find("\r\n") != std::string::npos) parts.line_end = "\r\n";
  parts.tree = parse_yaml(parts.text, parts.file);
  parts.expected = parts.tree;
}

SceneText::~SceneText() = default;
SceneText::SceneText(SceneText&&) noexcept = default;

bool SceneText::has(std::string_view path) const {
  return find_node(parts_->expected, path) != nullptr;
}

std::optional<std::string> SceneText::scalar(std::string_view path) const {
  const YamlNode* node = find_node(parts_->expected, path);
  if (!node || node->kind != YamlNode::Kind::scalar) return std::nullopt;
  return node->text;
}

void SceneText::set(std::string_view path, std::string value) {
  Parts& parts = *parts_;
  const YamlNode* node = find_node(parts.tree, path);
  if (!node) throw std::logic_error("no value at " + std::string(path));
  const std::size_t start = parts.offset(*node), end = parts.scalar_end(*node, path);
  parts.change(*find_node(parts.expected, path), value, path);
  parts.edits.push_back({start, end - start, std::move(value), std::string(path)});
}

void SceneText::add(std::string_view map, std::string_view after, std::string_view key,
                    const std::string& value) {
  Parts& parts = *parts_;
  YamlNode* node = find_node(parts.tree, map);
  const YamlEntry* behind = node ? entry_of(*node, after) : nullptr;
  if (!behind) throw std::logic_error("no entry to add behind at " + std::string(map));
  const std::string path = std::string(map) + "." + std::string(after);
  const std::size_t end = parts.scalar_end(behind->value, path);
  const std::string entry = std::string(key) + ": " + value;
  if (parts.text[parts.offset(*node)] == '{') {
    parts.edits.push_back({end, 0, ", " + entry, path});
  } else {
    const std::string indent(static_cast<std::size_t>(behind->column - 1), ' ');
    parts.edits.push_back({parts.line_finish(end), 0, parts.line_end + indent + entry, path});
  }
  YamlNode& expected = *find_node(parts.expected, map);
  YamlEntry made;
  made.key = key;
  parts.change(made.value, value, map);
  const auto place = entry_of(expected, after) - expected.entries.data() + 1;
  expected.entries.insert(expected.entries.begin() + place, std::move(made));
}

void SceneText::set_or_add(std::string_view map, std::string_view after, std::string_view key,
                           std::string value) {
  const std::string path = std::string(map) + "." + std::string(key);
  if (has(path)) {
    set(path, std::move(value));
  } else {
    add(map, after, key, value);
  }
}

void SceneText::put_section(std::string_view key, const std::vector<std::string>& lines,
                            const std::string& flow) {
  Parts& parts = *parts_;
  const bool in_flow = parts.text[parts.offset(parts.tree)] == '{';
  std::string block;
  for (const std::string& line : lines) block += line + parts.line_end;
  YamlNode value;
  if (const YamlEntry* old = entry_of(parts.tree, key)) {
    const std::size_t start = parts.offset(old->line, old->column);
    const auto [line, column] = last_mark(old->value);
    std::size_t end = parts.offset(line, column);
    if (parts.text[parts.offset(old->value)] == '{') {
      // To the brace that closes it; quoted braces do not count.
      int depth = 0;
      char quote = 0;
      for (end = parts.offset(old->value); end < parts.text.size(); ++end) {
        const char c = parts.text[end];
        if (quote) {
          if (c == quote) quote = 0;
        } else if (c == '"' || c == '\'') {
          quote = c;
        } else if (c == '{') {
          ++depth;
        } else if (c == '}' && --depth == 0) {
          ++end;
          break;
        }
      }
    } else {
      // A block ends where its last line does.
      end = std::min(parts.text.find('\n', end) + 1, parts.text.size());
    }
    if (in_flow) {
      parts.edits.push_back({start, end - start, std::string(key) + ": " + flow, std::string(key)});
    } else {
      if (end < parts.text.size() && end > 0 && parts.text[end - 1] != '\n')
        end = std::min(parts.text.find('\n', end) + 1, parts.text.size());
      parts.edits.push_back({start, end - start, "", std::string(key)});
    }
    auto& entries = parts.expected.entries;
    entries.erase(
        std::find_if(entries.begin(), entries.end(), [&](const YamlEntry& e) { return e.key == key; }));
  } else if (in_flow) {
    add("", "boughlight", key, flow);
    return;
  }
  if (!in_flow) {
    const bool ended = parts.text.empty() || parts.text.back() == '\n';
    parts.edits.push_back({parts.text.size(), 0, (ended ? "" : parts.line_end) + block, std::string(key)});
    YamlNode read = parse_yaml(block, parts.file);
    parts.expected.entries.push_back(std::move(read.entries.front()));
    return;
  }
  YamlEntry made;
  made.key = key;
  parts.change(made.value, flow, key);
  parts.expected.entries.push_back(std::move(made));
}

std::string SceneText::text() const {
  const Parts& parts = *parts_;
  std::vector<Parts::Edit> edits = parts.edits;
  std::stable_sort(edits.begin(), edits.end(),
                   [](const Parts::Edit& a, const Parts::Edit& b) { return a.offset < b.offset; });
  std::string changed;
  std::size_t done = 0;
  for (const Parts::Edit& edit : edits) {
    if (edit.offset < done) throw std::logic_error("two changes at " + edit.path);
    changed += parts.text.substr(done, edit.offset - done) + edit.put;
    done = edit.offset + edit.removed;
  }
  changed += parts.text.substr(done);
  const auto complain = [&](const std::string& why) {
    const std::string path = edits.empty() ? "" : edits.front().path;
    throw InputError({{{parts.file, 0, 0}, path, why}});
  };
  try {
    const YamlNode read = parse_yaml(changed, parts.file);
    const auto by_key = [](YamlNode node) {
      std::stable_sort(node.entries.begin(), node.entries.end(),
                       [](const YamlEntry& a, const YamlEntry& b) { return a.key < b.key; });
      return node;
    };
    if (!same(by_key(read), by_key(parts.expected)))
      complain("is written in a way that cannot be changed by itself: write it on one line, as plain text");
  } catch (const InputError&) {
    complain("is written in a way that cannot be changed by itself: write it on one line, as plain text");
  }
  return parts.mark + changed;
}

}  // namespace boughlight
