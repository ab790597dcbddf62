#include "survey_many.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "report/staging.h"
#include "result_names.h"
#include "results_folder.h"
#include "scene/load.h"
#include "survey.h"
#include "terminal.h"

namespace boughlight::cli {
namespace {

namespace fs = std::filesystem;

struct Outcome {
  IndexRow row;
  int code = kAllMet;
};

Outcome failed(const fs::path& scene, int code, const std::string& problem) {
  remark("{}\n", problem);
  return {row_without(IndexState::failed, scene, problem), code};
}

// Every scene's mistakes are told before the first is surveyed: that may take hours.
std::vector<std::optional<Outcome>> wrong_ones(const std::vector<NamedScene>& scenes) {
  std::vector<std::optional<Outcome>> outcomes(scenes.size());
  for (std::size_t i = 0; i < scenes.size(); ++i) {
    try {
      load_scene(scenes[i].file);
    } catch (const InputError& error) {
      outcomes[i] = failed(scenes[i].file, kBadInput, error.what());
    }
  }
  return outcomes;
}

Outcome survey_one(const NamedScene& scene, const fs::path& folder, const CommonOptions& options,
                   const std::function<void(const std::string&, double)>& tell) {
  try {
    const Survey survey = survey_into(load_scene(scene.file), folder / scene.name, options, tell);
    IndexRow row = row_of_results(folder / scene.name, scene.name);
    return {std::move(row), survey.verdict == WholeVerdict::met ? kAllMet : kNotAllMet};
  } catch (const InputError& error) {
    return failed(scene.file, kBadInput, error.what());
  } catch (const OutputError& error) {
    return failed(scene.file, kNoOutput, error.what());
  } catch (const std::bad_alloc&) {
    return failed(scene.file, kNoOutput,
                  fmt::format("{}: there is not enough memory for this; a larger --spacing needs less",
                              scene.file.string()));
  } catch (const std::exception& error) {
    return failed(scene.file, kNoOutput,
                  fmt::format("{}: the work had to stop and there is no result: {}", scene.file.string(),
                              error.what()));
  }
}

std::vector<NamedScene> share_of(std::vector<NamedScene> scenes, const std::optional<Part>& part) {
  if (!part) return scenes;
  std::vector<NamedScene> share;
  for (std::size_t i = part->number - 1; i < scenes.size(); i += part->of)
    share.push_back(std::move(scenes[i]));
  return share;
}

}  // namespace

IndexRow row_of_results(const fs::path& results, const std::string& shown) {
  const fs::path file = results / "readings.json";
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  std::string problem;
  if (!stream) {
    problem = "it cannot be read";
  } else {
    try {
      return index_row(text.str(), shown);
    } catch (const std::runtime_error& error) {
      problem = error.what();
    }
  }
  return row_without(IndexState::failed, shown, fmt::format("{}: {}", file.string(), problem));
}

IndexRow row_without(IndexState state, const fs::path& scene, std::string problem) {
  IndexRow row;
  row.state = state;
  row.scene = scene.filename().string();
  row.problem = std::move(problem);
  return row;
}

void write_index(const std::vector<IndexRow>& rows, const fs::path& folder) {
  const std::vector<ResultFile> files = {{folder / "index.html", index_html(rows)},
                                         {folder / "index.csv", index_csv(rows)},
                                         {folder / "index.json", index_json(rows)}};
  write_files(files);
}

void put_index(const std::vector<IndexRow>& rows, const fs::path& folder, const CommonOptions& options) {
  if (options.json) {
    put(index_json(rows));
  } else if (!options.quiet) {
    put(index_text(rows));
    if (folder.empty()) return;
    put("\n" + item("Page", (folder / "index.html").string() + " (open it in a browser)"));
    put(item("Table", (folder / "index.csv").string() + ", index.json beside it"));
  }
}

int code_of(const std::vector<IndexRow>& rows) {
  int code = kAllMet;
  for (const IndexRow& row : rows) {
    const bool result = row.state <= IndexState::unmet;
    code = std::max(code, !result ? kBadInput : row.state == IndexState::met ? kAllMet : kNotAllMet);
  }
  return code;
}

int survey_many(const ManyScenes& many, const CommonOptions& options) {
  const fs::path folder = results_folder(many.folder.string(), "");
  const std::vector<NamedScene> scenes = share_of(named_scenes(many.scenes), many.part);
  const auto count = [&](std::size_t n) { return fmt::format("{} {}", n, n == 1 ? "scene" : "scenes"); };
  if (scenes.empty()) {
    // More tasks than scenes: an array of jobs may be larger than its work.
    if (!options.quiet && !options.json)
      put(fmt::format("Part {}/{} of {} holds none.\n", many.part->number, many.part->of,
                      count(many.scenes.size())));
    if (options.json) put(index_json({}));
    return kAllMet;
  }
  std::vector<std::optional<Outcome>> outcomes = wrong_ones(scenes);
  Progress progress(!options.quiet);
  const std::function<void(const std::string&, double)> whole = progress.teller();
  for (std::size_t i = 0; i < scenes.size(); ++i) {
    if (outcomes[i]) continue;
    std::function<void(const std::string&, double)> tell;
    if (whole)
      tell = [&, i](const std::string& stage, double share) {
        whole(fmt::format("{} of {}, {:.24}: {}", i + 1, scenes.size(), scenes[i].name, stage),
              (static_cast<double>(i) + share) / static_cast<double>(scenes.size()));
      };
    outcomes[i] = survey_one(scenes[i], folder, options, tell);
  }
  std::vector<IndexRow> rows;
  int code = kAllMet;
  std::size_t without = 0;
  for (std::optional<Outcome>& outcome : outcomes) {
    code = std::max(code, outcome->code);
    without += outcome->row.folder.empty();
    rows.push_back(std::move(outcome->row));
  }
  sort_by_name(rows);
  if (!many.part) write_index(rows, folder);
  progress.wipe();
  put_index(rows, many.part ? fs::path() : folder, options);
  if (without > 0)
    remark("boughlight: {} of {} gave no result; the others were surveyed\n", without, count(scenes.size()));
  return code;
}

}  // namespace boughlight::cli
