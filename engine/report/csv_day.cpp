// day.csv: the readings by the clock.
#include "report/text.h"
#include "report/write.h"

namespace boughlight {

std::string day_csv(const Survey& survey) {
  std::string out = "name,kind,clock";
  for (const Quantity quantity : kClockQuantities) out += "," + std::string(info(quantity).name);
  out += "\n";
  const std::vector<ClockReadings>& clock = survey.day.clock.readings;
  for (std::size_t i = 0; i < clock.size(); ++i) {
    const Reading& reading = survey.readings[i];
    const std::string first =
        csv_field(reading.name) + "," + std::string(reading_kind_name(reading.kind)) + ",";
    for (std::size_t k = 0; k < kClockMoments; ++k) {
      out += first + print_clock_time(static_cast<double>(k) * kClockStepH);
      for (const std::vector<double>& values : clock[i]) out += "," + six_digit_text(values[k], reading.name);
      out += "\n";
    }
  }
  return out;
}

}  // namespace boughlight
