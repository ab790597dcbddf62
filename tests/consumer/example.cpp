// The library in a few lines, which the pages of its interface show.
#include <boughlight/boughlight.h>

#include <cstdio>

int main() try {
  // What is wrong with a scene is thrown as InputError: file, line, column.
  const boughlight::Scene scene = boughlight::load_scene("my-cage.yaml");

  // The whole of it, and the files of `boughlight survey`.
  const boughlight::Survey survey = boughlight::run_survey(scene);
  for (const boughlight::Reading& reading : survey.readings)
    std::printf("%s: UV index %.2f\n", reading.name.c_str(),
                reading.values.at(boughlight::Quantity::uvi).value);
  boughlight::write_survey(survey, "my-cage");

  // One place, traced once; no ray is traced for other dimmers.
  const boughlight::SensorTracer tracer(scene);
  const boughlight::Response light = tracer.trace({.at = {0.3, 0.2, 0.3}, .facing = {0, 0, 1}});
  const std::vector<double> off(scene.lamps.size(), 0.0);
  std::printf("there: UV index %.2f, with all lamps off %.2f\n",
              tracer.figures(light).at(boughlight::Quantity::uvi).value,
              tracer.figures(light, off).at(boughlight::Quantity::uvi).value);
  return 0;
} catch (const boughlight::InputError& error) {
  std::fprintf(stderr, "%s\n", error.what());
  return 2;
}
