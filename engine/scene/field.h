// One value of a file as the loader reads it: where it stands, its path from the top, and readers that report
// what is wrong instead of throwing, so that all mistakes are found in one go. Private to this room.
#pragma once

#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scene/format.h"
#include "scene/yaml_tree.h"
#include "spectrum/emitter.h"
#include "units/problem.h"
#include "units/units.h"

namespace boughlight {

// The mistakes found so far, over all files of one scene.
class Problems {
 public:
  void add(Problem problem);
  void add_all(const InputError& error);
  // How many were found, listed or not.
  std::size_t count() const { return count_; }
  // Throws InputError if there are any: file by file in the order met, by line and column within a file.
  void throw_if_any();

 private:
  std::vector<Problem> list_;
  std::size_t count_ = 0;
};

// One file being read: its tree, its name for messages and what a bare length means in it.
struct Document {
  std::string file;
  YamlNode root;
  Problems* problems = nullptr;
  std::string length_unit;  // "" where a length must carry its own
};

class Field {
 public:
  // The whole document.
  explicit Field(const Document& document) : document_(&document), node_(&document.root) {}
  Field(const Field& parent, const YamlNode& node, std::string path)
      : document_(parent.document_), node_(&node), path_(std::move(path)) {}

  const YamlNode& node() const { return *node_; }
  const std::string& path() const { return path_; }
  const Document& document() const { return *document_; }
  Mark mark() const { return {document_->file, node_->line, node_->column}; }

  void fail(std::string text) const { fail_at(mark(), std::move(text)); }
  void fail_at(const Mark& mark, std::string text) const;

  bool is_null() const { return node_->kind == YamlNode::Kind::null; }
  bool is_scalar() const { return node_->kind == YamlNode::Kind::scalar; }
  bool is_list() const { return node_->kind == YamlNode::Kind::list; }
  bool is_map() const { return node_->kind == YamlNode::Kind::map; }
  // "a list", "a mapping", "empty", "'text'"
  std::string found() const;

  // Each reader returns nothing after reporting why. `what` says what is wanted: "a name".
  std::optional<std::string> text(std::string_view what) const;
  // Text on one line, of at most `most` bytes.
  std::optional<std::string> name(std::string_view what = "a name", std::size_t most = 100) const;
  // One of the words.
  std::optional<std::string> word(const std::vector<std::string>& allowed) const;
  std::optional<double> number(Dimension dimension, std::string_view bare_unit, const Range& range) const;
  std::optional<std::uint64_t> whole_number(std::uint64_t min, std::uint64_t max) const;
  std::optional<std::vector<Field>> list(std::string_view what) const;
  // A list of exactly `count`.
  std::optional<std::vector<Field>> list_of(std::size_t count, std::string_view what) const;

  // A number as a form has it; a bare length is in the document's unit.
  std::optional<double> number(const Form& form) const;
  // A tuple of numbers.
  std::optional<std::vector<double>> numbers(const Form& form) const;
  std::optional<Vec3> vector(const Form& form) const;
  // [x, y, z] of plain numbers, not all 0; or x, y, z where `axis_names`. Unit length.
  std::optional<Vec3> direction(bool axis_names) const;
  std::optional<std::vector<ClockSpan>> clock_spans() const;

 private:
  const Document* document_;
  const YamlNode* node_;
  std::string path_;
};

// A mapping whose keys have been checked against the format's table of it: unknown, repeated, empty and
// missing ones are reported. Where the table has kinds, the mapping's own word chooses among them; a word
// that no kind has leaves all their keys allowed, and whoever reads the word reports it.
class Fields {
 public:
  // `required`: keys that must be there beside those that always must.
  Fields(const Field& field, const Mapping& mapping, const std::vector<std::string_view>& required = {});

  const Field& whole() const { return whole_; }
  bool has(std::string_view key) const { return get(key).has_value(); }
  // The value of a key that is there and not empty. Throws std::logic_error for one that the table has of no
  // kind.
  std::optional<Field> get(std::string_view key) const;

  // Read as the table has the key; nothing where it is not there, or after a mistake was reported.
  std::optional<double> number(std::string_view key) const;
  std::optional<std::uint64_t> whole_number(std::string_view key) const;
  std::optional<std::vector<double>> numbers(std::string_view key) const;
  std::optional<Vec3> vector(std::string_view key) const;
  std::optional<std::string> text(std::string_view key) const;
  std::optional<std::string> name(std::string_view key) const;
  std::optional<std::string> word(std::string_view key) const;
  std::vector<Field> list(std::string_view key) const;

  // A key's row in the table. Throws std::logic_error where it has none.
  const Key& key(std::string_view name) const;

 private:
  Field whole_;
  const Mapping* mapping_;
  std::vector<const Key*> keys_;  // of this kind
  std::vector<std::pair<std::string_view, Field>> found_;
};

// Every entry of a mapping whose keys are names (materials, quantities), repeated and empty ones reported.
struct NamedField {
  std::string name;
  Mark key_mark;
  Field value;
};
std::vector<NamedField> named_fields(const Field& field, std::string_view what);

// Path of a part: "lamps[1]" + "over" is "lamps[1].over".
std::string sub_path(const std::string& path, std::string_view key);

}  // namespace boughlight
