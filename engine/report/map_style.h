// Colours and sizes that the parts of a map share, and charts with them.
#pragma once

#include <array>

#include "report/canvas.h"

namespace boughlight::map_style {

inline constexpr Rgb kPaper{251, 250, 246};
inline constexpr Rgb kInk{28, 40, 46};
inline constexpr Rgb kMuted{92, 104, 110};
inline constexpr Rgb kHatch{150, 152, 150};
inline constexpr Rgb kHatchGround{222, 221, 216};
inline constexpr Rgb kBark{112, 84, 62};
inline constexpr Rgb kLeaf{38, 96, 46};
inline constexpr Rgb kLeafEdge{66, 142, 62};
inline constexpr Rgb kLamp{255, 226, 138};
inline constexpr Rgb kLampEdge{110, 66, 0};

inline constexpr double kTitleSize = 20;
inline constexpr double kCaptionSize = 15;
inline constexpr double kLabelSize = 14;
inline constexpr double kSmallSize = 13;

inline constexpr int kLongSide = 1000;  // of a picture, px

// Charts over time.
inline constexpr int kChartWidth = 1000;  // px
inline constexpr Rgb kGrid{216, 216, 210};
// Told apart by lightness and dash as well as by hue, for any colour vision.
inline constexpr std::array<Stroke, 4> kLineStyles = {{{2.6, {0, 70, 140}, 1, 0, 0},
                                                       {2.6, {205, 85, 0}, 1, 11, 5},
                                                       {2.6, {0, 130, 96}, 1, 4, 4},
                                                       {2.6, {120, 60, 130}, 1, 18, 6}}};

}  // namespace boughlight::map_style
