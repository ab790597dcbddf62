#include "scene/yaml_tree.h"

#include <fmt/format.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <sstream>
#include <string_view>

#include "units/utf8.h"

namespace boughlight {

namespace {

// Where the parser's marks lie in the text. A mark counts lines from 0 and columns in bytes; people count
// characters from 1.
class Places {
 public:
  explicit Places(std::string_view text) : text_(text) {
    starts_.push_back(0);
    for (std::size_t i = 0; i < text.size(); ++i) {
      if (text[i] == '\n') starts_.push_back(i + 1);
    }
  }

  std::size_t offset(const YAML::Mark& mark) const {
    const std::size_t line = std::min(static_cast<std::size_t>(std::max(0, mark.line)), starts_.size() - 1);
    return std::min(starts_[line] + static_cast<std::size_t>(std::max(0, mark.column)), text_.size());
  }

  int column(const YAML::Mark& mark) {
    // Marks mostly rise along a line, so counting goes on from the last one.
    const std::size_t end = offset(mark);
    if (mark.line != line_ || end < counted_to_) {
      line_ = mark.line;
      column_ = 1;
      counted_to_ = end - static_cast<std::size_t>(std::max(0, mark.column));
    }
    for (; counted_to_ < end; ++counted_to_) {
      if (!continues_letter(text_[counted_to_])) ++column_;
    }
    return column_;
  }

  // Whether a quoted text that starts at a mark is closed: the parser takes the end of the file for a closing
  // quote.
  bool quote_is_closed(const YAML::Mark& mark) const {
    const std::string_view rest = text_.substr(offset(mark));
    if (rest.empty() || (rest[0] != '"' && rest[0] != '\'')) return true;  // a block, in no quotes
    for (std::size_t i = 1; i < rest.size(); ++i) {
      if (rest[0] == '"' && rest[i] == '\\') {
        ++i;
      } else if (rest[i] == rest[0]) {
        if (rest[0] == '"' || i + 1 >= rest.size() || rest[i + 1] != '\'') return true;
        ++i;  // two single quotes stand for one
      }
    }
    return false;
  }

 private:
  std::string_view text_;
  std::vector<std::size_t> starts_;  // of each line
  int line_ = -1, column_ = 1;
  std::size_t counted_to_ = 0;
};

// Builds the tree. Children are moved into their parent when they end, so no pointer into a growing vector is
// kept.
class TreeBuilder : public YAML::EventHandler {
 public:
  TreeBuilder(std::string file, Places& places) : file_(std::move(file)), places_(places) {}

  bool has_root() const { return has_root_; }
  YamlNode take_root() { return std::move(root_); }

  void OnDocumentStart(const YAML::Mark& mark) override {
    if (has_root_) fail(mark, "a second document starts here ('---'): a file holds just one");
  }
  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t) override {
    add(node(YamlNode::Kind::null, mark), mark);
  }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    fail(mark, "aliases ('*name') are not read: write the value out");
  }
  void OnAnchor(const YAML::Mark& mark, const std::string& name) override {
    fail(mark, fmt::format("anchors ('&{}') are not read: write values out where they are used", name));
  }
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                const std::string& value) override {
    refuse_tag(mark, tag);
    if (tag == "!" && !places_.quote_is_closed(mark)) fail(mark, "the quote that opens here is never closed");
    YamlNode scalar = node(YamlNode::Kind::scalar, mark);
    scalar.text = value;
    add(std::move(scalar), mark);
  }
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                       YAML::EmitterStyle::value) override {
    open(YamlNode::Kind::list, mark, tag);
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                  YAML::EmitterStyle::value) override {
    open(YamlNode::Kind::map, mark, tag);
  }
  void OnMapEnd() override { close(); }

 private:
  // A list or map being read; for a map, the key whose value comes next.
  struct Open {
    YamlNode node;
    YAML::Mark mark;
    bool has_key = false;
    YamlEntry entry;
  };

  [[noreturn]] void fail(const YAML::Mark& mark, std::string text) {
    throw InputError({{{file_, mark.line + 1, places_.column(mark)}, "", std::move(text)}});
  }

  void refuse_tag(const YAML::Mark& mark, const std::string& tag) {
    // The parser gives '?' for plain and '!' for quoted text.
    if (!tag.empty() && tag != "?" && tag != "!") fail(mark, "tags ('!!name') are not read: leave them out");
  }

  YamlNode node(YamlNode::Kind kind, const YAML::Mark& mark) {
    if (++values_ > kMostValues) {
      fail(mark, fmt::format("the file holds more than {} values, the most that is read", kMostValues));
    }
    YamlNode made;
    made.kind = kind;
    made.line = mark.line + 1;
    made.column = places_.column(mark);
    return made;
  }

  void open(YamlNode::Kind kind, const YAML::Mark& mark, const std::string& tag) {
    refuse_tag(mark, tag);
    if (open_.size() >= kDeepestNesting) {
      fail(mark, fmt::format("values are nested more than {} deep", kDeepestNesting));
    }
    open_.push_back({node(kind, mark), mark, false, {}});
  }

  void close() {
    Open closed = std::move(open_.back());
    open_.pop_back();
    add(std::move(closed.node), closed.mark);
  }

  void add(YamlNode value, const YAML::Mark& mark) {
    if (open_.empty()) {
      root_ = std::move(value);
      has_root_ = true;
      return;
    }
    Open& parent = open_.back();
    if (parent.node.kind == YamlNode::Kind::list) {
      parent.node.items.push_back(std::move(value));
    } else if (!parent.has_key) {
      if (value.kind != YamlNode::Kind::scalar || value.text.empty()) {
        fail(mark, "a key must be a plain word");
      }
      parent.entry = {std::move(value.text), value.line, value.column, {}};
      parent.has_key = true;
    } else {
      // The parser marks an absent value where the next token stands, perhaps lines below.
      if (value.kind == YamlNode::Kind::null) {
        value.line = parent.entry.line;
        value.column = parent.entry.column;
      }
      parent.entry.value = std::move(value);
      parent.node.entries.push_back(std::move(parent.entry));
      parent.has_key = false;
    }
  }

  std::string file_;
  Places& places_;
  std::size_t values_ = 0;
  bool has_root_ = false;
  YamlNode root_;
  std::vector<Open> open_;
};

}  // namespace

YamlNode parse_yaml(const std::string& text, const std::string& file) {
  std::istringstream stream(text);
  Places places(text);
  TreeBuilder builder(file, places);
  try {
    YAML::Parser parser(stream);
    while (parser.HandleNextDocument(builder)) {
    }
  } catch (const YAML::Exception& error) {
    const bool placed = !error.mark.is_null();
    throw InputError({{{file, placed ? error.mark.line + 1 : 0, placed ? places.column(error.mark) : 0},
                       "",
                       fmt::format("is not valid YAML: {}", error.msg)}});
  }
  if (!builder.has_root()) throw InputError({{{file, 0, 0}, "", "is empty"}});
  return builder.take_root();
}

}  // namespace boughlight
