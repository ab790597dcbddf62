#include "report/region_picture.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "report/map_signs.h"
#include "report/map_style.h"

namespace boughlight {

using namespace map_style;

namespace {

// Pale enough that the region itself stands out; told apart by their numbers as well.
constexpr std::array<Rgb, 8> kTints = {{{238, 214, 210},
                                        {222, 226, 204},
                                        {216, 218, 232},
                                        {240, 228, 200},
                                        {226, 210, 226},
                                        {206, 226, 224},
                                        {232, 220, 210},
                                        {220, 220, 220}}};
constexpr Rgb kOtherTint{232, 232, 228}, kUnsureTint{196, 200, 200};
constexpr double kSlackBarHeight = 14, kLine = 21;

double greatest_slack(const Region& region) {
  double most = 0;
  for (const double slack : region.slack)
    if (std::isfinite(slack)) most = std::max(most, slack);
  return most;
}

}  // namespace

double region_plot_width() {
  constexpr double kColumns = static_cast<double>(kRegionColumns);
  return std::floor((kRegionWidth - kRegionLeft - kRegionMargin - (kColumns - 1) * kRegionBetween) /
                    kColumns);
}

RegionPicture::RegionPicture(const FigureField& field, const Region& region, const LengthUnit& unit)
    : field_(field), region_(region), unit_(unit), shown_(region.bindings) {
  const std::vector<double> values = {0, std::max(1e-6, unit.from_m(greatest_slack(region)))};
  scale_ = scale_for(values, {});
  // What takes most away comes first.
  std::stable_sort(shown_.begin(), shown_.end(),
                   [](const Binding& a, const Binding& b) { return a.refused > b.refused; });
  if (shown_.size() > kTints.size()) shown_.resize(kTints.size());
}

std::size_t RegionPicture::worst(std::size_t choice) const {
  double least = std::numeric_limits<double>::infinity();
  std::size_t which = 0;
  for (std::size_t ask = 0; ask < field_.asks.asks.size(); ++ask) {
    if (!field_.counts[ask]) continue;
    const double own = field_.margin(choice, ask).sure;
    if (own < least) least = own, which = ask;
  }
  const auto found =
      std::find_if(shown_.begin(), shown_.end(), [&](const Binding& b) { return b.ask == which; });
  return static_cast<std::size_t>(found - shown_.begin());
}

void RegionPicture::draw(Canvas& canvas, const Plot& plot, std::size_t layer) const {
  const std::vector<double>&u = field_.axes[0], &v = field_.axes[1];
  const std::size_t count = u.size() * v.size(), first = layer * count;
  PlaneValues sure{&u, &v, {}}, maybe{&u, &v, {}}, slack{&u, &v, {}};
  std::vector<std::size_t> failing(count);
  // Margins far off a limit would outweigh their neighbours.
  const auto cut = [](double margin) { return std::clamp(margin, -0.5, 0.5); };
  for (std::size_t i = 0; i < count; ++i) {
    const Margin margin = field_.margin(first + i);
    sure.values.push_back(cut(margin.sure));
    maybe.values.push_back(cut(margin.maybe));
    slack.values.push_back(unit_.from_m(std::isfinite(region_.slack[first + i]) ? region_.slack[first + i]
                                                                                : unit_.to_m(scale_.high)));
    failing[i] = worst(first + i);
  }
  const auto nearest = [](const std::vector<double>& list, double value) {
    const auto above = std::lower_bound(list.begin(), list.end(), value);
    if (above == list.begin()) return std::size_t{0};
    const auto high = static_cast<std::size_t>(above - list.begin());
    return high == list.size() || value - list[high - 1] < list[high] - value ? high - 1 : high;
  };
  paint_plot(canvas, plot, [&](double at_u, double at_v, int x, int y) {
    const std::size_t i = nearest(v, at_v) * u.size() + nearest(u, at_u);
    if (field_.blocked[first + i]) return is_hatch_line(x, y) ? kHatch : kHatchGround;
    if (sure.at(at_u, at_v) >= 0) return scale_.colour(slack.at(at_u, at_v));
    if (maybe.at(at_u, at_v) >= 0) return kUnsureTint;
    return failing[i] < shown_.size() ? kTints[failing[i]] : kOtherTint;
  });
  canvas.clip_to(plot.area);
  stroke_cased(canvas,
               plot_contours(
                   plot, [&](double at_u, double at_v) { return sure.at(at_u, at_v); }, 0),
               {1.6, kInk});
  // Each number in the middle of its largest patch: the choice furthest from all that is something else.
  for (std::size_t shown = 0; shown < shown_.size(); ++shown) {
    double best = 12;  // px; smaller patches have no room for it
    std::optional<Spot> where;
    const auto other = [&](std::size_t k) {
      return region_.states[first + k] == ChoiceState::allowed || failing[k] != shown;
    };
    for (std::size_t i = 0; i < count; ++i) {
      if (other(i)) continue;
      const Spot here = plot.px(u[i % u.size()], v[i / u.size()]);
      double room = std::min({here.x - plot.area.x0, plot.area.x1 - here.x, here.y - plot.area.y0,
                              plot.area.y1 - here.y}) +
                    4;
      for (std::size_t k = 0; k < count && room > best; ++k) {
        if (!other(k)) continue;
        const Spot there = plot.px(u[k % u.size()], v[k / u.size()]);
        room = std::min(room, std::hypot(there.x - here.x, there.y - here.y));
      }
      if (room > best) best = room, where = here;
    }
    if (!where) continue;
    const std::string text = std::to_string(shown + 1);
    canvas.text({where->x - text_width(text, kSmallSize) / 2, where->y - text_height(kSmallSize) / 2}, text,
                {kSmallSize, kMuted});
  }
  canvas.clip_to_all();
}

double RegionPicture::legend_height() const {
  const bool any = region_.allowed > 0;
  return (any ? kSlackBarHeight + 2 * kLine + 10 : 0) + kLine * static_cast<double>(shown_.size()) +
         (region_.unsure > 0 ? kLine : 0) + (region_.blocked > 0 ? kLine : 0) + 8;
}

double RegionPicture::draw_legend(Canvas& canvas, const Spot& corner, double width,
                                  const std::function<std::string(const Ask&)>& words) const {
  double y = corner.y;
  if (region_.allowed > 0) {
    canvas.text({corner.x, y}, "Every want holds; colour: how far to where one fails, " + unit_.name(),
                {kSmallSize, kInk});
    y += kLine;
    const Rect bar{corner.x, y, corner.x + 300, y + kSlackBarHeight};
    for (int x = 0; x < static_cast<int>(bar.width()); ++x)
      canvas.fill(Rect{bar.x0 + x, bar.y0, bar.x0 + x + 1, bar.y1}, ramp_colour(x / bar.width()));
    for (const double tick : scale_.ticks()) {
      const double x = bar.x0 + scale_.share(tick) * bar.width();
      const std::string text = tick_text(tick);
      canvas.stroke({{x, bar.y1}, {x, bar.y1 + 4}}, {1.2, kInk});
      canvas.text({x - text_width(text, kSmallSize) / 2, bar.y1 + 4}, text, {kSmallSize, kInk});
    }
    y += kSlackBarHeight + kLine + 10;
  }
  const auto row = [&](const std::function<void(const Rect&)>& paint, const std::string& text) {
    const Rect swatch{corner.x, y + 1, corner.x + 24, y + kLine - 4};
    paint(swatch);
    canvas.stroke(closed(rect_path(swatch)), {1, kMuted});
    canvas.text({corner.x + 32, y}, text_that_fits(text, kSmallSize, width - 32), {kSmallSize, kInk});
    y += kLine;
  };
  for (std::size_t i = 0; i < shown_.size(); ++i) {
    row(
        [&](const Rect& swatch) {
          canvas.fill(swatch, kTints[i]);
          const std::string number = std::to_string(i + 1);
          canvas.text({swatch.centre().x - text_width(number, kSmallSize) / 2,
                       swatch.centre().y - text_height(kSmallSize) / 2},
                      number, {kSmallSize, kMuted});
        },
        "fails most: " + words(field_.asks.asks[shown_[i].ask]));
  }
  if (region_.unsure > 0)
    row([&](const Rect& swatch) { canvas.fill(swatch, kUnsureTint); }, "too close to call");
  if (region_.blocked > 0)
    row([&](const Rect& swatch) { draw_hatch(canvas, swatch); }, "it would touch another lamp");
  return y;
}

void draw_best_mark(Canvas& canvas, const Spot& spot) {
  canvas.stroke(closed(ellipse_path(spot, 7, 7)), {5, kPaper});
  canvas.stroke(closed(ellipse_path(spot, 7, 7)), {2, kInk});
  canvas.fill(ellipse_path(spot, 2.5, 2.5), kInk);
}

void draw_present_mark(Canvas& canvas, const Spot& spot) {
  constexpr double kArm = 6;
  const std::vector<Path> cross = {{{spot.x - kArm, spot.y - kArm}, {spot.x + kArm, spot.y + kArm}},
                                   {{spot.x - kArm, spot.y + kArm}, {spot.x + kArm, spot.y - kArm}}};
  canvas.stroke(cross, {5, kPaper});
  canvas.stroke(cross, {2, kLampEdge});
}

}  // namespace boughlight
