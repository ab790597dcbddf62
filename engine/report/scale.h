// How quantities and lengths are shown: the colour scale, ticks, units and names that maps and reports share.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "spectrum/quantity.h"

namespace boughlight {

// --- colour
// --------------------------------------------------------------------------------------------------

// sRGB, 8 bits a channel.
struct Rgb {
  std::uint8_t r = 0, g = 0, b = 0;
  bool operator==(const Rgb&) const = default;
};

// OKLab (Ottosson 2020, "A perceptual color space for image processing"): lightness 0 (black) to 1 (white);
// equal distances look about equally different.
struct OkLab {
  double lightness = 0, a = 0, b = 0;
};
OkLab to_oklab(Rgb colour);
// Rounded to 8 bits; channels outside sRGB are cut.
Rgb to_rgb(const OkLab& colour);

// The colour ramp: deep blue, teal-grey, warm pale yellow. Lightness rises all the way and equal steps of
// `share` (0..1, cut outside) are equal OKLab distances, so that the order can be read in grey and with any
// colour-vision deficiency.
inline constexpr int kRampSteps = 256;  // fewer than the eye can tell apart, and flat enough to pack well
using Ramp = std::array<Rgb, kRampSteps>;
const Ramp& colour_ramp();
Rgb ramp_colour(double share);

// The ramp for changes: blue, through near white in the middle (share 0.5), to orange. Equally dark at both
// ends, and told apart with any colour-vision deficiency, since blue and yellow are what all of them keep; in
// grey the two sides look alike, so that a picture in these colours needs a second sign of which is which.
const Ramp& change_ramp();
Rgb change_colour(double share);

// --- scales
// --------------------------------------------------------------------------------------------------

// change: linear from -high to high, in the colours for changes; what lies beyond shares the last colour.
enum class Spacing { linear, logarithmic, change };

// One quantity's values against the ramp.
struct ColourScale {
  Spacing spacing = Spacing::linear;
  double low = 0, high = 1;  // low < high; low is 0 when linear, > 0 when logarithmic, -high of changes

  double share(double value) const;  // 0 at low, 1 at high, cut outside
  Rgb colour(double value) const { return colour_at(share(value)); }
  Rgb colour_at(double share) const {
    return spacing == Spacing::change ? change_colour(share) : ramp_colour(share);
  }
  const Ramp& ramp() const { return spacing == Spacing::change ? change_ramp() : colour_ramp(); }
  // Round values from low to high, both ends at most included, at most 10; of changes both
  // included, at most 11.
  std::vector<double> ticks() const;
};

// A scale that holds all `values` (each >= 0), its ends round. Logarithmic where half of the values would lie
// in the lowest tenth of a linear one, else linear from 0. A logarithmic scale starts at a tenth of the mean
// (at the least value where that is more), or lower so that the least of `limits` (where positive and no less
// than a ten-thousandth of the greatest value) can be told apart; what lies below shares the first colour. No
// light at all gives 0 to 1.
ColourScale scale_for(std::span<const double> values, std::span<const double> limits);

// A scale for changes whose ends are round and hold all but the greatest twentieth of `changes` by size: a
// few places close to a lamp would leave no colour for the others. No change at all gives -1 to 1.
ColourScale change_scale(std::span<const double> changes);

// Multiples of 1, 2 or 5 times a power of ten within [low, high], at most `at_most` (>= 2) of them.
std::vector<double> nice_ticks(double low, double high, int at_most);
// A round number without needless zeros, for ticks: "0.5", "150", "20 000".
std::string tick_text(double value);
// The same with its sign: "+0.5", "-150", "0".
std::string signed_tick_text(double value);

// --- names
// ---------------------------------------------------------------------------------------------------

// For headings of pictures and pages: "UV index", "Photosynthetic light (PPFD)".
std::string heading_name(Quantity quantity);
// With the letters a terminal may lack: "µmol/(m² s)"; empty for pure numbers.
std::string pretty_unit(Quantity quantity);
// Finer than this no meter of the kind shows; 0 where a figure's first digits are all that is asked.
double finest_step(Quantity quantity);
// "value unit" for terminals, the value as print_number() gives it: "151 W/m2", "3.1".
std::string value_text(Quantity quantity, double value);

// --- lengths
// -------------------------------------------------------------------------------------------------

// Lengths in the scene's own unit.
class LengthUnit {
 public:
  // m, cm, mm, in, ft ... as accepted by Dimension::length.
  explicit LengthUnit(const std::string& name);

  const std::string& name() const { return name_; }
  double from_m(double metres) const { return metres / size_m_; }
  double to_m(double length) const { return length * size_m_; }

  // To about a millimetre, without the unit: "142.5", "56.1".
  std::string number(double metres) const;
  // "142.5 cm"
  std::string text(double metres) const { return number(metres) + " " + name_; }
  // Metres of ticks that are round in this unit (in inches: 1, 2, 3, 6, 12, 24 ...).
  std::vector<double> ticks_m(double low_m, double high_m, int at_most) const;

 private:
  std::string name_;
  double size_m_ = 1;
  int decimals_ = 1;
};

}  // namespace boughlight
