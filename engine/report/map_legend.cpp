#include "report/map_legend.h"

#include <algorithm>
#include <cmath>

#include "report/map_signs.h"
#include "report/map_style.h"
#include "report/text.h"
#include "units/units.h"

namespace boughlight {

using namespace map_style;

namespace {

constexpr double kBarWidth = 24, kBarHeight = 200, kLegendRow = 19, kLegendHeading = 46, kLegendGap = 16;

std::string map_limit_text(const MapLimit& limit) {
  const std::string sign = limit.kind == MapLimit::Kind::at_least ? "≥ " : "≤ ";
  std::string text = sign + print_number(limit.value) + "  ";
  for (std::size_t i = 0; i < limit.who.size(); ++i) text += (i ? ", " : "") + printable(limit.who[i]);
  return text;
}

Rect draw_colour_bar(Canvas& canvas, const Spot& corner, const ColourScale& scale) {
  const Rect bar{corner.x, corner.y, corner.x + kBarWidth, corner.y + kBarHeight};
  for (int y = static_cast<int>(bar.y0); y < static_cast<int>(bar.y1); ++y) {
    const Rgb colour = scale.colour_at((bar.y1 - 0.5 - y) / kBarHeight);
    for (int x = static_cast<int>(bar.x0); x < static_cast<int>(bar.x1); ++x) canvas.set(x, y, colour);
  }
  canvas.stroke(closed(rect_path(bar)), {1, kInk});
  for (const double tick : scale.ticks()) {
    const double y = bar.y1 - scale.share(tick) * kBarHeight;
    canvas.stroke({{bar.x1, y}, {bar.x1 + 6, y}}, {1.2, kInk});
    canvas.stroke({{bar.x0, y}, {bar.x1, y}}, {1, thin_line_colour(scale, tick), 0.6});
    const bool lowest = scale.spacing == Spacing::logarithmic && tick <= scale.low * (1 + 1e-9);
    std::string text = (lowest ? "≤ " : "") + tick_text(tick);
    if (scale.spacing == Spacing::change) {
      const bool last = std::abs(tick) >= scale.high * (1 - 1e-9);
      text = (!last ? "" : tick > 0 ? "≥ " : "≤ ") + signed_tick_text(tick);
    }
    canvas.text({bar.x1 + 10, y - text_height(kSmallSize) / 2}, text, {kSmallSize, kInk});
  }
  return bar;
}

}  // namespace

Stroke limit_stroke(MapLimit::Kind kind) {
  if (kind == MapLimit::Kind::never) return {3.2, kInk, 1, 10, 6};
  return {2.2, kInk};
}

Rgb thin_line_colour(const ColourScale& scale, double value) {
  return to_oklab(scale.colour(value)).lightness < 0.55 ? Rgb{255, 255, 255} : kInk;
}

double legend_height(std::size_t limits, std::size_t signs) {
  const std::size_t rows = std::min(limits, kMostLegendLimits + 1);
  const double limit_part = rows ? kLegendGap + kLegendRow * static_cast<double>(rows + 1) : 0;
  return kLegendHeading + kBarHeight + limit_part + kLegendGap + kLegendRow * static_cast<double>(signs);
}

Rect draw_legend(Canvas& canvas, const Spot& corner, const Legend& legend) {
  const std::string unit = pretty_unit(legend.quantity);
  canvas.text(corner, unit.empty() ? "UV index (no unit)" : unit, {kCaptionSize, kInk});
  const Spacing spacing = legend.scale.spacing;
  canvas.text({corner.x, corner.y + 19},
              spacing == Spacing::change        ? "second less first, linear"
              : spacing == Spacing::logarithmic ? "logarithmic scale"
                                                : "linear scale",
              {kSmallSize, kMuted});
  const Rect bar = draw_colour_bar(canvas, {corner.x, corner.y + kLegendHeading}, legend.scale);

  double y = bar.y1;
  const double sample = 15, text_x = corner.x + 38, room = kLegendWidth - 38;
  const auto row_text = [&](const std::string& text, Rgb colour) {
    canvas.text({text_x, y + (kLegendRow - text_height(kSmallSize)) / 2},
                text_that_fits(text, kSmallSize, room), {kSmallSize, colour});
  };
  if (!legend.limits.empty()) {
    y += kLegendGap;
    canvas.text({corner.x, y}, "Limits (grey: not met with here)", {kSmallSize, kMuted});
    y += kLegendRow;
    for (std::size_t i = 0; i < std::min(legend.limits.size(), kMostLegendLimits); ++i, y += kLegendRow) {
      const auto& [limit, in_view] = legend.limits[i];
      const Path line = {{corner.x, y + kLegendRow / 2}, {corner.x + 2 * sample, y + kLegendRow / 2}};
      if (in_view) canvas.stroke(line, limit_stroke(limit.kind));
      row_text(map_limit_text(limit), in_view ? kInk : kMuted);
    }
    if (legend.limits.size() > kMostLegendLimits) {
      row_text("and " + std::to_string(legend.limits.size() - kMostLegendLimits) + " more", kMuted);
      y += kLegendRow;
    }
  }
  y += kLegendGap;
  for (const MapSign sign : legend.signs) {
    draw_sign(canvas, sign, {corner.x + sample, y + kLegendRow / 2}, 2 * sample - 2);
    row_text(sign_name(sign), kInk);
    y += kLegendRow;
  }
  return bar;
}

}  // namespace boughlight
