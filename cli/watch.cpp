// boughlight watch SCENE [-o DIR]

#include <fmt/format.h>
#include <poll.h>

#include <array>
#include <cstdio>
#include <ctime>
#include <memory>
#include <optional>
#include <string>

#include "awaited_interrupt.h"
#include "commands.h"
#include "failure.h"
#include "report/index.h"
#include "report/since_last.h"
#include "report/staging.h"
#include "results_folder.h"
#include "survey_child.h"
#include "terminal.h"
#include "units/problem.h"
#include "watch_page.h"
#include "watched_files.h"

namespace boughlight::cli {
namespace {

namespace fs = std::filesystem;

// Between two looks at the files; a look is a few system calls.
constexpr int kLookEvery_ms = 80;

std::string clock_text() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  std::array<char, 16> text{};
  if (::localtime_r(&now, &local) == nullptr) return "";
  return {text.data(), std::strftime(text.data(), text.size(), "%H:%M:%S", &local)};
}

std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
  return text;
}

// Within a string a line break of JSON is written as two letters, so each in the text stands between values.
std::string on_one_line(const std::string& json) {
  std::string line;
  bool indents = false;
  for (const char letter : json) {
    indents = letter == '\n' || (indents && letter == ' ');
    if (!indents) line.push_back(letter);
  }
  return line + "\n";
}

class Watch {
 public:
  Watch(fs::path scene, const fs::path& folder, const CommonOptions& options)
      : scene_(std::move(scene)),
        folder_(folder),
        options_(options),
        page_(folder, scene_.filename().string() + ", watched") {
    files_.watch({{scene_, stamp_of(scene_)}});
  }

  // Until an interrupt comes.
  void run(const AwaitedInterrupt& interrupt);

 private:
  bool talks() const { return !options_.quiet && !options_.json; }
  void say(const std::string& text) const;
  void start();
  void stop();
  void look_at_files();
  void hear(const SurveyNews& news);
  void hear_failure(const SurveyNews& news);
  void hear_readings(const std::string& readings);
  void show(WatchState::Doing doing, const std::string& text = "");

  const fs::path scene_, folder_;
  const CommonOptions options_;
  WatchPage page_;
  WatchedFiles files_;
  std::string summary_;           // of the survey that is through, until its readings come
  std::optional<IndexRow> last_;  // what the last whole survey said
  std::unique_ptr<SurveyChild> survey_;
  std::optional<Progress> progress_;
};

// Whole lines at once, and now: somebody waits for them, at the other end of a pipe too.
void Watch::say(const std::string& text) const {
  put(text);
  flush_output();
}

void Watch::show(WatchState::Doing doing, const std::string& text) {
  try {
    page_.show(doing, text);
  } catch (const OutputError& error) {
    remark("{}", complaint(error.what()));
  }
}

void Watch::start() {
  stop();  // with its progress, which has a thread
  survey_ = std::make_unique<SurveyChild>(scene_, folder_, options_);
  progress_.emplace(!options_.quiet);
  show(WatchState::Doing::surveying);
}

void Watch::stop() {
  survey_.reset();
  progress_.reset();
}

void Watch::look_at_files() {
  switch (files_.look(WatchedFiles::Clock::now())) {
    case WatchedFiles::Look::quiet:
    case WatchedFiles::Look::moving:
      return;
    case WatchedFiles::Look::changed:
      // Whatever it would find is out of date.
      stop();
      return;
    case WatchedFiles::Look::settled: {
      const std::vector<std::string> names = files_.changed();
      if (talks())
        say(fmt::format("\n{} {} saved\n", clock_text(),
                        names.empty() ? scene_.filename().string() : listed(names)));
      start();
    }
  }
}

// The page before the words: who hears these finds that.
void Watch::hear_failure(const SurveyNews& news) {
  progress_->wipe();
  show(news.kind == SurveyNews::Kind::mistake ? WatchState::Doing::mistake : WatchState::Doing::failed,
       news.text);
  remark("{}{}", news.text,
         options_.quiet ? "" : complaint(fmt::format("still watching {}", scene_.string())));
}

void Watch::hear_readings(const std::string& readings) {
  progress_->wipe();
  page_.renew_results();
  show(WatchState::Doing::done);
  const IndexRow now = index_row(readings, "");
  if (options_.json) say(on_one_line(readings));
  if (talks() && last_) say(changes_since(*last_, now));
  if (talks() && !last_)
    say(summary_ + "\n" + item("Page", page_.file().string() + " (it takes new results by itself)"));
  last_ = now;
}

void Watch::hear(const SurveyNews& news) {
  switch (news.kind) {
    case SurveyNews::Kind::files:
      files_.watch(news.files);
      return;
    case SurveyNews::Kind::progress:
      progress_->show(news.text, news.share);
      return;
    case SurveyNews::Kind::first_look:
      progress_->wipe();
      if (talks()) say(news.text);
      show(WatchState::Doing::surveying, news.text);
      return;
    case SurveyNews::Kind::summary:
      summary_ = news.text;
      return;
    case SurveyNews::Kind::readings:
      hear_readings(news.text);
      return;
    case SurveyNews::Kind::mistake:
    case SurveyNews::Kind::failure:
      hear_failure(news);
      return;
  }
}

void Watch::run(const AwaitedInterrupt& interrupt) {
  if (talks()) say(fmt::format("Watching {}; Ctrl-C ends it.\n", scene_.string()));
  start();
  for (;;) {
    // A negative descriptor is passed over.
    std::array<pollfd, 2> waits = {
        {{interrupt.descriptor(), POLLIN, 0}, {survey_ ? survey_->descriptor() : -1, POLLIN, 0}}};
    ::poll(waits.data(), waits.size(), kLookEvery_ms);
    if (waits[0].revents != 0) return;
    // What is told of files that have changed since is out of date, so those come first.
    look_at_files();
    if (!survey_) continue;
    for (const SurveyNews& news : survey_->news()) hear(news);
    if (survey_->done()) stop();
  }
}

int watch(const fs::path& scene, const std::string& given_folder, const CommonOptions& options) {
  if (!stamp_of(scene).there) throw InputError({{{scene.string(), 0, 0}, "", "there is no such file"}});
  const fs::path folder = results_folder(given_folder, scene.string());
  const AwaitedInterrupt interrupt;
  Watch(scene, folder, options).run(interrupt);
  return kAllMet;
}

}  // namespace

Run declare_watch(CLI::App& app) {
  auto scene = std::make_shared<std::string>();
  auto folder = std::make_shared<std::string>();
  app.add_option("SCENE", *scene, "The scene file (YAML)")->required();
  app.add_option("-o,--output", *folder, "Folder for the results (the scene's name)")->type_name("DIR");
  app.footer(
      "Examples:\n"
      "  boughlight watch my-cage.yaml                 open my-cage/watch.html\n"
      "  boughlight watch my-cage.yaml --tolerance 5%  rougher and quicker\n"
      "  boughlight watch my-cage.yaml --json          one line of JSON a survey\n"
      "\n"
      "Surveys the scene, and again whenever it is saved, or a lamp, model or table\n"
      "that it names. First comes a first look: each want's figure, still rough. Then\n"
      "the results are put in place as by 'boughlight survey', and it says what\n"
      "changed. A survey that a save overtakes is stopped. A mistake is told, and the\n"
      "watch goes on. watch.html in the results' folder shows the report and takes each\n"
      "new one by itself. Ctrl-C ends the watch, with exit code 0.");
  return [scene, folder](const CommonOptions& options) { return watch(*scene, *folder, options); };
}

}  // namespace boughlight::cli
