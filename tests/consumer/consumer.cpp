// consumer SCENE TOLERANCE FOLDER: surveys a scene, prints the UV index of each reading and what the first
// one would be with the first lamp at half and off, and writes readings.json into the folder.
#include <boughlight/boughlight.h>

#include <cstdio>
#include <exception>
#include <fstream>
#include <string>
#include <vector>

int main(int argc, char** argv) try {
  if (argc != 4) return 2;
  boughlight::Scene scene = boughlight::load_scene(argv[1]);
  scene.survey.tolerance = std::stod(argv[2]);
  const boughlight::Survey survey = boughlight::run_survey(scene);
  for (const boughlight::Reading& reading : survey.readings)
    std::printf("survey\t%s\t%.6g\n", reading.name.c_str(),
                reading.values.at(boughlight::Quantity::uvi).value);

  const boughlight::Reading& first = survey.readings.front();
  const boughlight::SensorTracer tracer(scene);
  const boughlight::Response light = tracer.trace({first.at, first.direction});
  std::vector<double> dims;
  for (const boughlight::Lamp& lamp : scene.lamps) dims.push_back(lamp.dim);
  const auto print = [](const char* what, const boughlight::Figures& figures) {
    const boughlight::Figure& uvi = figures.at(boughlight::Quantity::uvi);
    std::printf("%s\t%.6g\t%.6g\n", what, uvi.value, uvi.se);
  };
  print("traced", tracer.figures(light));
  dims.front() = 0.5;
  print("dimmed", tracer.figures(light, dims));
  dims.front() = 0;
  print("off", tracer.figures(light, dims));

  std::ofstream(std::string(argv[3]) + "/readings.json") << boughlight::readings_json(survey);
  return 0;
} catch (const std::exception& error) {
  std::fprintf(stderr, "%s\n", error.what());
  return 1;
}
