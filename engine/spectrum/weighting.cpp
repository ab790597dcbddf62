// The weighting functions of the instant quantities.
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "spectrum/constants.h"
#include "spectrum/library_path.h"
#include "spectrum/quantity.h"

namespace boughlight {

namespace {

// umol of photons a joule carries for each nm of its wavelength.
constexpr double kUmolPerJouleNm = 1e6 * 1e-9 / (kPlanck * kLight * kAvogadro);

constexpr double kUviPerErythemal = 40;  // m2/W, ISO/CIE 17166:2019
constexpr double kEfficacy = 683.002;    // lm/W at 555 nm in air, CIE 018:2019

Table standard(const char* file) {
  return read_table_file((library_path() / "standard" / file).string()).table;
}

}  // namespace

double Weighting::at(double wavelength_nm) const {
  if (wavelength_nm < from_nm_ || wavelength_nm >= to_nm_) return 0;
  return factor_ * table_.at(wavelength_nm) * (photons_ ? wavelength_nm : 1);
}

const Weighting& weighting(Quantity quantity) {
  static const auto all = [] {
    std::array<Weighting, kInstant> weightings;
    // The range's upper end is left out; 25 um itself belongs to the last bin.
    const double end = std::nextafter(kLastNm, std::numeric_limits<double>::infinity());
    const auto set = [&](Quantity q, Table table, double from_nm, double to_nm, double factor) {
      Weighting& w = weightings[static_cast<std::size_t>(q)];
      w.table_ = std::move(table);
      w.from_nm_ = from_nm;
      w.to_nm_ = to_nm;
      w.factor_ = factor;
      w.knots_ = {from_nm};
      for (double x : w.table_.x())
        if (x > from_nm && x < to_nm) w.knots_.push_back(x);
      w.knots_.push_back(std::min(to_nm, kLastNm));
    };
    const Table one = Table::constant(1);
    set(Quantity::uvi, standard("erythema.csv"), kFirstNm, end, kUviPerErythemal);
    set(Quantity::uvc, one, 250, 280, 1);
    set(Quantity::uvb, one, 280, 315, 1);
    set(Quantity::uva, one, 315, 400, 1);
    set(Quantity::d3, standard("vitamin-d3.csv"), kFirstNm, end, 1);
    set(Quantity::actinic, standard("actinic.csv"), kFirstNm, end, 1);
    set(Quantity::lux, standard("luminous-efficiency.csv"), kFirstNm, end, kEfficacy);
    set(Quantity::ppfd, one, 400, 700, kUmolPerJouleNm);
    weightings[static_cast<std::size_t>(Quantity::ppfd)].photons_ = true;
    set(Quantity::irradiance, one, kFirstNm, end, 1);
    set(Quantity::infrared, one, 700, end, 1);
    return weightings;
  }();
  if (is_day_quantity(quantity))
    throw std::logic_error("a day quantity has no weighting function of its own: " +
                           std::string(info(quantity).name));
  return all[static_cast<std::size_t>(quantity)];
}

}  // namespace boughlight
