// The schemas of results, as they lie in engine/report/: without the quantities (results_schema_json()).
#pragma once

#include <span>
#include <string_view>

namespace boughlight::cli {

struct ResultsSchema {
  std::string_view name;  // as `boughlight schema` calls it
  std::string_view text;
};
// Of a survey, of many, and of the planning commands.
std::span<const ResultsSchema> results_schemas();

}  // namespace boughlight::cli
