// What meter readings say of the lamps and meshes that a scene declares.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "assess/results.h"
#include "plan/fit_model.h"
#include "plan/meter_readings.h"
#include "scene/extras.h"

namespace boughlight {

struct FitControl {
  bool heights =
      false;  // whether heights of lamps and places are found as well, else they only widen the doubt
  double meter =
      0.10;         // one standard deviation of a reading, relative: four fifths of it the meter's own scale
  int threads = 0;  // 0: all
  std::function<void(const std::string& stage, double share)> progress;
};

// What may be behind a reading that fits no other.
struct FitGuess {
  enum class Kind {
    place,      // it would fit if taken at `name`
    lamps,      // ... with only the lamp `name` lit; `name` empty: with all
    screen,     // ... with the screen off (or on, where the file says it is off)
    upwards,    // ... by a sensor that looks straight up
    scale,      // ... if the figure were `factor` times as much: a slip of the unit or the decimal point
    low_alone,  // it is low, and other quantities read at that place fit: that sensor is wet, dirty or shaded
    low_together  // so are all at that place: the sensor was shaded, wet or turned away
  };
  Kind kind = Kind::place;
  std::string name;
  double factor = 0;
};

struct FitReading {
  MeterReading reading;
  Vec3 direction = Vec3::UnitZ();  // of the sensor
  double declared = 0;             // what the scene as it is gives
  double fitted = 0;               // what the calibrated one gives
  double expected = 0;             // what this meter would say, heights and reflected light as found too
  double miss = 0;                 // of the reading beside what all others say, in standard deviations
  bool used = true;
  bool outlier = false;  // else, if not used: the lamps were cold
  // Used, and as far off as an outlier: nothing tells whether it is wrong, or those that say otherwise.
  bool at_odds = false;
  std::vector<FitGuess> guesses = {};
};

// A factor found, with its 95 % band. `sd` are standard deviations of its natural logarithm, as declared and
// now.
struct FitFactor {
  std::string name;  // lamp, mesh or quantity
  std::string part;  // of a lamp that has several
  double factor = 1, low = 1, high = 1;
  double sd_before = 0, sd_after = 0;
  bool learned = false;  // the readings say something of it
};
// How much higher than declared, m.
struct FitHeight {
  bool of_lamp = false;
  std::string name;
  double shift = 0;
  double sd_before = 0, sd_after = 0;
  bool learned = false;
};
// A figure that the scene asks for, as declared and as fitted, with its bands.
struct FitBand {
  std::string reading;
  Quantity quantity = Quantity::uvi;
  double before = 0, before_low = 0, before_high = 0;
  double after = 0, after_low = 0, after_high = 0;
  Limits limits;  // none: not asked
};
// One thing alone as what is behind it all.
struct FitCause {
  FitKind kind = FitKind::lamp;
  bool nothing = false;  // all is as declared
  std::string name, part;
  double shift = 0;  // a factor; for heights m
  double share = 0;  // of the probability of all these explanations, 0..1
  double miss = 0;   // root mean square of what it leaves, in standard deviations
};

struct Fit {
  std::vector<FitReading> readings;         // in the file's order
  std::size_t blank = 0;                    // rows without a reading
  std::vector<std::string> unread_columns;  // as in MeterReadings
  std::vector<FitFactor> lamps, meshes, meters;
  std::vector<FitHeight> heights;  // only where asked for
  std::vector<FitBand> bands;
  std::vector<FitCause> causes;            // most probable first
  double miss_before = 0, miss_after = 0;  // root mean square of used readings over their noise
  bool heights_asked = false;
  double meter = 0;
  // By lamp and part, and by mesh material (index into scene.materials): what a calibrated scene holds.
  std::vector<std::vector<double>> lamp_factors;
  std::vector<double> lamp_spreads;                // relative; 0 where the readings say nothing of the lamp
  std::vector<double> mesh_factors, mesh_spreads;  // by material; the same
};

// Throws InputError for a reading that cannot be what it says: through a screen where there is none, or where
// no light gets to. Fixed by the scene and the readings, whatever the threads.
Fit fit_readings(const Scene& scene, const MeterReadings& readings, const FitControl& control);

// The scene's file with what was found put in: a section `measured`, and heights where they were asked for.
std::string fitted_scene_text(const PlannedScene& planned, const Fit& fit);

}  // namespace boughlight
