// How a survey grows with what is asked of it, each against the same base in the same run.

#include "bench.h"
#include "geometry/stream.h"

namespace boughlight::bench {
namespace {

double survey_seconds(const Scene& scene) {
  return seconds_of([&] { run_survey(scene); });
}

void print_row(const char* what, double base, double grown, double factor) {
  std::printf("  %-34s %7.2f s -> %7.2f s   %5.2f x time for %g x\n", what, base, grown, grown / base,
              factor);
}

// `copies` of every point, spread over the first box, each a receiver of its own.
void add_points(Scene& scene, int count) {
  scene.points.clear();
  const Box& box = scene.boxes.front();
  for (int i = 0; i < count; ++i) {
    Stream random(7, static_cast<std::uint64_t>(i));
    Point point;
    point.name = "point " + std::to_string(i);
    point.at = box.corner + Vec3(random.next(), random.next(), random.next()).cwiseProduct(box.size);
    scene.points.push_back(point);
  }
}

// The same lamps `times` over, side by side, each giving as much less.
void repeat_lamps(Scene& scene, int times) {
  const std::vector<Lamp> lamps = scene.lamps;
  scene.lamps.clear();
  for (const Lamp& lamp : lamps)
    for (int i = 0; i < times; ++i) {
      Lamp copy = lamp;
      copy.name += " " + std::to_string(i);
      copy.dim = lamp.dim / times;
      copy.at.x() += 0.005 * i;
      scene.lamps.push_back(copy);
    }
}

// As many leaves, each smaller, so that they cover as much.
void divide_leaves(Scene& scene, double times) {
  for (Plant& plant : scene.plants) {
    plant.leaf_length /= std::sqrt(times);
    plant.leaf_width /= std::sqrt(times);
  }
}

}  // namespace

void print_growth() {
  heading("Growth of the demo's survey (without files), two threads");
  const Scene base = demo();
  Scene scene = base;
  add_points(scene, 40);
  const double few = survey_seconds(scene);
  add_points(scene, 400);
  print_row("receivers, 40 -> 400 points", few, survey_seconds(scene), 10);

  const double plain = survey_seconds(base);
  scene = base;
  divide_leaves(scene, 100);
  print_row("leaves, as much area", plain, survey_seconds(scene), 100);

  scene = base;
  repeat_lamps(scene, 10);
  print_row("lamps, 3 -> 30", plain, survey_seconds(scene), 10);

  scene = base;
  scene.survey.tolerance /= 10;
  print_row("tolerance / 10", plain, survey_seconds(scene), 10);
}

}  // namespace boughlight::bench
