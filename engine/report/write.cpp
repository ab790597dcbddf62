#include "report/write.h"

#include <algorithm>
#include <system_error>
#include <vector>

#include "report/day_chart.h"
#include "report/map.h"
#include "report/meter_sheet.h"
#include "report/staging.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

// What a keeper has written into a sheet is worth more than a new sheet.
void keep_filled(const fs::path& sheet) {
  const auto kept = place_for_filled(sheet);
  if (!kept) return;
  std::error_code error;
  fs::rename(sheet, *kept, error);
  if (error)
    throw OutputError(sheet.string() + ": holds readings and cannot be kept as " + kept->string() + ": " +
                      error.message());
}

// Maps of an earlier run at levels that no longer matter would be taken for part of this one.
void remove_stale_maps(const fs::path& folder, const std::vector<MapFile>& maps) {
  std::error_code error;
  std::vector<fs::path> stale;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error)) {
    const std::string name = entry->path().filename().string();
    const bool current =
        std::any_of(maps.begin(), maps.end(), [&](const MapFile& map) { return map.name == name; });
    if (!current && (is_map_file_name(name) || name == kDayChartName) && entry->is_regular_file(error))
      stale.push_back(entry->path());
  }
  for (const fs::path& file : stale) fs::remove(file, error);
}

}  // namespace

void write_survey(const Survey& survey, const fs::path& folder) {
  // What is quick and may be refused comes before what takes time, and all bytes are there before the first
  // is written.
  std::vector<ResultFile> results;
  results.push_back({folder / "readings.json", readings_json(survey)});
  results.push_back({folder / "readings.csv", readings_csv(survey)});
  results.push_back({folder / "day.csv", day_csv(survey)});
  results.push_back({folder / "grid.csv", grid_csv(survey)});
  results.push_back({folder / "report.html", report_html(survey)});
  results.push_back({folder / "meter-sheet.csv", meter_sheet_csv(survey)});
  results.push_back({folder / "meter-sheet.txt", meter_sheet_text(survey)});
  Staging staging;
  staging.make_folder(folder);
  if (!survey.grid.empty()) staging.make_folder(folder / "maps");
  std::vector<MapFile> maps = map_files(survey);
  if (auto chart = day_chart(survey)) maps.push_back(std::move(*chart));
  for (const MapFile& map : maps) results.push_back({folder / "maps" / map.name, map.bytes});

  for (const ResultFile& result : results) staging.write(result);
  keep_filled(folder / "meter-sheet.csv");
  staging.put_in_place();
  remove_stale_maps(folder / "maps", maps);
}

}  // namespace boughlight
