// Emitters of every shape and form with what the laws say about them written out anew: small elements of the
// surface (or of the line or plane that a form radiates from), each with its share of the power and its
// normal.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "spectrum/emitter.h"

namespace boughlight {

struct Element {
  Vec3 at;
  Vec3 normal;   // of Lambert's law; zero where a form holds
  double share;  // of the flux
  int cell;      // a coarser patch of the emitter, for tests of where samples fall
};

struct Subject {
  std::unique_ptr<Emitter> emitter;
  std::unique_ptr<AngularForm> form;  // none: Lambert's law
  std::vector<Element> elements;
  std::function<int(const Vec3&)> cell_of;
  double size;  // the greatest extent from the centre, m
};

inline constexpr int kSubjects = 15;
// `thin` times fewer elements each way (1 or 20; 20 is too few for the tests by patches).
Subject make_subject(int index, int thin = 1);
std::string subject_name(int index);

// Irradiance per watt, 1/m2, on a sensor by the sum over elements; `cell` >= 0: from that patch alone.
double sum_over_elements(const Subject& subject, const Vec3& from, const Vec3& sensor, int cell = -1);

// Mean of weight x cos(sensor) over a grid of n x n places in the square of connect()'s two numbers.
double grid_of_connections(const Emitter& emitter, const Vec3& from, const Vec3& sensor, int n);

}  // namespace boughlight
