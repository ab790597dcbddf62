#include "spectrum/emitter_subjects.h"
#include "spectrum/sampling.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace boughlight {

namespace {

constexpr double kDegree = kPi / 180;

using Form = std::function<std::unique_ptr<AngularForm>()>;

int part(double value, double low, double high, int parts) {
  return std::clamp(static_cast<int>((value - low) / (high - low) * parts), 0, parts - 1);
}
double turn(double y, double x) {
  const double angle = std::atan2(y, x);
  return angle < 0 ? angle + 2 * kPi : angle;
}

// Fills the subject with (na x nb) elements; `place` gives position and normal at the middle of each, both
// coordinates running evenly over equal shares. `cell_of` must not cut an element.
void fill(Subject& s, int na, int nb, const std::function<std::pair<Vec3, Vec3>(double, double)>& place) {
  for (int i = 0; i < na; ++i) {
    for (int j = 0; j < nb; ++j) {
      auto [at, normal] = place((i + 0.5) / na, (j + 0.5) / nb);
      if (s.form) normal.setZero();
      s.elements.push_back({at, normal, 1.0 / (na * nb), s.cell_of(at)});
    }
  }
}

Subject tube(const Form& form, int thin) {
  static constexpr double length = 0.6, diameter = 0.026, r = diameter / 2;
  Subject s{make_tube_emitter(length, diameter, form()), form(), {}, {}, length / 2};
  if (s.form) {
    s.cell_of = [](const Vec3& p) { return part(p.x(), -length / 2, length / 2, 16); };
    fill(s, 4000 / thin, 1, [](double a, double) {
      return std::pair<Vec3, Vec3>({length * (a - 0.5), 0, 0}, {});
    });
  } else {
    s.cell_of = [](const Vec3& p) {
      return 12 * part(p.x(), -length / 2, length / 2, 8) + part(turn(p.z(), p.y()), 0, 2 * kPi, 12);
    };
    fill(s, 800 / thin, 240 / thin, [](double a, double b) {
      const Vec3 n(0, std::cos(2 * kPi * b), std::sin(2 * kPi * b));
      return std::pair<Vec3, Vec3>(length * (a - 0.5) * Vec3::UnitX() + r * n, n);
    });
  }
  return s;
}

Subject disc(const Form& form, int thin) {
  static constexpr double diameter = 0.12, r = diameter / 2;
  Subject s{make_disc_emitter(diameter, form()), form(), {}, {}, r};
  s.cell_of = [](const Vec3& p) {
    return 12 * part(p.head<2>().squaredNorm(), 0, r * r, 5) + part(turn(p.y(), p.x()), 0, 2 * kPi, 12);
  };
  fill(s, 400 / thin, 480 / thin, [](double a, double b) {
    const double rho = r * std::sqrt(a), phi = 2 * kPi * b;
    return std::pair<Vec3, Vec3>({rho * std::cos(phi), rho * std::sin(phi), 0}, Vec3::UnitZ());
  });
  return s;
}

Subject rectangle(const Form& form, int thin) {
  static constexpr double length = 0.6, width = 0.2;
  Subject s{make_rectangle_emitter(length, width, form()), form(), {}, {}, std::hypot(0.3, 0.1)};
  s.cell_of = [](const Vec3& p) {
    return 6 * part(p.x(), -length / 2, length / 2, 10) + part(p.y(), -width / 2, width / 2, 6);
  };
  fill(s, 720 / thin, 240 / thin, [](double a, double b) {
    return std::pair<Vec3, Vec3>({length * (a - 0.5), width * (b - 0.5), 0}, Vec3::UnitZ());
  });
  return s;
}

Subject sphere(const Form& form, int thin) {
  static constexpr double diameter = 0.08, r = diameter / 2;
  Subject s{make_sphere_emitter(diameter, form()), form(), {}, {}, r};
  if (s.form) {
    s.cell_of = [](const Vec3&) { return 0; };
    fill(s, 1, 1, [](double, double) { return std::pair<Vec3, Vec3>(Vec3::Zero(), Vec3::Zero()); });
  } else {
    s.cell_of = [](const Vec3& p) {
      return 8 * part(p.z(), -r, r, 8) + part(turn(p.y(), p.x()), 0, 2 * kPi, 8);
    };
    fill(s, 480 / thin, 480 / thin, [](double a, double b) {
      const double z = 2 * a - 1, c = std::sqrt(1 - z * z), phi = 2 * kPi * b;
      const Vec3 n(c * std::cos(phi), c * std::sin(phi), z);
      return std::pair<Vec3, Vec3>(r * n, n);
    });
  }
  return s;
}

Subject point(const Form& form, int) {
  Subject s{make_point_emitter(form()), form(), {}, [](const Vec3&) { return 0; }, 0.05};
  fill(s, 1, 1, [](double, double) { return std::pair<Vec3, Vec3>(Vec3::Zero(), Vec3::UnitZ()); });
  return s;
}

std::unique_ptr<AngularForm> lambert() {
  return nullptr;
}
std::unique_ptr<AngularForm> isotropic() {
  return make_isotropic();
}
std::unique_ptr<AngularForm> flood() {
  return make_cosine_power(25 * kDegree);
}
std::unique_ptr<AngularForm> wide() {
  return make_cosine_power(70 * kDegree);
}
std::unique_ptr<AngularForm> trough() {
  return make_trough(70 * kDegree);
}
std::unique_ptr<AngularForm> batwing() {
  return make_intensity_table({0, 30 * kDegree, 45 * kDegree, 70 * kDegree, 100 * kDegree},
                              {0.6, 0.8, 1, 0.4, 0});
}

struct Kind {
  const char* name;
  Subject (*shape)(const Form&, int thin);
  std::unique_ptr<AngularForm> (*form)();
};
constexpr std::array<Kind, kSubjects> kKinds = {{{"TubeLambert", tube, lambert},
                                                 {"TubeTrough", tube, trough},
                                                 {"TubeIsotropic", tube, isotropic},
                                                 {"TubeCosinePower", tube, wide},
                                                 {"TubeTable", tube, batwing},
                                                 {"DiscLambert", disc, lambert},
                                                 {"DiscCosinePower", disc, flood},
                                                 {"DiscIsotropic", disc, isotropic},
                                                 {"RectangleLambert", rectangle, lambert},
                                                 {"RectangleCosinePower", rectangle, wide},
                                                 {"RectangleTable", rectangle, batwing},
                                                 {"SphereLambert", sphere, lambert},
                                                 {"SphereCosinePower", sphere, flood},
                                                 {"PointLambert", point, lambert},
                                                 {"PointTable", point, batwing}}};

}  // namespace

