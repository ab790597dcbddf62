#include "report/watch_page.h"

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "report/html.h"
#include "report/page.h"

namespace boughlight {
namespace {

const char* doing_name(WatchState::Doing doing) {
  switch (doing) {
    case WatchState::Doing::surveying:
      return "surveying";
    case WatchState::Doing::done:
      return "done";
    case WatchState::Doing::mistake:
      return "mistake";
    case WatchState::Doing::failed:
      return "failed";
  }
  throw std::logic_error("watch_state_script: no such state");
}

}  // namespace

std::string watch_page_html(const std::string& title) {
  return filled(page_part(PagePart::watch), {{"TITLE", escaped(title)}});
}

std::string watch_state_script(const WatchState& state) {
  using Json = nlohmann::ordered_json;
  const Json json = {{"doing", doing_name(state.doing)}, {"results", state.results}, {"text", state.text}};
  return "boughlightWatch(" + json.dump(-1, ' ', true, Json::error_handler_t::replace) + ");\n";
}

}  // namespace boughlight
