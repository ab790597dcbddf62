// The radiating surface of a lamp in its own frame, near field included: where light leaves it, in which
// directions, and how to sample both from a receiver (for direct light) and from the lamp (for light paths).
//
// Local frame: the emitter's centre at the origin, `aim` = +z, `along` = +x. Lengths in metres.
// Everything is per watt of radiant flux.
#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "units/canonical.h"

namespace boughlight {

using Vec3 = Eigen::Vector3d;

// One sampled connection between a place and the emitter.
struct EmitterPoint {
  Vec3 point = Vec3::Zero();  // on the emitter
  // Irradiance per watt, 1/m2, that light arriving from `point` alone would give on a sensor facing it,
  // divided by the sampling density: the mean of weight x cos(sensor) over samples is the irradiance in free
  // space. The emitter's own cosine and 1/r^2 are included, the sensor's cosine is not.
  double weight = 0;
};

// One sampled ray of the emitter's own light.
struct EmittedRay {
  Vec3 origin = Vec3::Zero();
  Vec3 direction = Vec3::UnitZ();  // unit
  double weight = 0;               // watts carried per watt of flux; its mean over samples is 1
};

// The directional law of a form that is not Lambert's: intensity per watt, 1/sr, integrating to 1 over the
// sphere.
class AngularForm {
 public:
  virtual ~AngularForm() = default;
  virtual double intensity(const Vec3& direction) const = 0;  // direction unit, local frame
  // direction and 1 / density of the sampled direction, so that intensity x inverse_pdf has mean 1.
  struct Sample {
    Vec3 direction;
    double inverse_pdf;
  };
  virtual Sample sample(double u1, double u2) const = 0;
  virtual double pdf(const Vec3& direction) const = 0;  // 1/sr, of sample()
  // Angles from aim, rad, at which the law jumps or bends; for quadrature.
  virtual std::vector<double> bends() const { return {}; }
  // The kind and everything that it was made from: of two forms with the same bytes each function gives the
  // same.
  virtual void identify(CanonicalBytes& bytes) const = 0;
};
std::unique_ptr<AngularForm> make_isotropic();
// cos^n about aim, n such that it halves at half_angle (rad, in (0, pi/2)); nothing from 90 deg on.
std::unique_ptr<AngularForm> make_cosine_power(double half_angle_rad);
// A tube's sin(angle from its axis) law, even across it within cutoff (rad, in (0, pi]) either side of aim.
std::unique_ptr<AngularForm> make_trough(double cutoff_rad);
// Intensity against angle from aim (rad, rising from >= 0 to <= pi, the first entry held down to 0), linear
// between entries, zero past the last. Relative: normalised here. At least one entry positive.
std::unique_ptr<AngularForm> make_intensity_table(std::vector<double> angle_rad,
                                                  std::vector<double> relative);

class Emitter {
 public:
  virtual ~Emitter() = default;

  // u1, u2 in [0, 1). `from` anywhere; weight 0 where no light goes, and inside the body of a tube or sphere.
  // Never negative and always finite.
  virtual EmitterPoint connect(const Vec3& from, double u1, double u2) const = 0;
  // u in [0, 1)^4.
  virtual EmittedRay emit(double u1, double u2, double u3, double u4) const = 0;

  // Irradiance per watt, 1/m2, at `distance` from the centre along aim on a sensor facing back along it, in
  // free air, by quadrature independent of connect(); 0 where there is none. Relative error below 1e-6 for
  // smooth forms.
  virtual double on_axis(double distance) const = 0;

  // How far the emitter reaches from its centre in a direction (unit): support function of its convex hull,
  // m.
  virtual double extent(const Vec3& direction) const = 0;
  // Distance from a place to the emitter's surface (0 inside or on it), m.
  virtual double distance(const Vec3& from) const = 0;
  // The place on the emitter's surface or body nearest to `from`.
  virtual Vec3 nearest(const Vec3& from) const = 0;
  virtual std::string describe() const = 0;  // "tube, 53 cm long, 16 mm across"
  // As of an angular form, with its own.
  virtual void identify(CanonicalBytes& bytes) const = 0;
};

// A null form means Lambert's law for the shape.
std::unique_ptr<Emitter> make_point_emitter(std::unique_ptr<AngularForm> form);
std::unique_ptr<Emitter> make_tube_emitter(double length, double diameter, std::unique_ptr<AngularForm> form);
std::unique_ptr<Emitter> make_disc_emitter(double diameter, std::unique_ptr<AngularForm> form);
std::unique_ptr<Emitter> make_rectangle_emitter(double length, double width,
                                                std::unique_ptr<AngularForm> form);
std::unique_ptr<Emitter> make_sphere_emitter(double diameter, std::unique_ptr<AngularForm> form);

}  // namespace boughlight
