// The schemas of results, as they lie in engine/report/.
#pragma once

namespace boughlight::cli {

extern const char* const kReadingsSchema;
extern const char* const kIndexSchema;

}  // namespace boughlight::cli
