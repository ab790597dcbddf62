#include "report/write.h"

#include <tbb/parallel_for.h>
#include <tbb/parallel_invoke.h>

#include <optional>
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

namespace {

struct TextFile {
  const char* name;
  std::string (*bytes)(const Survey& survey);
};
constexpr TextFile kTexts[] = {{"readings.csv", readings_csv},
                               {"day.csv", day_csv},
                               {"grid.csv", grid_csv},
                               {"spectra.csv", spectra_csv},
                               {"meter-sheet.csv", meter_sheet_csv},
                               {"meter-sheet.txt", meter_sheet_text}};

}  // namespace

void write_survey(const Survey& survey, const fs::path& folder) {
  // Folders that are refused are told before time is spent, and all bytes are there before the first is
  // written.
  Staging staging;
  staging.spare(survey.scene.read_from);
  staging.make_folder(folder);
  if (!survey.grid.empty()) staging.make_folder(folder / "maps");
  staging.make_folder(folder / "vtk");
  std::vector<ResultFile> results(std::size(kTexts));
  std::string readings, report;
  std::vector<MapFile> maps;
  std::optional<MapFile> chart;
  std::vector<VtkFile> vtk;
  tbb::parallel_invoke([&] { maps = map_files(survey); }, [&] { vtk = vtk_files(survey); },
                       [&] { readings = readings_json(survey), report = report_html(survey, readings); },
                       [&] {
                         tbb::parallel_for(std::size_t{0}, results.size(), [&](std::size_t i) {
                           results[i] = {folder / kTexts[i].name, kTexts[i].bytes(survey)};
                         });
                       },
                       [&] { chart = day_chart(survey); });
  results.push_back({folder / "report.html", std::move(report)});
  results.insert(results.begin(), {folder / "readings.json", std::move(readings)});
  if (chart) maps.push_back(std::move(*chart));
  for (const MapFile& map : maps) results.push_back({folder / "maps" / map.name, map.bytes});
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
