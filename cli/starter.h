// The scene that `boughlight new` writes: cli/starter.yaml, built in.
#pragma once

namespace boughlight::cli {

extern const char* const kStarterScene;

}  // namespace boughlight::cli
