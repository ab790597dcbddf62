#include "report/canvas.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <limits>

#include "report/canvas_mask.h"

namespace boughlight {
namespace {

Rect bounds_of(const std::vector<Path>& paths) {
  constexpr double kFar = std::numeric_limits<double>::max();
  Rect bounds{kFar, kFar, -kFar, -kFar};
  for (const Path& path : paths) {
    for (const Spot& spot : path) {
      bounds = {std::min(bounds.x0, spot.x), std::min(bounds.y0, spot.y), std::max(bounds.x1, spot.x),
                std::max(bounds.y1, spot.y)};
    }
  }
  return bounds;
}

std::uint8_t mixed(std::uint8_t below, std::uint8_t above, float share) {
  const float sum = below + static_cast<float>(above - below) * share;  // never negative
  // std::lround() is slow. NOLINTNEXTLINE(bugprone-incorrect-roundings)
  return static_cast<std::uint8_t>(sum + 0.5f);
}

// The path cut into dashes.
std::vector<Path> dashes_of(const Path& path, double dash, double gap) {
  std::vector<Path> dashes;
  bool drawing = true;
  double left = dash;
  Path current{path.front()};
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    Spot from = path[i];
    const Spot to = path[i + 1];
    double length = std::hypot(to.x - from.x, to.y - from.y);
    while (length > left) {
      const double share = left / length;
      from = {from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share};
      length -= left;
      if (drawing) {
        current.push_back(from);
        dashes.push_back(current);
      }
      drawing = !drawing;
      left = drawing ? dash : gap;
      current = {from};
    }
    left -= length;
    current.push_back(to);
  }
  if (drawing) dashes.push_back(current);
  return dashes;
}

}  // namespace

Canvas::Canvas(int width, int height, Rgb paper)
    : width_(width), height_(height), pixels_(static_cast<std::size_t>(width) * height, paper) {
  clip_to_all();
}

void Canvas::crop_to_height(int height) {
  height_ = height;
  pixels_.resize(static_cast<std::size_t>(width_) * height_);
  clip_to_all();
}

void Canvas::clip_to(const Rect& rect) {
  clip_ = {std::max(0.0, rect.x0), std::max(0.0, rect.y0), std::min<double>(width_, rect.x1),
           std::min<double>(height_, rect.y1)};
}

void Canvas::clip_to_all() {
  clip_ = {0, 0, static_cast<double>(width_), static_cast<double>(height_)};
}

Canvas::Mask Canvas::mask_for(const Rect& bounds) {
  Mask mask;
  const double x0 = std::max(clip_.x0, bounds.x0), x1 = std::min(clip_.x1, bounds.x1);
  const double y0 = std::max(clip_.y0, bounds.y0), y1 = std::min(clip_.y1, bounds.y1);
  if (!(x0 < x1) || !(y0 < y1)) return mask;
  mask.x0 = static_cast<int>(std::floor(x0));
  mask.y0 = static_cast<int>(std::floor(y0));
  mask.width = static_cast<int>(std::ceil(x1)) - mask.x0;
  mask.height = static_cast<int>(std::ceil(y1)) - mask.y0;
  mask.cover = std::move(spare_cover_);
  const std::size_t size = static_cast<std::size_t>(mask.width) * mask.height;
  if (mask.cover.size() < size) mask.cover.resize(size, 0.0f);
  mask.touched.assign(static_cast<std::size_t>(mask.height), 0);
  return mask;
}

void Canvas::give_back(Mask&& mask) {
  mask.each_touched([&mask](int x, int y) { mask.at(x, y) = 0; });
  if (mask.height > 0) spare_cover_ = std::move(mask.cover);
}

void Canvas::blend(const Mask& mask, Rgb colour, double opacity) {
  mask.each_touched([&](int x, int y) {
    const float cover = mask.at(x, y);
    if (cover <= 0) return;
    const float share = std::min(static_cast<float>(opacity) * cover, 1.0f);
    Rgb& pixel = pixels_[place(x, y)];
    pixel = {mixed(pixel.r, colour.r, share), mixed(pixel.g, colour.g, share),
             mixed(pixel.b, colour.b, share)};
  });
}

void Canvas::fill(const Rect& rect, Rgb colour, double opacity) {
  fill(rect_path(rect), colour, opacity);
}

