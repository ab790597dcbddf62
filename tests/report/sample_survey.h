// A survey made by hand, without tracing a ray: a planted cabinet with a mesh cage on top, three lamps above
// it, and a made-up field that falls off with distance. Invented for the tests.
#pragma once

#include "assess/results.h"
#include "report/slice.h"

namespace boughlight {

// Two boxes, two branches, a board, three plants, three perches, two points, three lamps; cells of 5 cm.
Survey sample_survey();

// The same enclosure with every cell's UVI, PPFD and irradiance set to value(middle of the cell).
template <typename Value>
Survey survey_with_field(const Value& value) {
  Survey survey = sample_survey();
  for (Cell& cell : survey.cells) {
    for (const Quantity quantity : {Quantity::uvi, Quantity::ppfd, Quantity::irradiance}) {
      cell.up[static_cast<std::size_t>(quantity)].value = value(cell.centre);
    }
  }
  return survey;
}

// Nothing but boxes and field is left, so that a pixel of a map shows the field alone.
Survey bare(Survey survey);

// Through the middle of the sample.
inline const Slice kFront{View::front, 0.32, "front", "section"};

}  // namespace boughlight
