// The words of a log of meter readings: names, quantities, and figures with their units.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "spectrum/quantity.h"

namespace boughlight {

// In small letters, with one blank for everything between words.
std::string plain_words(const std::string& text);

// Which of some names is meant: the one that is spelled so, else the only one of the same plain words. Where
// there are more, and none is spelled so, nothing, and they are in `alike`.
struct MeantName {
  std::optional<std::size_t> index;
  std::vector<std::string> alike;
};
MeantName meant_name(const std::vector<std::string>& names, const std::string& text);

// The quantity that is called so, by its name or its label, whatever the capitals, blanks and hyphens ("UV
// index", "uv-b"), or PAR, which light meters print for PPFD; null where there is none. Also those of the
// day.
const QuantityInfo* quantity_called(const std::string& text);

// The names of all that a meter can read at one moment.
std::vector<std::string> names_at_an_instant();

// A unit as the units room spells it, small and capital letters alike; nothing where it is no unit of that.
std::optional<std::string> spelled_unit(const std::string& text, Dimension dimension);
// The same for a quantity: behind a UV index its own name says nothing new and is "".
std::optional<std::string> spelled_unit(const std::string& text, const QuantityInfo& about);
// "'furlong' is no unit of uvb; allowed: W/m2, ..."
std::string no_unit(const std::string& text, const QuantityInfo& about);

// Why a quantity of the day, called so, cannot be read.
std::string no_sum_of_the_day(const std::string& text);

std::optional<bool> yes_or_no(const std::string& text);

// Whether anything stands behind the number.
bool carries_unit(const std::string& figure);
// "12.5 uW/cm2": a figure in the quantity's own unit, of the unit behind it or else of `unit` as spelled
// above. After a mistake nothing, and why.
std::optional<double> read_figure(const std::string& text, const QuantityInfo& about, const std::string& unit,
                                  std::string& why);

}  // namespace boughlight
