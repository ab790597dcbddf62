#include "plan_results.h"

#include "report/staging.h"

namespace boughlight::cli {

void finish_plan(const PlanPage& page, const std::string& stem, const std::filesystem::path& folder,
                 Progress& progress, const CommonOptions& options) {
  const std::filesystem::path json = folder / (stem + ".json"), html = folder / (stem + ".html");
  std::vector<ResultFile> results = {{json, page.json}, {html, plan_page_html(page)}};
  for (const PlanPicture& picture : page.pictures)
    results.push_back({folder / (picture.name + ".png"), picture.png});
  write_files(results);
  progress.wipe();
  if (options.json) {
    put(page.json);
  } else if (!options.quiet) {
    put(page.text);
    put("\n");
    for (const PlanPicture& picture : page.pictures)
      put(item("Picture", (folder / (picture.name + ".png")).string()));
    put(item("Page", html.string() + " (open it in a browser)"));
    put(item("Figures", json.string()));
  }
}

}  // namespace boughlight::cli
