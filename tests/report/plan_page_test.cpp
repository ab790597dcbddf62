#include "report/plan_page.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "read_back.h"
#include "report/packed.h"

namespace boughlight {
namespace {

using Json = nlohmann::ordered_json;

PlanPage sample(const std::string& name) {
  return {"outlook",
          name,
          "/somewhere/scene.yaml",
          "Findings\n  ! " + name + ": too low.\n",
          Json({{"name", name}}).dump(),
          {{"outlook", "picture bytes"}}};
}

Json script_json(const std::string& html, const std::string& id) {
  const std::string open = "<script type=\"application/json\" id=\"" + id + "\">";
  const std::size_t from = html.find(open) + open.size();
  return Json::parse(html.substr(from, html.find("</script>", from) - from));
}

TEST(PlanPage, HoldsWordsFiguresAndPictures) {
  const std::string html = plan_page_html(sample("tower"));
  EXPECT_EQ(script_json(html, "readings")["name"], "tower");
  const Json data = script_json(html, "data");
  EXPECT_EQ(data["plan"]["command"], "outlook");
  EXPECT_EQ(data["plan"]["scene"], "scene.yaml");
  EXPECT_EQ(data["plan"]["pictures"][0]["png"], base64("picture bytes"));
  EXPECT_EQ(data["quantities"][0]["name"], "uvi");
  // Where scripts are switched off the words are there all the same.
  EXPECT_NE(html.find("! tower: too low."), std::string::npos);
}

TEST(PlanPage, NoNameCanEndAScriptOrOpenATag) {
  const std::string evil = "</script><script>alert(1)</script>{{DATA}}<!--\"'&\xE2\x80\xA8";
  const std::string html = plan_page_html(sample(evil)), plain = plan_page_html(sample("tower"));
  EXPECT_EQ(count(html, "<"), count(plain, "<"));
  EXPECT_EQ(script_json(html, "readings")["name"], evil);
  EXPECT_EQ(script_json(html, "data")["plan"]["title"], evil);
}

TEST(PlanPage, IsCalledByItsSceneWithoutATitle) {
  const std::string html = plan_page_html(sample(""));
  EXPECT_EQ(script_json(html, "data")["plan"]["title"], "scene.yaml");
  EXPECT_NE(html.find("<title>scene.yaml: outlook</title>"), std::string::npos);
}

}  // namespace
}  // namespace boughlight
