// How plans show where all wants hold: the slack by colour, what fails by tint and number. Private to this
// room.
#pragma once

#include <functional>
#include <vector>

#include "plan/figure_field.h"
#include "report/labels.h"
#include "report/plot.h"
#include "report/scale.h"

namespace boughlight {

// Plots of a region stand in rows of three; the room around them, px.
inline constexpr std::size_t kRegionColumns = 3;
inline constexpr int kRegionWidth = 1100;  // of the whole picture
inline constexpr double kRegionMargin = 22, kRegionLeft = 74, kRegionBetween = 26, kRegionAxis = 44,
                        kRegionNotes = 40;
// Of one plot, whole pixels.
double region_plot_width();

// What a layer of a field (one value of its third axis) shows.
class RegionPicture {
 public:
  // `shown`: how many of the bindings get a tint and a number of their own; the rest share one.
  RegionPicture(const FigureField& field, const Region& region, const LengthUnit& unit);

  // The plot's axes are the field's first two.
  void draw(Canvas& canvas, const Plot& plot, std::size_t layer) const;
  // The colour bar, and the numbers with what they stand for, in lines of at most `width` px; returns how far
  // down it went.
  double draw_legend(Canvas& canvas, const Spot& corner, double width,
                     const std::function<std::string(const Ask&)>& words) const;
  double legend_height() const;

 private:
  // The position among the bindings of what fails worst there; nothing where it is not known.
  std::size_t worst(std::size_t choice) const;

  const FigureField& field_;
  const Region& region_;
  LengthUnit unit_;
  ColourScale scale_;
  std::vector<Binding> shown_;
};

// A ring for the best choice, a cross for the present one.
void draw_best_mark(Canvas& canvas, const Spot& spot);
void draw_present_mark(Canvas& canvas, const Spot& spot);

}  // namespace boughlight
