// What maps are put together from: the room on the page, the coloured field, lines with their values, axes
// and words. Private to this room.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "assess/mapped.h"
#include "report/contour.h"
#include "report/labels.h"
#include "report/map.h"

namespace boughlight {

// The picture's size and where the slice lies in it, with a legend of that height beside it, px.
MapLayout layout_of(const Rect& extent, double legend);
int height_with(const Rect& plot, double legend);

// What is shown, by place on the slice (u, v in m).
struct ShownField {
  std::function<std::optional<double>(double u, double v)> value;  // nothing where none is known
  std::vector<Rect> boxes;                                         // the enclosure's, m
};

// Its values a few pixels apart.
Lattice lattice_of(const ShownField& field, const MapLayout& layout);
// Colours every pixel of the plot whose middle lies in a box; returns whether any was without a value.
// Between the lattice's knots the field is as good as bilinear.
bool paint_field(Canvas& canvas, const ShownField& field, const Lattice& lattice, const MapLayout& layout,
                 const ColourScale& scale);

// Contours of which short scraps, as where a line grazes a wall, are left out; the longest first.
std::vector<Path> visible_contours(const Lattice& lattice, double level);
// The text on at most `at_most` of the paths, those of `least_spots` spots or more.
void label_contours(Canvas& canvas, LabelPlacer& placer, const std::vector<Path>& paths,
                    const std::string& text, const TextStyle& style, std::size_t at_most,
                    std::size_t least_spots);

void draw_axes(Canvas& canvas, const Survey& survey, const Slice& slice, const MapLayout& layout);
// Heading, caption and title above; below what the values are: "`what` over cells of ...".
void draw_words(Canvas& canvas, const Survey& survey, const std::string& heading, const std::string& caption,
                const std::string& title, const std::string& what, const MapLayout& layout);
// "UV index", "Irradiance, UV to heat, W/m2"
std::string map_heading(Quantity quantity);

}  // namespace boughlight
