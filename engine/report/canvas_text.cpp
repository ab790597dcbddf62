// Text and the PNG form of a Canvas: the only file that names the stb headers, whose code is compiled here.
#include <fmt/format.h>
#include <libdeflate.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <mutex>
#include <stdexcept>
#include <tuple>

#include "report/canvas.h"
#include "report/canvas_mask.h"
#include "report/text.h"
#include "units/utf8.h"

#define STB_TRUETYPE_IMPLEMENTATION
#include <stb/stb_truetype.h>
// The encoder's own packing is several times slower than libdeflate's; what this returns the encoder frees.
static unsigned char* packed_for_png(unsigned char* bytes, int size, int* packed_size, int effort) {
  libdeflate_compressor* compressor = libdeflate_alloc_compressor(effort);
  if (!compressor) return nullptr;
  const std::size_t length = static_cast<std::size_t>(size);
  const std::size_t bound = libdeflate_zlib_compress_bound(compressor, length);
  auto* packed = static_cast<unsigned char*>(std::malloc(bound));
  if (packed)
    *packed_size = static_cast<int>(libdeflate_zlib_compress(compressor, bytes, length, packed, bound));
  libdeflate_free_compressor(compressor);
  return packed;
}
#define STBIW_ZLIB_COMPRESS packed_for_png
#define STB_IMAGE_WRITE_IMPLEMENTATION
#define STBI_WRITE_NO_STDIO
#include <stb/stb_image_write.h>

// DejaVu Sans as a file inside the program; see CMakeLists.txt for where it is found.
asm(".pushsection .rodata\n"
    ".balign 16\n"
    ".hidden boughlight_font_begin\n"
    ".global boughlight_font_begin\n"
    "boughlight_font_begin:\n"
    ".incbin \"" BOUGHLIGHT_FONT
    "\"\n"
    ".byte 0\n"
    ".popsection\n");
extern "C" const unsigned char boughlight_font_begin[];

namespace boughlight {
namespace {

const stbtt_fontinfo& font() {
  static const stbtt_fontinfo loaded = [] {
    stbtt_fontinfo info;
    if (!stbtt_InitFont(&info, boughlight_font_begin,
                        stbtt_GetFontOffsetForIndex(boughlight_font_begin, 0))) {
      throw std::logic_error("the built-in font cannot be read");
    }
    return info;
  }();
  return loaded;
}

float scale_of(double size) {
  return stbtt_ScaleForMappingEmToPixels(&font(), static_cast<float>(size));
}

struct LineMetrics {
  double ascent = 0, descent = 0;  // pixels above and below the baseline, both >= 0
};

LineMetrics metrics_of(double size) {
  int ascent = 0, descent = 0, gap = 0;
  stbtt_GetFontVMetrics(&font(), &ascent, &descent, &gap);
  const double scale = scale_of(size);
  return {ascent * scale, -descent * scale};
}

// Calls visit(code point, pen position in pixels) for each letter and returns the whole advance.
template <typename Visit>
double walk(std::string_view utf8, double size, const Visit& visit) {
  const double scale = scale_of(size);
  double pen = 0;
  int before = 0;
  for (const char32_t point : code_points(utf8)) {
    const int code = static_cast<int>(point);
    if (before) pen += scale * stbtt_GetCodepointKernAdvance(&font(), before, code);
    visit(code, pen);
    int advance = 0, bearing = 0;
    stbtt_GetCodepointHMetrics(&font(), code, &advance, &bearing);
    pen += scale * advance;
    before = code;
  }
  return pen;
}

// How much of each pixel a letter covers.
struct Glyph {
  int width = 0, rows = 0, dx = 0, dy = 0;  // px; its corner lies (dx, dy) from the pen
  std::vector<float> cover;                 // 0..1, row by row
};

// To a quarter of a pixel letters stand where the pen is, so that each is drawn a few times and not wherever
// it appears.
constexpr double kPenSteps = 4;

// The letter with the pen `step` quarters of a pixel right of a pixel's left edge; valid until the next call.
const Glyph& glyph_of(int code, double size, int step) {
  constexpr std::size_t kMost = 4096;  // of names in a script of many letters no more are kept
  static thread_local std::map<std::tuple<int, double, int>, Glyph> drawn;
  if (drawn.size() >= kMost) drawn.clear();
  const auto [entry, is_new] = drawn.try_emplace({code, size, step});
  Glyph& glyph = entry->second;
  if (!is_new) return glyph;
  const float scale = scale_of(size);
  unsigned char* const bytes =
      stbtt_GetCodepointBitmapSubpixel(&font(), scale, scale, static_cast<float>(step / kPenSteps), 0, code,
                                       &glyph.width, &glyph.rows, &glyph.dx, &glyph.dy);
  for (int i = 0; i < glyph.width * glyph.rows; ++i)
    glyph.cover.push_back(static_cast<float>(bytes[i]) / 255.0f);
  stbtt_FreeBitmap(bytes, nullptr);
  return glyph;
}

// A line of text drawn level.
struct LevelText {
  int length = 0, height = 0;  // px
  std::vector<float> cover;    // row by row

