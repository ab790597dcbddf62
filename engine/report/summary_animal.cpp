// The animal in the terminal summary.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/summary_parts.h"
#include "report/text.h"

namespace boughlight {
namespace {

std::string range_text(Quantity quantity, const Spread& spread) {
  const std::string low = print_number(spread.least), high = print_number(spread.greatest);
  const std::string both = low == high ? high : low + " to " + high;
  const std::string unit(info(quantity).unit);
  return with_name(quantity, unit.empty() ? both : both + " " + unit);
}

std::string width_text(const BodyFindings& body, Quantity quantity, const LengthUnit& unit) {
  const Beam& beam = body.beams.at(quantity);
  return unbroken(unit.text(beam.width())) + (beam.open_from || beam.open_to ? " or more" : "");
}

// "on all of its length", "on 78 % of its length"
std::string held_share_text(double share) {
  return share >= 1 ? "on all of" : share <= 0 ? "nowhere on" : "on " + unbroken(percent(share)) + " of";
}

void put_body(std::string& out, const BodyFindings& body, const LengthUnit& unit) {
  if (body.spread.empty()) return;
  std::string text = fmt::format("{}: {}, {}", shortened(body.perch, kNameColumns),
                                 range_text(Quantity::uvi, body.spread.at(Quantity::uvi)),
                                 range_text(Quantity::irradiance, body.spread.at(Quantity::irradiance)));
  if (body.wants_share)
    text += fmt::format("; your wants hold {} its back", held_share_text(*body.wants_share));
  if (body.flank_wants_share && body.flank_wants_share != body.wants_share)
    text += fmt::format(", {} its flank's lower edge", held_share_text(*body.flank_wants_share));
  put_wrapped(out, text, "  - ", "    ");
  // Of a perch that is not for warming up nobody asks where the beams lie.
  if (!body.nested || !body.for_basking) return;
  put_wrapped(out,
              fmt::format("beams to half their strength: heat {}, UV {}, bright light {} wide; {}",
                          width_text(body, Quantity::infrared, unit), width_text(body, Quantity::uvi, unit),
                          width_text(body, Quantity::lux, unit),
                          *body.nested ? "one inside the other" : "NOT one inside the other"),
              "    ", "    ");
}

void put_bodies(std::string& out, const Survey& survey, const LengthUnit& unit) {
  const std::vector<BodyFindings>& bodies = survey.animal.bodies;
  if (bodies.empty()) return;
  out += fmt::format("\nThe whole body, {} long with a flank of {}\n", unit.text(bodies.front().length),
                     unit.text(bodies.front().height));
  for (const BodyFindings& body : bodies) put_body(out, body, unit);
}

void put_sizes(std::string& out, const Survey& survey, const LengthUnit& unit) {
  if (survey.animal.sizes.empty()) return;
  out += "\nOther sizes on the same perches\n";
  for (const SizeFindings& size : survey.animal.sizes) {
    const std::string name = fmt::format("{}, back {}", shortened(size.size.name, kNameColumns),
                                         unbroken(unit.text(size.size.back)));
    std::string text;
    std::size_t wants = 0;
    for (const Reading& reading : size.readings)
      for (const WantResult& result : reading.wants) {
        ++wants;
        if (result.verdict == Verdict::met) continue;
        text += fmt::format(
            "{}{}: {}, {}", text.empty() ? "" : "; ", shortened(reading.name, kNameColumns),
            with_name(result.want.quantity, value_text(result.want.quantity, result.figure.value)),
            judged(result.verdict, limits_text(result.want.limits, 1, "")));
      }
    if (text.empty()) {
      for (const Reading& reading : size.readings)
        if (reading.name == survey.animal.sun_perch)
          text = fmt::format("{} at '{}'",
                             with_name(Quantity::uvi, print_number(reading.values.at(Quantity::uvi).value)),
                             shortened(reading.name, kNameColumns));
      text = (wants > 0 ? std::string("all wants met") : std::string("nothing wanted")) +
             (text.empty() ? "" : "; ") + text;
    }
    put_wrapped(out, name + ": " + text, "  - ", "    ");
  }
}

std::string marked(const ClosestFigure& figure, double step) {
  return stepped(figure.figure.value, step) + (figure.verdict == Verdict::above ? "!" : " ");
}

void put_closest(std::string& out, const Survey& survey, const LengthUnit& unit) {
  const std::vector<ClosestPlace>& places = survey.animal.closest;
  if (places.empty()) return;
  constexpr int kName = 26, kLength = 9, kFigure = 9;
  const auto row = [&](const std::string& name, const std::vector<std::string>& fields) {
    std::string line = left_aligned(name, kName);
    for (std::size_t i = 0; i < fields.size(); ++i)
      line += right_aligned(fields[i], i < 2 ? kLength : kFigure);
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  };
  out += "\n";
  row("Closest to each lamp", {"to lamp", "to top", "UVI ", "W/m2 ", "UVI ", "W/m2 "});
  row("", {unit.name(), unit.name(), "", "", "at full ", "at full "});
  bool above = false;
  for (const ClosestPlace& place : places) {
    constexpr double kUviStep = 0.01, kIrradianceStep = 1;
    row("  " + shortened(place.lamp, kName - 3),
        {unit.number(place.distance_to_lamp), unit.number(place.below_top), marked(place.uvi, kUviStep),
         marked(place.irradiance, kIrradianceStep), marked(place.uvi_at_full, kUviStep),
         marked(place.irradiance_at_full, kIrradianceStep)});
    for (const ClosestFigure* figure :
         {&place.uvi, &place.irradiance, &place.uvi_at_full, &place.irradiance_at_full})
      above = above || figure->verdict == Verdict::above;
  }
  put_wrapped(out,
              std::string("Where the animal can get nearest, in the lamp's beam; all lamps together.") +
                  (above ? " An ! stands for more than your 'never' allows." : ""),
              "  ", "  ");
}

std::string levels_text(const std::vector<ReachedRefuge>& refuges, const LengthUnit& unit) {
  const std::string low = unit.number(refuges.front().z), high = unit.number(refuges.back().z);
  return low == high ? unbroken("z " + low + " " + unit.name())
                     : unbroken("z " + low) + " to " + unbroken(high + " " + unit.name());
}

void put_shelter(std::string& out, const Survey& survey, const LengthUnit& unit) {
  if (!survey.animal.shelter) return;
  const Shelter& shelter = *survey.animal.shelter;
  out += fmt::format("\nShade, on branches and boards, against {}\n", quoted(shelter.sun_perch));
  const ShadeSplit& part = shelter.fraction;
  put_wrapped(out,
              fmt::format("{} gets less than a tenth of its UVI, {} up to half, {} more",
                          unbroken(percent(part.below_10)), unbroken(percent(part.from_10_to_50)),
                          unbroken(percent(part.above_50))),
              "  - ", "    ");
  if (!shelter.way) {
    put_wrapped(out, "NO WAY leads to a refuge along branches and boards", "  - ", "    ");
  } else if (shelter.way->covered) {
    const SeatPlace& end = shelter.places[shelter.way->places.back()];
    std::string text = fmt::format(
        "a covered way of {} leads to a refuge on {} at {}; at most {} of its UVI once it has left the sun",
        unbroken(unit.text(shelter.way->length)), quoted(end.on), unbroken("z " + unit.text(end.seat_z)),
        unbroken(percent(shelter.way->worst_share)));
    if (!shelter.refuges.empty())
      text += "; refuges on covered ways at " + levels_text(shelter.refuges, unit);
    put_wrapped(out, text, "  - ", "    ");
  } else {
    put_wrapped(out,
                fmt::format("NO COVERED WAY to a refuge: the best passes a place with {} of its UVI",
                            unbroken(percent(shelter.way->worst_share))),
                "  - ", "    ");
  }
  if (!shelter.heat_matters) return;
  if (!shelter.uv_without_heat) {
    put_wrapped(out, "NO PLACE with UV but without the heat", "  - ", "    ");
    return;
  }
  const SeatPlace& best = shelter.places[*shelter.uv_without_heat];
  put_wrapped(
      out,
      fmt::format("UV without the heat along {}, best on {} at {}: UVI {}, {}",
                  unbroken(unit.text(shelter.uv_without_heat_length)), quoted(best.on),
                  place_text(unit, best.at), print_number(best.values.at(Quantity::uvi).value),
                  unbroken(value_text(Quantity::irradiance, best.values.at(Quantity::irradiance).value))),
      "  - ", "    ");
}

}  // namespace

void put_mends(std::string& out, const Survey& survey, const LengthUnit& unit) {
  if (survey.animal.mends.empty()) return;
  out += "\nWhat would mend the closest places, all else left as it is\n";
  for (const Mend& mend : survey.animal.mends) {
    std::string text = quoted(mend.lamp) + " hung ";
    if (mend.raise) {
      text += unbroken(unit.text(*mend.raise)) + " higher";
    } else {
      text = fmt::format("hanging {} higher does not mend it ({} {})", quoted(mend.lamp),
                         mend.room < kMostRaise ? "it can go up" : "tried up to",
                         unbroken(unit.text(mend.room)));
    }
    if (mend.output_share)
      text += fmt::format("{} one that gives at most {} of its light", mend.raise ? ", or" : "; only",
                          unbroken(fmt::format("{} %", print_number(100 * *mend.output_share))));
    text += fmt::format(", for {} at most", with_name(mend.quantity, value_text(mend.quantity, mend.limit)));
    if (mend.raise && mend.sun_perch_uvi && mend.quantity == Quantity::uvi)
      text += fmt::format(". Hung so, it leaves UVI {} at {}", print_number(*mend.sun_perch_uvi, 2),
                          quoted(*survey.animal.sun_perch));
    put_wrapped(out, text, "  - ", "    ");
  }
}

void put_animal(std::string& out, const Survey& survey, const LengthUnit& unit) {
  put_closest(out, survey, unit);
  put_bodies(out, survey, unit);
  put_sizes(out, survey, unit);
  put_shelter(out, survey, unit);
}

}  // namespace boughlight
