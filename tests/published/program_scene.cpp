#include "published/program_scene.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "cli/program.h"

namespace boughlight {

std::string yaml_list(const std::vector<double>& values) {
  std::string list;
  for (const double value : values) {
    char digits[40];
    std::snprintf(digits, sizeof digits, "%.12g", value);
    list += (list.empty() ? "" : ", ") + std::string(digits);
  }
  return "[" + list + "]";
}

std::vector<double> list_of(const Eigen::Vector3d& v) {
  return {v.x(), v.y(), v.z()};
}

std::string watts(double flux) {
  return "radiant_flux: " + std::to_string(flux) + " W";
}

void ProgramScene::add_lamp(const std::string& name, const std::string& emitter, const std::string& form,
                            const std::string& output, const std::vector<double>& at, const std::string& rest,
                            const std::string& spectrum) {
  files[name + ".yaml"] = "fixture: 1\ntitle: " + name + "\nemitter: {" + emitter + "}\ndistribution: {" +
                          (form.empty() ? "form: lambert" : form) +
                          "}\nemission:\n  - part: light\n    spectrum: {" + spectrum + "}\n    output: {" +
                          output + "}\nsource: invented for the test\n";
  lamps_ += "  - {name: " + name + ", fixture: " + name + ".yaml, at: " + yaml_list(at) +
            (rest.empty() ? "" : ", " + rest) + "}\n";
}

void ProgramScene::add_point(const std::string& name, const std::vector<double>& at,
                             const std::vector<double>& facing) {
  points_ += "  - {name: \"" + name + "\", at: " + yaml_list(at) + ", facing: " + yaml_list(facing) + "}\n";
}

std::string ProgramScene::text() const {
  std::string scene =
      "boughlight: 1\ntitle: published check\nlength_unit: m\nenclosure:\n  - {box: box, size: " + size +
      ", faces: {" + faces + "}}\n" + sections;
  if (!points_.empty()) scene += "points:\n" + points_;
  if (!lamps_.empty()) scene += "lamps:\n" + lamps_;
  return scene + "survey: {spacing: 1, tolerance: " + tolerance + ", seed: " + std::to_string(seed) + "}\n";
}

void add_small_lamp(ProgramScene& scene, const std::string& name, const std::string& spectrum,
                    const std::string& anchor, const std::string& rest) {
  scene.add_lamp(name, "shape: point", "form: isotropic", anchor + ", at: 50 cm", {0.5, 0.5, 0.9}, rest,
                 spectrum);
}

struct ProgramReadings::Json {
  nlohmann::json by_name;
};

ProgramReadings::ProgramReadings(const ProgramScene& scene) : json_(new Json) {
  from_the_whole_program();
  const TemporaryFolder folder;
  for (const auto& [name, text] : scene.files) write_file(folder.path() / name, text);
  write_file(folder.path() / "scene.yaml", scene.text());
  const Outcome outcome = boughlight_run({"survey", folder / "scene.yaml", "--json"});
  EXPECT_EQ(outcome.code, 0) << outcome.err << scene.text();
  const auto json = nlohmann::json::parse(outcome.out, nullptr, false);
  if (json.is_discarded()) return;
  for (const auto& reading : json.at("readings")) {
    json_->by_name[reading.at("name").get<std::string>()] = reading;
  }
}

ProgramReadings::~ProgramReadings() {
  delete json_;
}

Printed ProgramReadings::value(const std::string& reading, const std::string& quantity) const {
  const auto& figure = json_->by_name.at(reading).at("values").at(quantity);
  return {figure.at("value"), figure.at("se")};
}

Printed ProgramReadings::scalar(const std::string& reading, const std::string& quantity) const {
  const auto& figure = json_->by_name.at(reading).at("scalar").at(quantity);
  return {figure.at("value"), figure.at("se")};
}

double ProgramReadings::number(const std::string& reading, const std::string& pointer) const {
  return json_->by_name.at(reading).at(nlohmann::json::json_pointer(pointer));
}

double ProgramReadings::by_lamp(const std::string& reading, const std::string& lamp,
                                const std::string& quantity) const {
  return json_->by_name.at(reading).at("by_lamp").at(lamp).at(quantity);
}

void expect_reading(const std::string& what, const std::string& source, double expected,
                    const Printed& obtained, double most_error, double systematic, const std::string& why) {
  EXPECT_LE(obtained.se, most_error * std::abs(expected))
      << what << ": the figure is too rough to check anything";
  expect_published({what, source, expected, obtained.value,
                    kStandardErrors * obtained.se + systematic * std::abs(expected),
                    "5 standard errors (16 replicates), and " + why, obtained.se > 0});
}

}  // namespace boughlight