void Canvas::fill(const Path& polygon, Rgb colour, double opacity) {
  if (polygon.size() < 3) return;
  Mask mask = mask_for(bounds_of({polygon}));
  // Four scan lines a pixel row; along each, the covered part of a pixel is exact.
  constexpr int kLines = 4;
  std::vector<double> crossings;
  for (int line = 0; line < mask.height * kLines; ++line) {
    const double y = mask.y0 + (line + 0.5) / kLines;
    crossings.clear();
    for (std::size_t i = 0; i < polygon.size(); ++i) {
      const Spot p = polygon[i], q = polygon[(i + 1) % polygon.size()];
      if ((p.y <= y) != (q.y <= y)) crossings.push_back(p.x + (q.x - p.x) * (y - p.y) / (q.y - p.y));
    }
    std::sort(crossings.begin(), crossings.end());
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
      const double from = std::max<double>(mask.x0, crossings[i]);
      const double to = std::min<double>(mask.x0 + mask.width, crossings[i + 1]);
      const int first = static_cast<int>(std::floor(from));
      if (first < to) mask.touch(mask.y0 + line / kLines, first, static_cast<int>(std::ceil(to)));
      for (int x = first; x < to; ++x) {
        const double covered = std::min(to, x + 1.0) - std::max<double>(from, x);
        mask.at(x, mask.y0 + line / kLines) += static_cast<float>(covered / kLines);
      }
    }
  }
  blend(mask, colour, opacity);
  give_back(std::move(mask));
}

void Canvas::stroke(const std::vector<Path>& paths, const Stroke& stroke) {
  std::vector<Path> pieces;
  for (const Path& path : paths) {
    if (path.empty()) continue;
    if (stroke.dash > 0) {
      for (Path& dash : dashes_of(path, stroke.dash, stroke.gap)) pieces.push_back(std::move(dash));
    } else {
      pieces.push_back(path);
    }
  }
  if (pieces.empty()) return;
  // Pixels side by side, in whole registers.
  constexpr int kLanes = 8;
  using Lanes = Eigen::Array<float, kLanes, 1>;
  const Lanes from_zero = Lanes::LinSpaced(0.0f, kLanes - 1.0f);
  const auto reach = static_cast<float>(stroke.width / 2 + 0.5);
  const float most = std::min(1.0f, static_cast<float>(stroke.width));
  Mask mask = mask_for(bounds_of(pieces).grown(reach));
  if (mask.height == 0) return;
  for (const Path& piece : pieces) {
    for (std::size_t i = 0; i < std::max<std::size_t>(1, piece.size() - 1); ++i) {
      const Spot p = piece[i], q = piece[std::min(i + 1, piece.size() - 1)];
      const auto dx = static_cast<float>(q.x - p.x), dy = static_cast<float>(q.y - p.y);
      const float squared = dx * dx + dy * dy, per_squared = squared > 0 ? 1 / squared : 0;
      const int x0 = std::max(mask.x0, static_cast<int>(std::floor(std::min(p.x, q.x) - reach)));
      const int x1 = std::min(mask.x0 + mask.width, static_cast<int>(std::ceil(std::max(p.x, q.x) + reach)));
      const int y0 = std::max(mask.y0, static_cast<int>(std::floor(std::min(p.y, q.y) - reach)));
      const int y1 = std::min(mask.y0 + mask.height, static_cast<int>(std::ceil(std::max(p.y, q.y) + reach)));
      for (int y = y0; y < y1 && x0 < x1; ++y) {
        mask.touch(y, x0, x1);
        for (int x = x0; x < x1; x += kLanes) {
          const Lanes px = from_zero + static_cast<float>(x + 0.5 - p.x);
          const auto py = static_cast<float>(y + 0.5 - p.y);
          const Lanes along = ((px * dx + py * dy) * per_squared).max(0.0f).min(1.0f);
          const Lanes off = ((px - along * dx).square() + (py - along * dy).square()).sqrt();
          // A line thinner than a pixel covers at most its own width of it.
          const Lanes cover = (reach - off).min(most);
          for (int k = 0; k < std::min(kLanes, x1 - x); ++k) {
            float& pixel = mask.at(x + k, y);
            pixel = std::max(pixel, cover[k]);
          }
        }
      }
    }
  }
  blend(mask, stroke.colour, stroke.opacity);
  give_back(std::move(mask));
}

Path ellipse_path(const Spot& centre, double radius_x, double radius_y) {
  constexpr int kCorners = 96;
  Path path;
  for (int i = 0; i < kCorners; ++i) {
    const double angle = 2 * M_PI * i / kCorners;
    path.push_back({centre.x + radius_x * std::cos(angle), centre.y + radius_y * std::sin(angle)});
  }
  return path;
}

Path rect_path(const Rect& rect) {
  return {{rect.x0, rect.y0}, {rect.x1, rect.y0}, {rect.x1, rect.y1}, {rect.x0, rect.y1}};
}

Path closed(Path path) {
  if (!path.empty()) path.push_back(path.front());
  return path;
}

}  // namespace boughlight
