// ANSI/IES LM-63 photometric data files (1986, 1991, 1995, 2002 and 2019): how a lamp's intensity spreads.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "spectrum/emitter.h"

namespace boughlight {

// C: polar angle from the lamp's axis and azimuth about it (most lamps). B: the vertical angle turns about a
// horizontal axis, and the horizontal angle tilts towards it (floodlights). A: the horizontal angle turns
// about the upright axis, and the vertical angle tilts towards it (vehicle lamps).
enum class PhotometricType { c = 1, b = 2, a = 3 };

struct Photometry {
  std::string header;  // "IESNA:LM-63-2002"; "" for files of 1986
  PhotometricType type = PhotometricType::c;
  std::vector<double> vertical_deg, horizontal_deg;  // strictly rising
  std::vector<double> candela;         // [horizontal * vertical count + vertical], all factors multiplied in
  std::optional<double> rated_lumens;  // of all lamps together; nothing in an absolute file
  double input_watts = 0;

  // What the planes given stand for, by symmetry, in candela. Type C: vertical 0 at aim, horizontal 0 at
  // along, rising counterclockwise seen from above where the lamp aims down. Types A and B: (0, 0) at aim,
  // horizontal turning towards along (clockwise seen from above where the lamp aims level and along is to the
  // right), vertical rising. LM-63-2002, 3.0, "horizontal angles", "vertical angles".
  double candela_at(double vertical_deg, double horizontal_deg) const;
  // The same in the direction of a unit vector of the emitter's frame (aim +z, along +x).
  double candela_towards(const Vec3& direction) const;
  // Integral over the sphere, lm, of the bilinear interpolation between the angles given.
  double lumens() const;
};

// Throws InputError with line and column: bad counts, angles that do not rise or do not fit the type,
// negative candelas, no light at all, numbers missing or left over, TILT in a file of its own.
Photometry parse_lm63(std::string_view text, const std::string& file);
Photometry read_lm63(const std::filesystem::path& file);

// The law as a form: intensity per watt is the file's shape, normalised.
std::unique_ptr<AngularForm> make_photometric_form(Photometry photometry);

}  // namespace boughlight
