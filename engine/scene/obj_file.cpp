#include "scene/obj_file.h"

#include <fmt/format.h>
#include <tiny_obj_loader.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <istream>
#include <string>

#include "scene/polygon.h"
#include "scene/yaml_tree.h"
#include "units/problem.h"

namespace boughlight {

namespace {

constexpr std::size_t kMostListed = 20;     // mistakes of one file
constexpr std::size_t kMostCorners = 1000;  // of one face

struct Word {
  std::string_view text;
  int column = 0;  // from 1
};

std::vector<Word> words_of(std::string_view line) {
  std::vector<Word> words;
  for (std::size_t at = 0; (at = line.find_first_not_of(" \t", at)) != std::string_view::npos;) {
    const std::size_t end = std::min(line.find_first_of(" \t", at), line.size());
    words.push_back({line.substr(at, end - at), static_cast<int>(at) + 1});
    at = end;
  }
  return words;
}

bool is_one_of(std::string_view word, std::initializer_list<std::string_view> list) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

template <class Number>
bool reads_as(std::string_view text, Number& number) {
  if (text.starts_with('+')) text.remove_prefix(1);
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  return error == std::errc() && end == text.data() + text.size();
}

bool is_finite_number(std::string_view text) {
  double number = 0;
  return reads_as(text, number) && std::isfinite(number);
}

// "7", "7/2", "7/2/3" or "7//3", whole numbers other than 0.
bool is_corner(std::string_view text) {
  for (int part = 0; part < 3; ++part) {
    const std::size_t end = std::min(text.find('/'), text.size());
    const std::string_view digits = text.substr(0, end);
    int index = 0;
    const bool may_be_empty = part == 1 && end < text.size();
    if (!(digits.empty() && may_be_empty) && !(reads_as(digits, index) && index != 0)) return false;
    if (end == text.size()) return true;
    text.remove_prefix(end + 1);
  }
  return false;
}

// Takes the file line by line: tinyobjloader reads the lines, but takes whatever is no number for 0, and
// so sees only those that have been checked.
class ObjReading : private std::streambuf {
 public:
  explicit ObjReading(const std::filesystem::path& file) : file_(file.string()) {
    text_ = read_bytes(file, kMostObjBytes);
    if (text_.starts_with("\xEF\xBB\xBF")) text_.erase(0, 3);  // byte order mark of some editors
    if (text_.find('\0') != std::string::npos) throw InputError({{{file_, 0, 0}, "", "is not a text file"}});
  }

  ObjSurface read() {
    tinyobj::callback_t calls;
    calls.vertex_cb = [](void* self, double x, double y, double z, double) {
      static_cast<ObjReading*>(self)->surface_.vertices.emplace_back(x, y, z);
    };
    calls.index_cb = [](void* self, tinyobj::index_t* corners, int count) {
      static_cast<ObjReading*>(self)->keep_face(corners, count);
    };
    std::istream lines(this);
    lines.exceptions(std::ios::badbit);  // what underflow() throws is to come through
    tinyobj::LoadObjWithCallback(lines, calls, this);
    cut_faces();
    if (problems_.empty() && surface_.triangles.empty()) {
      problems_.push_back({{file_, 0, 0}, "", "holds no face (no line that starts with 'f')"});
    }
    if (!problems_.empty()) throw InputError(std::move(problems_));
    return std::move(surface_);
  }

 private:
  struct Face {
    std::size_t first = 0, count = 0;  // in corners_
    int line = 0;
  };

  void fail(int line, int column, std::string text) {
    if (problems_.size() < kMostListed) {
      problems_.push_back({{file_, line, column}, "", std::move(text)});
    } else if (problems_.size() == kMostListed) {
      problems_.push_back({{file_, line, column}, "", "there are more mistakes than are listed here"});
    }
  }

  // Hands the next line that matters to the reader.
  int_type underflow() override {
    while (at_ < text_.size()) {
      const std::size_t end = std::min(text_.find_first_of("\r\n", at_), text_.size());
      const std::string_view line = std::string_view(text_).substr(at_, end - at_);
      at_ = end + (text_.compare(end, 2, "\r\n") == 0 ? 2 : 1);
      ++line_;
      if (!matters(line)) continue;
      given_ = std::string(line) + '\n';
      setg(given_.data(), given_.data(), given_.data() + given_.size());
      return traits_type::to_int_type(given_.front());
    }
    return traits_type::eof();
  }

