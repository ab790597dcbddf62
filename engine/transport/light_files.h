// Traced light kept in files, for the next run of the same program with the same enclosure and lamps.
//
// A folder for each program and field holds files of records, one file for each run that traced something
// new. Files appear whole or not at all and are never written again; any number of runs may read and write at
// once; any of them may be deleted at any time. What is damaged, cut or unreadable is traced anew, and a
// folder that cannot be written is left alone: no error is ever told.
#pragma once

#include <filesystem>
#include <optional>

#include "transport/light_store.h"

namespace boughlight {

// In bytes; the files that were used least recently go when they are more.
inline constexpr std::uintmax_t kMostKeptLight = 1'000'000'000;

// $XDG_CACHE_HOME/boughlight, else ~/.cache/boughlight; nothing where there is no home.
std::optional<std::filesystem::path> usual_light_folder();

// Writes in the background. What it was given is there when both it and its stores are gone.
std::shared_ptr<LightCache> light_files(const std::filesystem::path& folder,
                                        std::uintmax_t most_bytes = kMostKeptLight);

}  // namespace boughlight