Subject make_subject(int index, int thin) {
  const Kind& kind = kKinds.at(static_cast<std::size_t>(index));
  return kind.shape(kind.form, thin);
}
std::string subject_name(int index) {
  return kKinds.at(static_cast<std::size_t>(index)).name;
}

double sum_over_elements(const Subject& subject, const Vec3& from, const Vec3& sensor, int cell) {
  double sum = 0;
  for (const Element& e : subject.elements) {
    if (cell >= 0 && e.cell != cell) continue;
    const Vec3 way = from - e.at;
    const double r2 = way.squaredNorm(), r = std::sqrt(r2);
    const double seen = std::max(0.0, -sensor.dot(way) / r);
    const double law =
        subject.form ? subject.form->intensity(way / r) : std::max(0.0, e.normal.dot(way) / r) / kPi;
    sum += e.share * law * seen / r2;
  }
  return sum;
}

double grid_of_connections(const Emitter& emitter, const Vec3& from, const Vec3& sensor, int n) {
  double sum = 0;
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      const EmitterPoint p = emitter.connect(from, (i + 0.5) / n, (j + 0.5) / n);
      if (p.weight > 0) sum += p.weight * std::max(0.0, sensor.dot((p.point - from).normalized()));
    }
  }
  return sum / n / n;
}

}  // namespace boughlight