  bool holds(int i, int j) const { return i >= 0 && i < length && j >= 0 && j < height; }
  float& at(int i, int j) { return cover[static_cast<std::size_t>(j) * length + i]; }
  float at(int i, int j) const { return cover[static_cast<std::size_t>(j) * length + i]; }
};

// The same with `halo` px around each letter.
LevelText grown(const LevelText& text, double halo) {
  LevelText around{text.length, text.height, std::vector<float>(text.cover.size(), 0.0f)};
  const int reach = static_cast<int>(std::ceil(halo));
  for (int dy = -reach; dy <= reach; ++dy)
    for (int dx = -reach; dx <= reach; ++dx) {
      const auto fade = static_cast<float>(std::clamp(halo + 0.5 - std::hypot(dx, dy), 0.0, 1.0));
      if (!(fade > 0)) continue;
      for (int j = std::max(0, -dy); j < text.height - std::max(0, dy); ++j)
        for (int i = std::max(0, -dx); i < text.length - std::max(0, dx); ++i)
          around.at(i + dx, j + dy) = std::max(around.at(i + dx, j + dy), fade * text.at(i, j));
    }
  return around;
}

}  // namespace

double text_width(std::string_view utf8, double size) {
  return walk(utf8, size, [](int, double) {});
}

double text_height(double size) {
  const LineMetrics metrics = metrics_of(size);
  return metrics.ascent + metrics.descent;
}

std::string text_that_fits(std::string_view utf8, double size, double width) {
  std::string text = printable(utf8);
  if (text_width(text, size) <= width) return text;
  const std::string ellipsis = "…";
  while (!text.empty() && text_width(text + ellipsis, size) > width) {
    // One whole code point off the end.
    while (!text.empty() && continues_letter(text.back())) text.pop_back();
    if (!text.empty()) text.pop_back();
  }
  return text + ellipsis;
}

void Canvas::text(const Spot& corner, std::string_view utf8, const TextStyle& style) {
  // Letters are first drawn level, into a mask of their own, which is then grown and turned as needed.
  const int margin = static_cast<int>(std::ceil(style.halo)) + 2;
  LevelText level;
  level.length = static_cast<int>(std::ceil(text_width(utf8, style.size))) + 2 * margin;
  level.height = static_cast<int>(std::ceil(text_height(style.size))) + 2 * margin;
  level.cover.assign(static_cast<std::size_t>(level.length) * level.height, 0.0f);
  const double left = style.upward ? 0 : corner.x - std::floor(corner.x);
  const int baseline = static_cast<int>(std::round(margin + metrics_of(style.size).ascent));
  walk(utf8, style.size, [&](int code, double pen) {
    const double steps = std::round((margin + left + pen) * kPenSteps), x = std::floor(steps / kPenSteps);
    const Glyph& glyph = glyph_of(code, style.size, static_cast<int>(steps - kPenSteps * x));
    for (int j = 0; j < glyph.rows; ++j) {
      for (int i = 0; i < glyph.width; ++i) {
        const int column = static_cast<int>(x) + glyph.dx + i, row = baseline + glyph.dy + j;
        if (!level.holds(column, row)) continue;
        float& pixel = level.at(column, row);
        pixel = std::max(pixel, glyph.cover[static_cast<std::size_t>(j) * glyph.width + i]);
      }
    }
  });

  const int x0 = static_cast<int>(std::floor(corner.x)) - margin,
            y0 = static_cast<int>(std::floor(corner.y)) - margin;
  const int across = style.upward ? level.height : level.length,
            down = style.upward ? level.length : level.height;
  Mask mask = mask_for({static_cast<double>(x0), static_cast<double>(y0), static_cast<double>(x0 + across),
                        static_cast<double>(y0 + down)});
  const auto put = [&](const LevelText& text, Rgb colour) {
    for (int y = mask.y0; y < mask.y0 + mask.height; ++y) {
      mask.touch(y, mask.x0, mask.x0 + mask.width);
      for (int x = mask.x0; x < mask.x0 + mask.width; ++x)
        mask.at(x, y) = style.upward ? text.at(text.length - 1 - (y - y0), x - x0) : text.at(x - x0, y - y0);
    }
    blend(mask, colour, 1);
  };
  if (style.halo > 0) put(grown(level, style.halo), style.halo_colour);
  put(level, style.colour);
  give_back(std::move(mask));
}

std::string Canvas::png() const {
  // No filter and the least effort (of 12): pixels of flat paper and of a ramp's steps repeat, which packs
  // better and sooner than differences from the row above do (11 % and a quarter, on the demo's maps). The
  // settings are globals of the encoder.
  static std::once_flag settings;
  std::call_once(settings, [] {
    stbi_write_force_png_filter = 0;
    stbi_write_png_compression_level = 1;
  });
  std::string bytes;
  const auto append = [](void* context, void* data, int size) {
    static_cast<std::string*>(context)->append(static_cast<const char*>(data),
                                               static_cast<std::size_t>(size));
  };
  static_assert(sizeof(Rgb) == 3);
  if (!stbi_write_png_to_func(append, &bytes, width_, height_, 3, pixels_.data(), width_ * 3)) {
    throw std::runtime_error(
        fmt::format("a picture of {} by {} pixels could not be encoded", width_, height_));
  }
  return bytes;
}

}  // namespace boughlight
