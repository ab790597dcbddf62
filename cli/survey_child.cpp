#include "survey_child.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <signal.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <stdexcept>

#include "failure.h"
#include "first_look.h"
#include "report/write.h"
#include "scene/load.h"
#include "survey.h"

namespace boughlight::cli {
namespace {

namespace fs = std::filesystem;
using Kind = SurveyNews::Kind;

// Between two processes of one program: numbers as they lie in memory, texts behind their lengths.
template <class Number>
void put_number(std::string& out, Number number) {
  out.append(reinterpret_cast<const char*>(&number), sizeof number);
}

void put_text(std::string& out, const std::string& text) {
  put_number(out, static_cast<std::uint64_t>(text.size()));
  out += text;
}

// Reads what was put, in the same order.
class NewsReader {
 public:
  explicit NewsReader(std::string_view bytes) : rest_(bytes) {}
  template <class Number>
  Number number() {
    Number number;
    std::memcpy(&number, rest_.data(), sizeof number);
    rest_.remove_prefix(sizeof number);
    return number;
  }
  std::string text() {
    const auto size = static_cast<std::size_t>(number<std::uint64_t>());
    std::string text(rest_.substr(0, size));
    rest_.remove_prefix(size);
    return text;
  }

 private:
  std::string_view rest_;
};

std::string packed(const SurveyNews& news) {
  std::string out;
  put_number(out, news.kind);
  put_text(out, news.text);
  put_number(out, news.share);
  put_number(out, static_cast<std::uint64_t>(news.files.size()));
  for (const SoughtFile& file : news.files) {
    put_text(out, file.file.string());
    put_number(out, file.stamp);
  }
  return out;
}

SurveyNews unpacked(std::string_view bytes) {
  NewsReader reader(bytes);
  SurveyNews news;
  news.kind = reader.number<Kind>();
  news.text = reader.text();
  news.share = reader.number<double>();
  news.files.resize(static_cast<std::size_t>(reader.number<std::uint64_t>()));
  for (SoughtFile& file : news.files) {
    file.file = reader.text();
    file.stamp = reader.number<FileStamp>();
  }
  return news;
}

// Whoever watches is gone where this fails, and this process goes with it.
void tell(int to_parent, const SurveyNews& news) {
  std::string frame;
  put_text(frame, packed(news));
  for (std::string_view rest = frame; !rest.empty();) {
    const ssize_t written = ::write(to_parent, rest.data(), rest.size());
    if (written < 0 && errno != EINTR) ::_exit(kNoOutput);
    if (written > 0) rest.remove_prefix(static_cast<std::size_t>(written));
  }
}

void survey_and_tell(int to_parent, const fs::path& file, const fs::path& folder,
                     const CommonOptions& options) {
  const SoughtFiles sought;
  const auto tell_files = [&] {
    tell(to_parent, {.kind = Kind::files, .text = {}, .files = sought.files()});
  };
  try {
    const Scene scene = [&] {
      try {
        return load_scene(file);
      } catch (...) {
        tell_files();
        throw;
      }
    }();
    tell_files();
    const Survey survey = survey_into(
        scene, folder, options,
        [&](const std::string& stage, double share) {
          tell(to_parent, {.kind = Kind::progress, .text = stage, .share = share, .files = {}});
        },
        [&](const std::vector<FirstLook>& looks) {
          tell(to_parent, {.kind = Kind::first_look, .text = first_look_text(looks), .files = {}});
        });
    tell(to_parent, {.kind = Kind::summary, .text = terminal_summary(survey), .files = {}});
    tell(to_parent, {.kind = Kind::readings, .text = readings_json(survey), .files = {}});
  } catch (...) {
    const Failure failure = current_failure();
    tell(to_parent, {.kind = failure.code == kBadInput ? Kind::mistake : Kind::failure,
                     .text = failure.text,
                     .files = {}});
  }
}

}  // namespace

SurveyChild::SurveyChild(const fs::path& scene, const fs::path& folder, const CommonOptions& options) {
  int ends[2];
  if (::pipe2(ends, O_CLOEXEC) != 0)
    throw std::runtime_error(fmt::format("no survey can be started: {}", std::strerror(errno)));
  const pid_t parent = ::getpid();
  // What is in them would be written twice.
  std::fflush(stdout);
  std::fflush(stderr);
  child_ = ::fork();
  if (child_ == 0) {
    // It ends with the one that reads it, however that ends.
    ::prctl(PR_SET_PDEATHSIG, SIGKILL);
    if (::getppid() != parent) ::_exit(kNoOutput);
    ::close(ends[0]);
    survey_and_tell(ends[1], scene, folder, options);
    ::_exit(kAllMet);
  }
  const int reason = errno;
  ::close(ends[1]);
  from_child_ = ends[0];
  if (child_ < 0) {
    ::close(from_child_);
    throw std::runtime_error(fmt::format("no survey can be started: {}", std::strerror(reason)));
  }
  ::fcntl(from_child_, F_SETFL, O_NONBLOCK);
}

SurveyChild::~SurveyChild() {
  if (from_child_ >= 0) ::close(from_child_);
  if (child_ <= 0) return;
  ::kill(child_, SIGKILL);
  while (::waitpid(child_, nullptr, 0) < 0 && errno == EINTR) {
  }
}

void SurveyChild::read_all() {
  char piece[1 << 14];
  for (;;) {
    const ssize_t got = ::read(from_child_, piece, sizeof piece);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0 && (errno == EAGAIN || errno == EWOULDBLOCK)) return;
    if (got <= 0) {
      closed_ = true;
      return;
    }
    bytes_.append(piece, static_cast<std::size_t>(got));
  }
}

std::optional<SurveyNews> SurveyChild::next() {
  std::uint64_t size = 0;
  if (bytes_.size() < sizeof size) return std::nullopt;
  std::memcpy(&size, bytes_.data(), sizeof size);
  if (bytes_.size() - sizeof size < size) return std::nullopt;
  SurveyNews news = unpacked(std::string_view(bytes_).substr(sizeof size, static_cast<std::size_t>(size)));
  bytes_.erase(0, sizeof size + static_cast<std::size_t>(size));
  last_word_ = last_word_ || news.kind >= Kind::readings;
  return news;
}

std::vector<SurveyNews> SurveyChild::news() {
  std::vector<SurveyNews> all;
  if (done()) return all;
  read_all();
  while (auto one = next()) all.push_back(std::move(*one));
  if (!closed_) return all;
  int status = 0;
  while (::waitpid(child_, &status, 0) < 0 && errno == EINTR) {
  }
  child_ = -1;
  ::close(from_child_);
  from_child_ = -1;
  if (last_word_) return all;
  const std::string how =
      WIFSIGNALED(status) ? fmt::format("{} ended it", ::strsignal(WTERMSIG(status))) : "it ended too early";
  all.push_back(
      {.kind = Kind::failure, .text = complaint("there is no result of this survey: " + how), .files = {}});
  return all;
}

}  // namespace boughlight::cli
