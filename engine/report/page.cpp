#include "report/page.h"

#include <filesystem>
#include <nlohmann/json.hpp>

#include "report/html.h"
#include "report/write.h"

namespace boughlight {

std::string report_html(const Survey& survey, std::string_view readings) {
  const std::string file = std::filesystem::path(survey.scene.file).filename().string();
  const nlohmann::ordered_json data = {{"scene", page_scene_json(survey)},
                                       {"light", page_light_json(survey)},
                                       {"lamps", page_lamps_json(survey)}};
  using Json = nlohmann::ordered_json;
  return filled(page_part(PagePart::frame),
                {{"TITLE", escaped(survey.scene.title.empty() ? file : survey.scene.title)},
                 {"STYLE", std::string(page_part(PagePart::style))},
                 {"SUMMARY", escaped_lines(terminal_summary(survey))},
                 {"READINGS", inside_script(readings)},
                 {"DATA", inside_script(data.dump(-1, ' ', false, Json::error_handler_t::replace))},
                 {"SCRIPT", std::string(page_part(PagePart::script))}});
}

}  // namespace boughlight
