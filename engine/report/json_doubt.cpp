#include "report/json_doubt.h"

#include "report/text.h"

namespace boughlight {
namespace {

using Json = nlohmann::ordered_json;

Json place(const Vec3& at, const std::string& what) {
  return {six_digits(at.x(), what), six_digits(at.y(), what), six_digits(at.z(), what)};
}

Json band_json(const Band& band, const std::string& what) {
  Json json = {{"low", six_digits(band.low, what + ", low end")},
               {"high", six_digits(band.high, what + ", high end")},
               {"log_sd", six_digits(band.log_sd, what + ", doubt")}};
  Json& causes = json["causes"] = Json::array();
  for (const CauseShare& cause : band.causes) {
    Json one = {{"cause", cause_name(cause.kind)}};
    if (!cause.name.empty()) one["name"] = cause.name;
    one["share"] = six_digits(cause.share, what + ", share of a cause");
    causes.push_back(std::move(one));
  }
  return json;
}

Json doubt_of(const ReadingDoubt& doubt, const std::string& reading) {
  Json json = Json::object();
  for (const auto& [quantity, band] : doubt.bands) {
    const std::string name(info(quantity).name), what = name + " of " + reading;
    json[name] = band_json(band, what);
    const auto leaves = doubt.leaves.find(quantity);
    if (leaves == doubt.leaves.end()) continue;
    json[name]["leaves"] = {{"mean", six_digits(leaves->second.mean, what)},
                            {"relative_sd", six_digits(leaves->second.relative_sd, what + ", leaves")}};
  }
  return json;
}

Json chain_json(const LossChain& chain, const std::string& reading) {
  const std::string what = "the losses from " + chain.lamp + " to " + reading;
  Json json = {{"lamp", chain.lamp},
               {"quantity", info(chain.quantity).name},
               {"start", six_digits(chain.start, what)},
               {"start_m", six_digits(chain.start_m, what)},
               {"declared", chain.declared}};
  Json& losses = json["losses"] = Json::object();
  for (const Loss& loss : chain.losses)
    losses[std::string(loss.name)] = loss.factor ? Json(six_digits(*loss.factor, what)) : Json(nullptr);
  json["value"] = six_digits(chain.value, what);
  json["reflected"] = six_digits(chain.reflected, what);
  return json;
}

Json failure_json(const FailureCase& about) {
  Json json = {{"kind", about.kind}};
  if (!about.name.empty()) json["name"] = about.name;
  json["text"] = about.text;
  if (about.air_c) json["air_c"] = six_digits(*about.air_c, about.text);
  Json& breaks = json["breaks"] = Json::array();
  for (const BrokenLimit& broken : about.breaks) {
    Json one = broken.reading.empty() ? Json{{"place", "hottest"}} : Json{{"reading", broken.reading}};
    one["quantity"] = info(broken.quantity).name;
    one["value"] = six_digits(broken.figure.value, about.text);
    one["se"] = six_digits(broken.figure.se, about.text);
    one["limit"] = six_digits(broken.limit, about.text);
    one["verdict"] = verdict_name(broken.verdict);
    one["already"] = broken.already;
    breaks.push_back(std::move(one));
  }
  return json;
}

Json meter_json(const MeterPlan& plan) {
  Json json = {{"log_sd_before", six_digits(plan.log_sd_before, "the doubt before reading a meter")},
               {"log_sd_after", six_digits(plan.log_sd_after, "the doubt after reading a meter")}};
  Json& rows = json["rows"] = Json::array();
  for (const MeterRow& row : plan.rows) {
    const std::string what = "the meter sheet, " + row.place;
    Json one = {{"place", row.place},
                {"at", place(row.at, what)},
                {"direction", place(row.direction, what)},
                {"quantity", info(row.quantity).name},
                {"expected", six_digits(row.expected, what)},
                {"low", six_digits(row.low, what)},
                {"high", six_digits(row.high, what)},
                {"through_screen", row.through_screen}};
    if (!row.lamps.empty()) one["only_lamp"] = row.lamps;
    rows.push_back(std::move(one));
  }
  return json;
}

}  // namespace

void put_doubt(Json& json, const Survey& survey) {
  const DoubtFindings& doubt = survey.doubt;
  if (doubt.readings.empty() && doubt.failures.empty()) return;
  for (std::size_t i = 0; i < survey.readings.size(); ++i) {
    const Reading& reading = survey.readings[i];
    Json& own = json["readings"][i];
    for (std::size_t k = 0; k < reading.wants.size(); ++k)
      if (reading.wants[k].firm) own["wants"][k]["firm"] = *reading.wants[k].firm;
    if (i >= doubt.readings.size()) continue;
    own["doubt"] = doubt_of(doubt.readings[i], reading.name);
    Json& chains = own["chains"] = Json::array();
    for (const LossChain& chain : doubt.readings[i].chains) chains.push_back(chain_json(chain, reading.name));
  }
  if (survey.hottest) {
    const auto put = [&](const char* name, const HottestPlace& hottest, const std::optional<Band>& band) {
      if (band) json["hottest"][name]["doubt"] = band_json(*band, "the hottest place");
      if (hottest.firm) json["hottest"][name]["firm"] = *hottest.firm;
    };
    put("uvi", survey.hottest->uvi, doubt.hottest_uvi);
    put("irradiance", survey.hottest->irradiance, doubt.hottest_irradiance);
  }
  const Doubts& declared = survey.scene.doubts;
  json["doubt"] = {{"lamp", declared.lamp},           {"ageing", declared.ageing},
                   {"mesh", declared.mesh},           {"surfaces", declared.surfaces},
                   {"position_m", declared.position}, {"leaf_drawings", doubt.leaf_drawings}};
  Json& failures = json["failures"] = Json::array();
  for (const FailureCase& about : doubt.failures) failures.push_back(failure_json(about));
  json["meter_sheet"] = meter_json(doubt.meter);
}

}  // namespace boughlight
