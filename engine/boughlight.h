/// @mainpage Boughlight as a library
///
/// Load a scene, trace its light, assess it. Other programs include boughlight.h alone.
///
/// Their CMakeLists.txt has `find_package(boughlight)` and links `boughlight::boughlight`; then
///
/// @include example.cpp
///
/// The headers that are public, and what is in them:
///
/// | header | what |
/// | --- | --- |
/// | scene/load.h | reading scenes, fixtures and the library |
/// | scene/model.h | the scene: plain structs in SI units; may be changed, or built, in code |
/// | spectrum/quantity.h, spectrum/bins.h | the quantities, their units; the wavelength bins |
/// | assess/sensor_tracer.h, transport/response.h | single places; the light there by source and wavelength |
/// | assess/survey.h, assess/results.h and those that it includes | the whole survey and what it finds |
/// | transport/light_files.h | keeping traced light for the next survey of the same enclosure and lamps |
/// | report/write.h | results as JSON, CSV, a page, files |
/// | units/problem.h | what is thrown for a wrong input |
///
/// Other headers that are installed are there because these need them; they may change with any version. The
/// interface may change with the second figure of the version, while the first is 0. Results are the same
/// bits for the same scene, seed, version and build, whatever the number of threads. Calls may come from
/// several threads; each works on its own scene.
///
/// The figures are estimates. A meter at the place decides.
#pragma once

#include "assess/results.h"
#include "assess/sensor_tracer.h"
#include "assess/survey.h"
#include "report/write.h"
#include "scene/load.h"
#include "scene/model.h"
#include "spectrum/library_path.h"
#include "spectrum/quantity.h"
#include "transport/light_files.h"
#include "transport/response.h"
#include "units/problem.h"

#ifdef BOUGHLIGHT_INSTALLED_FIXTURES
namespace boughlight {
// The CMake package says where its own fixtures lie, wherever it was installed.
inline const bool kInstalledFixturesOffered = offer_library_path(BOUGHLIGHT_INSTALLED_FIXTURES);
}  // namespace boughlight
#endif
