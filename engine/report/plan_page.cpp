#include "report/plan_page.h"

#include <filesystem>
#include <nlohmann/json.hpp>

#include "report/html.h"
#include "report/packed.h"
#include "report/page.h"
#include "report/text.h"

namespace boughlight {

std::string plan_page_html(const PlanPage& page) {
  using Json = nlohmann::ordered_json;
  const std::string file = std::filesystem::path(page.scene).filename().string();
  Json pictures = Json::array();
  for (const PlanPicture& picture : page.pictures)
    pictures.push_back({{"name", picture.name}, {"png", base64(picture.png)}});
  const Json data = {{"plan",
                      {{"command", page.command},
                       {"title", page.title.empty() ? file : page.title},
                       {"scene", file},
                       {"version", BOUGHLIGHT_VERSION},
                       {"text", page.text},
                       {"pictures", std::move(pictures)}}},
                     {"quantities", page_quantities_json(true)}};
  return filled(page_part(PagePart::frame),
                {{"TITLE", escaped((page.title.empty() ? file : page.title) + ": " + page.command)},
                 {"STYLE", std::string(page_part(PagePart::style))},
                 {"SUMMARY", escaped_lines(page.text)},
                 {"READINGS", inside_script(page.json)},
                 {"DATA", inside_script(data.dump(-1, ' ', false, Json::error_handler_t::replace))},
                 {"SCRIPT", std::string(page_part(PagePart::script))}});
}

}  // namespace boughlight
