#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "assess/facts.h"
#include "report/summary_parts.h"
#include "report/text.h"
#include "report/tune_report.h"

namespace boughlight {
namespace {

std::string tuned_figure_text(const TunedAsk& ask, double value) {
  if (ask.key.kind == FigureKind::share) return unbroken(percent(std::round(1000 * value) / 1000));
  return with_name(ask.key.quantity, value_text(ask.key.quantity, value));
}

std::string tuned_limit_text(const TunedAsk& ask) {
  const std::string side = ask.ask.at_least ? "at least " : "at most ";
  if (ask.key.kind == FigureKind::share) return side + unbroken(percent(ask.ask.limit));
  return side + unbroken(value_text(ask.key.quantity, ask.ask.limit));
}

std::string setting_text(const Scene& scene, const Lamp& lamp, TuneKind kind) {
  const LengthUnit unit(scene.length_unit);
  switch (kind) {
    case TuneKind::dim:
      return unbroken(percent(lamp.dim));
    case TuneKind::gap:
      return unbroken(unit.text(gap_above_enclosure(scene, lamp).value_or(0)));
    case TuneKind::place:
      return unbroken("x " + unit.number(lamp.at.x())) + ", " + unbroken("y " + unit.text(lamp.at.y()));
    case TuneKind::aim: {
      const Vec3 aim = lamp.aim / lamp.aim.cwiseAbs().maxCoeff();
      return unbroken(fmt::format("[{:.2g}, {:.2g}, {:.2g}]", aim.x() + 0.0, aim.y() + 0.0, aim.z()));
    }
    case TuneKind::fixture:
      return shortened(lamp.fixture->name, kNameColumns);
  }
  return "";
}

std::string knob_text(TuneKind kind) {
  switch (kind) {
    case TuneKind::dim:
      return "dimmer";
    case TuneKind::gap:
      return "gap above the top";
    case TuneKind::place:
      return "place";
    case TuneKind::aim:
      return "aim";
    case TuneKind::fixture:
      return "fixture";
  }
  return "";
}

std::string mark(Verdict verdict) {
  return verdict == Verdict::met      ? "met"
         : verdict == Verdict::unsure ? "close"
         : verdict == Verdict::below  ? "low"
                                      : "high";
}

void put_changes(std::string& out, const Scene& scene, const Tune& tune) {
  out += "\nChange\n";
  for (const TunedChange& change : tune.changes) {
    const TunedAsk& ask = tune.asks[change.ask];
    put_wrapped(
        out,
        fmt::format("{}: {} from {} to {}. Without that: {}, {}; wanted {}.",
                    shortened(change.before.name, kNameColumns), knob_text(change.kind),
                    setting_text(scene, change.before, change.kind),
                    setting_text(scene, change.after, change.kind), shortened(ask.about, kNameColumns),
                    tuned_figure_text(ask, change.without), tuned_limit_text(ask)),
        "  ", "    ");
  }
}

void put_wants(std::string& out, const Tune& tune) {
  out += "\nWants                        limit             before          now         slack\n";
  for (const TunedAsk& ask : tune.asks) {
    const auto figure = [&](double value, Verdict verdict) {
      const std::string text =
          ask.key.kind == FigureKind::share ? percent(std::round(1000 * value) / 1000) : print_number(value);
      return text + " " + mark(verdict);
    };
    const std::string quantity =
        ask.key.kind == FigureKind::share ? "" : " " + std::string(info(ask.key.quantity).name);
    const std::string limit =
        (ask.ask.at_least ? ">= " : "<= ") + (ask.key.kind == FigureKind::share
                                                  ? percent(ask.ask.limit)
                                                  : value_text(ask.key.quantity, ask.ask.limit));
    const std::string name =
        shortened(ask.about, std::max(8, 25 - static_cast<int>(quantity.size()))) + quantity;
    out += fmt::format("  {} {} {} {} {:>5.1f}\n", left_aligned(name, 26), left_aligned(limit, 17),
                       left_aligned(figure(ask.before, ask.verdict_before), 12),
                       left_aligned(figure(ask.after, ask.verdict_after), 12), ask.slack_after);
  }
  put_wrapped(out,
              "(Slack: how far within the limit, in standard deviations of what lamps, meshes, walls and "
              "heights may be "
              "off; 2 or more is safe against that doubt, below 0 the limit is broken.)",
              "  ", "  ");
}

std::string list_of(const Tune& tune, const std::vector<std::size_t>& asks) {
  std::string text;
  for (const std::size_t i : asks) {
    const TunedAsk& ask = tune.asks[i];
    const std::string quantity =
        ask.key.kind == FigureKind::share ? "" : std::string(info(ask.key.quantity).label) + " ";
    text += (text.empty() ? "" : "; ") + shortened(ask.about, kNameColumns) + ", " + quantity +
            tuned_limit_text(ask);
  }
  return text;
}

}  // namespace

std::string tune_summary(const Scene& scene, const Tune& tune) {
  std::string out =
      shortened("Tuning: " + (scene.title.empty() ? scene.file : scene.title), kColumns) + "\n\n";
  const auto say = [&](const std::string& text) { put_wrapped(out, text, "", ""); };
  if (tune.changes.empty() && tune.unmet.empty()) {
    say("Every want is met as the scene stands: nothing needs to be changed.");
  } else if (tune.changes.empty()) {
    say("Not every want is met, and nothing that may be changed was found to do better.");
  } else if (tune.unmet.empty()) {
    say("With these changes every want is met.");
  } else {
    say(fmt::format("These changes help, but {} of {} limits cannot be kept with what may be changed.",
                    tune.unmet.size(), tune.asks.size()));
  }
  if (!tune.changes.empty()) put_changes(out, scene, tune);
  put_wants(out, tune);
  if (!tune.unmet.empty()) {
    out += "\nNot met\n";
    put_wrapped(out, list_of(tune, tune.unmet) + ".", "  ", "    ");
    if (!tune.against.empty())
      put_wrapped(out,
                  "Nearly broken themselves, so they stand against it: " + list_of(tune, tune.against) + ".",
                  "  ", "    ");
    std::string bounds;
    for (const std::string& text : tune.at_bounds) bounds += (bounds.empty() ? "" : "; ") + text;
    if (!bounds.empty()) put_wrapped(out, "At their ends: " + bounds + ".", "  ", "    ");
    put_wrapped(out,
                "What would help is not among what was tried: another lamp (name some under 'choose'), a "
                "dimmer, a perch "
                "elsewhere, or other limits.",
                "  ", "    ");
  }
  if (tune.unmet.empty() && tune.slack_after < 2) {
    out += "\n";
    say("Met, if the lamps are as declared: the least slack is within their doubt. A meter tells (boughlight "
        "fit).");
  }
  return out;
}

}  // namespace boughlight
