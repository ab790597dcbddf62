// Drawing primitives: anti-aliased shapes and text on an 8-bit RGB picture. Knows nothing of maps.
// Places are in pixels, x right, y down; pixel (i, j) covers [i, i + 1) x [j, j + 1).
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "report/scale.h"

namespace boughlight {

struct Spot {
  double x = 0, y = 0;
};
using Path = std::vector<Spot>;

struct Rect {
  double x0 = 0, y0 = 0, x1 = 0, y1 = 0;  // x0 <= x1, y0 <= y1

  double width() const { return x1 - x0; }
  double height() const { return y1 - y0; }
  Spot centre() const { return {(x0 + x1) / 2, (y0 + y1) / 2}; }
  Rect grown(double by) const { return {x0 - by, y0 - by, x1 + by, y1 + by}; }
  bool overlaps(const Rect& other) const {
    return x0 < other.x1 && other.x0 < x1 && y0 < other.y1 && other.y0 < y1;
  }
  bool contains(const Rect& other) const {
    return x0 <= other.x0 && other.x1 <= x1 && y0 <= other.y0 && other.y1 <= y1;
  }
  bool contains(const Spot& spot) const {
    return x0 <= spot.x && spot.x <= x1 && y0 <= spot.y && spot.y <= y1;
  }
};

struct Stroke {
  double width = 1;
  Rgb colour;
  double opacity = 1;
  double dash = 0, gap = 0;  // pixels; unbroken where dash is 0
};

struct TextStyle {
  double size = 13;  // pixels to the em
  Rgb colour;
  double halo = 0;  // pixels of `halo_colour` around the letters
  Rgb halo_colour{255, 255, 255};
  bool upward = false;  // turned to read from bottom to top
};

class Canvas {
 public:
  Canvas(int width, int height, Rgb paper);

  int width() const { return width_; }
  int height() const { return height_; }
  Rgb at(int x, int y) const { return pixels_[place(x, y)]; }
  // Inside the picture; both ignore the clip.
  void set(int x, int y, Rgb colour) { pixels_[place(x, y)] = colour; }
  std::span<Rgb> row(int y) { return {&pixels_[place(0, y)], static_cast<std::size_t>(width_)}; }

  void crop_to_height(int height);  // cuts off what is below; height <= height()

  // Shapes and text outside the clip are not drawn. The whole picture at first.
  void clip_to(const Rect& rect);
  void clip_to_all();

  void fill(const Path& polygon, Rgb colour, double opacity = 1);  // even-odd
  void fill(const Rect& rect, Rgb colour, double opacity = 1);
  // Round joints and ends. All paths are one shape: where they cross, opacity does not add up.
  void stroke(const std::vector<Path>& paths, const Stroke& stroke);
  void stroke(const Path& path, const Stroke& stroke) { this->stroke(std::vector<Path>{path}, stroke); }

  // One line of text whose box (text_box) has its top-left corner at `corner`.
  void text(const Spot& corner, std::string_view utf8, const TextStyle& style);

  // The picture as a PNG file; throws std::runtime_error where memory runs out.
  std::string png() const;

 private:
  struct Mask;  // how much of each pixel of a rectangle a shape covers
  Mask mask_for(const Rect& bounds);
  void give_back(Mask&& mask);
  std::size_t place(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(x);
  }
  void blend(const Mask& mask, Rgb colour, double opacity);

  int width_, height_;
  Rect clip_;
  std::vector<Rgb> pixels_;  // row by row
  // The memory of the last mask, all 0: clearing a large one takes longer than drawing a thin line in it.
  std::vector<float> spare_cover_;
};

// Corners of a closed ellipse or a rectangle as a path (the first corner is not repeated).
Path ellipse_path(const Spot& centre, double radius_x, double radius_y);
Path rect_path(const Rect& rect);
// The same path with its first corner repeated at the end, for stroke().
Path closed(Path path);

// Size in pixels of one line of text: width along the line, height from the highest ascender to the lowest
// descender.
double text_width(std::string_view utf8, double size);
double text_height(double size);
// The text, shortened with an ellipsis so that it is at most `width` pixels wide.
std::string text_that_fits(std::string_view utf8, double size, double width);

}  // namespace boughlight