  // Whether a line is a vertex or a sound face; reports what is wrong with it.
  bool matters(std::string_view line) {
    const std::vector<Word> words = words_of(line);
    if (words.empty() || words[0].text.starts_with('#')) return false;
    const std::string_view kind = words[0].text;
    if (is_one_of(kind, {"v", "f"}) && words.back().text.ends_with('\\')) {
      fail(line_, words.back().column, "goes on in the next line ('\\'): write it on one line");
      return false;
    }
    if (kind == "v") return check_vertex(words);
    if (kind == "f") return check_face(words);
    if (is_one_of(kind, {"vn", "vt", "vp", "g", "o", "s", "mg", "l", "p", "usemtl", "mtllib", "usemap",
                         "maplib", "bevel", "c_interp", "d_interp", "lod", "shadow_obj", "trace_obj"})) {
      return false;
    }
    if (is_one_of(kind, {"cstype", "deg", "bmat", "step", "curv", "curv2", "surf", "parm", "trim", "hole",
                         "scrv", "sp", "end", "con"})) {
      fail(line_, words[0].column,
           "belongs to a free-form surface: only flat faces are read, so export it as those");
      return false;
    }
    const std::string start(kind.substr(0, 20));
    if (surface_.vertices.empty() && problems_.empty()) {
      throw InputError({{{file_, line_, words[0].column},
                         "",
                         fmt::format("'{}' does not start a line of an OBJ file: is this one?", start)}});
    }
    fail(line_, words[0].column, fmt::format("'{}' does not start a line of an OBJ file", start));
    return false;
  }

  // A wrong one is handed on all the same, so that the others keep their numbers.
  bool check_vertex(const std::vector<Word>& words) {
    if (words.size() < 4) {
      fail(line_, words[0].column,
           fmt::format("a vertex has three numbers, but this one has {}", words.size() - 1));
    }
    for (std::size_t i = 1; i < std::min<std::size_t>(words.size(), 4); ++i) {
      if (is_finite_number(words[i].text)) continue;
      fail(line_, words[i].column, fmt::format("'{}' is not a finite number", words[i].text.substr(0, 40)));
    }
    return true;
  }

  bool check_face(const std::vector<Word>& words) {
    const std::size_t corners = words.size() - 1;
    bool sound = corners >= 3 && corners <= kMostCorners;
    if (corners < 3) {
      fail(line_, words[0].column,
           fmt::format("a face has three corners or more, but this one has {}", corners));
    }
    if (corners > kMostCorners) {
      fail(line_, words[0].column,
           fmt::format("this face has {} corners: cut it into faces of at most {}", corners, kMostCorners));
    }
    for (std::size_t i = 1; i < words.size(); ++i) {
      if (is_corner(words[i].text)) continue;
      sound = false;
      fail(line_, words[i].column,
           fmt::format(
               "'{}' is not a corner: a vertex's number (from 1, or from -1 backwards) is needed, with or "
               "without /texture/normal",
               words[i].text.substr(0, 40)));
    }
    return sound;
  }

  void keep_face(const tinyobj::index_t* corners, int count) {
    faces_.push_back({corners_.size(), static_cast<std::size_t>(count), line_});
    const int so_far = static_cast<int>(surface_.vertices.size());
    for (int i = 0; i < count; ++i) {
      const int number = corners[i].vertex_index;
      if (number < 0 && number + so_far < 0) {
        fail(line_, 0, fmt::format("names vertex {}, but only {} come before it", number, so_far));
      }
      corners_.push_back(number < 0 ? number + so_far : number - 1);
    }
    triangle_count_ += static_cast<std::size_t>(count) - 2;
    if (triangle_count_ > kMostTriangles) {
      throw InputError(
          {{{file_, line_, 0},
            "",
            fmt::format("here the model passes {} triangles, the most that all models together may "
                        "have: simplify it",
                        kMostTriangles)}});
    }
  }

  // A vertex may stand after the faces that name it, so corners are looked up at the end.
  void cut_faces() {
    const std::size_t count = surface_.vertices.size();
    for (const Face& face : faces_) {
      std::vector<std::uint32_t> corners;
      for (std::size_t i = face.first; i < face.first + face.count; ++i) {
        const int corner = corners_[i];
        if (corner >= static_cast<int>(count)) {
          fail(face.line, 0, fmt::format("names vertex {}, but the file has only {}", corner + 1, count));
        } else if (corner >= 0) {
          corners.push_back(static_cast<std::uint32_t>(corner));
        }
      }
      if (corners.size() < face.count) continue;
      const auto triangles = cut_into_triangles(surface_.vertices, corners);
      if (!triangles) {
        fail(face.line, 0, "the outline of this face crosses itself: cut it into triangles");
        continue;
      }
      for (const Triangle& triangle : *triangles) {
        surface_.triangles.push_back(triangle);
        surface_.lines.push_back(face.line);
      }
    }
  }

  std::string file_, text_, given_;
  std::size_t at_ = 0;  // in text_: the start of the next line
  int line_ = 0;        // the line at hand, from 1
  ObjSurface surface_;
  std::vector<Face> faces_;
  std::vector<int> corners_;
  std::size_t triangle_count_ = 0;
  std::vector<Problem> problems_;
};

}  // namespace

ObjSurface read_obj(const std::filesystem::path& file) {
  return ObjReading(file).read();
}

}  // namespace boughlight
