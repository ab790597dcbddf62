#include "report/write.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <system_error>
#include <vector>

#include "report/day_chart.h"
#include "report/map.h"
#include "report/meter_sheet.h"
#include "report/vtk.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const fs::path& file, const std::string& reason) {
  throw OutputError(fmt::format("{}: {}", file.string(), reason));
}

struct Result {
  fs::path file;
  std::string bytes;
};

// Files beside their final places, and folders made for them: whatever was not put in place is removed again.
class Staging {
 public:
  Staging() = default;
  Staging(const Staging&) = delete;
  Staging& operator=(const Staging&) = delete;

  ~Staging() {
    std::error_code ignored;
    for (const auto& [temporary, file] : staged_) fs::remove(temporary, ignored);
    if (!in_place_) {
      // Only folders that this run made, and only while they are empty.
      for (auto folder = made_.rbegin(); folder != made_.rend(); ++folder) ::rmdir(folder->c_str());
    }
  }

  void make_folder(const fs::path& folder) {
    std::error_code error;
    if (fs::is_directory(folder, error)) return;
    if (fs::exists(fs::symlink_status(folder, error))) fail(folder, "is in the way: a folder is needed here");
    const fs::path parent = folder.parent_path();
    if (!parent.empty() && parent != folder) make_folder(parent);
    if (!fs::create_directory(folder, error)) {
      // Somebody else may have made it in the meantime.
      if (!error || fs::is_directory(folder, error)) return;
      fail(folder, "cannot make this folder: " + error.message());
    }
    made_.push_back(folder);
  }

  void write(const Result& result) {
    std::error_code error;
    if (fs::is_directory(result.file, error)) fail(result.file, "is a folder; a file is to be written here");
    int descriptor = -1;
    fs::path temporary;
    for (int attempt = 0; descriptor < 0; ++attempt) {
      temporary = result.file.parent_path() /
                  fmt::format(".{}.{}-{}.part", result.file.filename().string(), ::getpid(), attempt);
      descriptor = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
      if (descriptor < 0 && (errno != EEXIST || attempt == 100)) {
        fail(result.file, std::string("cannot write: ") + std::strerror(errno));
      }
    }
    staged_.emplace_back(temporary, result.file);
    int reason = 0;
    for (std::size_t done = 0; done < result.bytes.size() && !reason;) {
      const ssize_t wrote = ::write(descriptor, result.bytes.data() + done, result.bytes.size() - done);
      if (wrote < 0 && errno != EINTR) reason = errno;
      if (wrote > 0) done += static_cast<std::size_t>(wrote);
    }
    if (::close(descriptor) != 0 && !reason) reason = errno;
    if (reason) fail(result.file, std::string("cannot write: ") + std::strerror(reason));
  }

  // Last written first: readings.json appears when everything else is there.
  void put_in_place() {
    while (!staged_.empty()) {
      const auto& [temporary, file] = staged_.back();
      std::error_code error;
      fs::rename(temporary, file, error);
      if (error) fail(file, "cannot write: " + error.message());
      in_place_ = true;
      staged_.pop_back();
    }
  }

 private:
  std::vector<std::pair<fs::path, fs::path>> staged_;
  std::vector<fs::path> made_;
  bool in_place_ = false;  // at least one file
};

// What a keeper has written into a sheet is worth more than a new sheet.
void keep_filled(const fs::path& sheet) {
  const auto kept = place_for_filled(sheet);
  if (!kept) return;
  std::error_code error;
  fs::rename(sheet, *kept, error);
  if (error) fail(sheet, "holds readings and cannot be kept as " + kept->string() + ": " + error.message());
}

// Maps of an earlier run at levels that no longer matter would be taken for part of this one; `ours` knows
// such names.
template <class Ours>
void remove_stale(const fs::path& folder, const std::vector<std::string>& written, const Ours& ours) {
  std::error_code error;
  std::vector<fs::path> stale;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error)) {
    const std::string name = entry->path().filename().string();
    const bool current = std::find(written.begin(), written.end(), name) != written.end();
    if (!current && ours(name) && entry->is_regular_file(error)) stale.push_back(entry->path());
  }
  for (const fs::path& file : stale) fs::remove(file, error);
}

}  // namespace

void write_survey(const Survey& survey, const fs::path& folder) {
  // What is quick and may be refused comes before what takes time, and all bytes are there before the first
  // is written.
  std::vector<Result> results;
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

  for (const Result& result : results) staging.write(result);
  keep_filled(folder / "meter-sheet.csv");
  staging.put_in_place();
  std::vector<std::string> written;
  for (const MapFile& map : maps) written.push_back(map.name);
  const auto of_maps = [](const std::string& name) {
    return is_map_file_name(name) || name == kDayChartName;
  };
  remove_stale(folder / "maps", written, of_maps);
  written.clear();
  for (const VtkFile& file : vtk) written.push_back(file.name);
  remove_stale(folder / "vtk", written, is_vtk_file_name);
}

}  // namespace boughlight
