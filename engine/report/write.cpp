#include "report/write.h"

#include <system_error>
#include <vector>

#include "report/day_chart.h"
#include "report/map.h"
#include "report/meter_sheet.h"
#include "report/staging.h"
#include "report/stale.h"
#include "report/vtk.h"

namespace boughlight {

namespace fs = std::filesystem;

void write_survey(const Survey& survey, const fs::path& folder) {
  // What is quick and may be refused comes before what takes time, and all bytes are there before the first
  // is written.
  std::vector<ResultFile> results;
  results.push_back({folder / "readings.json", readings_json(survey)});
  results.push_back({folder / "readings.csv", readings_csv(survey)});
  results.push_back({folder / "day.csv", day_csv(survey)});
  results.push_back({folder / "grid.csv", grid_csv(survey)});
  results.push_back({folder / "spectra.csv", spectra_csv(survey)});
  results.push_back({folder / "report.html", report_html(survey)});
  results.push_back({folder / "meter-sheet.csv", meter_sheet_csv(survey)});
  results.push_back({folder / "meter-sheet.txt", meter_sheet_text(survey)});
  Staging staging;
  staging.make_folder(folder);
  if (!survey.grid.empty()) staging.make_folder(folder / "maps");
  std::vector<MapFile> maps = map_files(survey);
  if (auto chart = day_chart(survey)) maps.push_back(std::move(*chart));
  for (const MapFile& map : maps) results.push_back({folder / "maps" / map.name, map.bytes});

  const std::vector<VtkFile> vtk = vtk_files(survey);
  staging.make_folder(folder / "vtk");
  for (const VtkFile& file : vtk) results.push_back({folder / "vtk" / file.name, file.bytes});

  for (const ResultFile& result : results) staging.write(result);
  // What a keeper has written into a sheet is worth more than a new sheet.
  const fs::path sheet = folder / "meter-sheet.csv";
  if (const auto kept = place_for_filled(sheet)) staging.keep(sheet, *kept);
  const auto of_maps = [](const std::string& name) {
    return is_map_file_name(name) || name == kDayChartName;
  };
  for (const fs::path& file : stale_files(folder / "maps", names_of_files(maps), of_maps))
    staging.remove(file);
  for (const fs::path& file : stale_files(folder / "vtk", names_of_files(vtk), is_vtk_file_name))
    staging.remove(file);
  staging.put_in_place();
}

}  // namespace boughlight
