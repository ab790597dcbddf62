#include "scene/yaml_tree.h"

#include <fmt/format.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <sstream>

namespace boughlight {

namespace {

// Builds the tree. Children are moved into their parent when they end, so no pointer into a growing vector is
// kept.
class TreeBuilder : public YAML::EventHandler {
 public:
  explicit TreeBuilder(std::string file) : file_(std::move(file)) {}

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

  [[noreturn]] void fail(const YAML::Mark& mark, std::string text) const {
    throw InputError({{{file_, mark.line + 1, mark.column + 1}, "", std::move(text)}});
  }

  void refuse_tag(const YAML::Mark& mark, const std::string& tag) const {
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
    made.column = mark.column + 1;
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
  std::size_t values_ = 0;
  bool has_root_ = false;
  YamlNode root_;
  std::vector<Open> open_;
};

}  // namespace

YamlNode parse_yaml(const std::string& text, const std::string& file) {
  std::istringstream stream(text);
  TreeBuilder builder(file);
  try {
    YAML::Parser parser(stream);
    while (parser.HandleNextDocument(builder)) {
    }
  } catch (const YAML::Exception& error) {
    const bool placed = !error.mark.is_null();
    throw InputError({{{file, placed ? error.mark.line + 1 : 0, placed ? error.mark.column + 1 : 0},
                       "",
                       fmt::format("is not valid YAML: {}", error.msg)}});
  }
  if (!builder.has_root()) throw InputError({{{file, 0, 0}, "", "is empty"}});
  return builder.take_root();
}

}  // namespace boughlight
