#include "assess/animal.h"

#include "assess/body.h"
#include "assess/closest.h"
#include "assess/mend.h"
#include "assess/readings.h"
#include "assess/shelter.h"

namespace boughlight {
namespace {

// Every perch read at this size's back, with the random numbers of the animal as declared: what differs is
// the height alone.
SizeFindings read_size(Setting& setting, const AnimalSize& size, const std::optional<std::string>& sun_perch,
                       std::uint64_t number) {
  Scene scene = setting.scene;
  scene.plants.clear();  // no readings of them; their leaves hang in the field
  scene.points.clear();
  scene.animal->back = size.back;
  Setting of_size = setting.in(scene, setting.field);
  Survey survey;
  take_readings(of_size, survey);
  SizeFindings findings;
  findings.size = size;
  if (size.body)
    findings.bodies =
        read_bodies(of_size, size.back, *size.body, survey.readings, survey.responses, sun_perch, number);
  findings.readings = std::move(survey.readings);
  setting.spent = of_size.spent;
  return findings;
}

}  // namespace

void study_animal(Setting& setting, PerchedLight& perched, Survey& survey) {
  const Scene& scene = setting.scene;
  if (!scene.animal) return;
  AnimalFindings& findings = survey.animal;
  if (const auto sun = sun_perch_of(survey)) findings.sun_perch = survey.readings[*sun].name;
  if (scene.animal->body)
    findings.bodies = read_bodies(setting, scene.animal->back, *scene.animal->body, survey.readings,
                                  survey.responses, findings.sun_perch, 0);
  if (!scene.perches.empty())
    for (const AnimalSize& size : scene.animal->sizes)
      findings.sizes.push_back(read_size(setting, size, findings.sun_perch, findings.sizes.size() + 1));
  findings.closest = find_closest(setting);
  findings.mends = find_mends(setting, survey);
  findings.shelter = find_shelter(setting, perched, survey);
}

}  // namespace boughlight
