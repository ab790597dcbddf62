#include "transport/lamp_cones.h"

#include <algorithm>

namespace boughlight {
namespace {

// 1 - cos of a cone's half angle, of which this is the sine squared.
float one_minus_cosine(float sine2) {
  return sine2 / (1 + std::sqrt(1 - sine2));
}

}  // namespace

void LampCones::add(const Vec3f& centre, float radius) {
  // A lamp lights what is round it as far as it is off: from a point, centimetres; from a tube, its length.
  constexpr float kLeast = 0.02f;  // m
  for (const float wider : {1.0f, 2.5f, 6.0f}) balls_.push_back({centre, wider * std::max(radius, kLeast)});
}

bool LampCones::in_front_of(const Vec3f& place, const Vec3f& normal) const {
  return std::any_of(balls_.begin(), balls_.end(),
                     [&](const Ball& ball) { return normal.dot(ball.centre - place) > -ball.radius; });
}

Vec3f LampCones::sample(const Vec3f& from, Pair pair) const {
  const float scaled = pair.u * static_cast<float>(balls_.size());
  const std::size_t index = std::min(balls_.size() - 1, static_cast<std::size_t>(scaled));
  const float u = std::min(scaled - static_cast<float>(index), 1.0f);
  const Ball& ball = balls_[index];
  const Vec3f way = ball.centre - from;
  const float distance2 = way.squaredNorm(), radius2 = ball.radius * ball.radius;
  if (distance2 <= radius2) return sample_sphere({u, pair.v});
  const float height = u * one_minus_cosine(radius2 / distance2);  // below the cone's top on the unit sphere
  const float across = std::sqrt(height * (2 - height)), turn = 2 * kPi * pair.v;
  return in_frame(way / std::sqrt(distance2), {across * std::cos(turn), across * std::sin(turn), 1 - height});
}

float LampCones::pdf(const Vec3f& from, const Vec3f& direction) const {
  float sum = 0;
  for (const Ball& ball : balls_) {
    const Vec3f way = ball.centre - from;
    const float distance2 = way.squaredNorm(), radius2 = ball.radius * ball.radius;
    if (distance2 <= radius2) {
      sum += 1 / (4 * kPi);
    } else if (way.dot(direction) > 0 && way.cross(direction).squaredNorm() <= radius2) {
      sum += 1 / (2 * kPi * one_minus_cosine(radius2 / distance2));
    }
  }
  return sum / static_cast<float>(balls_.size());
}

SensorDirections::SensorDirections(const LampCones& cones, const Vec3f& place, const Vec3f& normal)
    : cones_(cones), place_(place), normal_(normal) {
  const bool any = cones.in_front_of(place, normal);
  cosine_ = any ? 0.6f : 0.75f;
  towards_ = any ? 0.2f : 0;
  sphere_ = 1 - cosine_ - towards_;
}

Vec3f SensorDirections::sample(Pair pair) const {
  if (pair.u < cosine_) return sample_cosine(normal_, {pair.u / cosine_, pair.v});
  const float rest = pair.u - cosine_;
  if (rest < towards_) return cones_.sample(place_, {rest / towards_, pair.v});
  return sample_sphere({std::min(1.0f, (rest - towards_) / sphere_), pair.v});
}

float SensorDirections::pdf(const Vec3f& direction) const {
  const float towards = towards_ > 0 ? towards_ * cones_.pdf(place_, direction) : 0;
  return cosine_ * std::max(0.0f, normal_.dot(direction)) * kInversePi + sphere_ / (4 * kPi) + towards;
}

BounceDirections::BounceDirections(const LampCones& cones, const Vec3f& place, const Vec3f& normal,
                                   float share)
    : cones_(cones),
      place_(place),
      normal_(normal),
      towards_(share > 0 && cones.in_front_of(place, normal) ? share : 0) {}

Vec3f BounceDirections::sample(Pair pair) const {
  if (pair.u < towards_) return cones_.sample(place_, {pair.u / towards_, pair.v});
  return sample_cosine(normal_, {(pair.u - towards_) / (1 - towards_), pair.v});
}

float BounceDirections::weight(const Vec3f& direction) const {
  if (!(towards_ > 0)) return 1;
  const float cosine = normal_.dot(direction) * kInversePi;
  if (!(cosine > 0)) return 0;
  return cosine / ((1 - towards_) * cosine + towards_ * cones_.pdf(place_, direction));
}

}  // namespace boughlight
