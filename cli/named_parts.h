// Finding what a command line names.
#pragma once

#include <string>

#include "scene/model.h"

namespace boughlight::cli {

// Index of the scene's lamp of that name. Throws CallError that lists those there are; `argument` is what
// bears the name on the command line.
std::size_t lamp_named(const Scene& scene, const std::string& name, const std::string& argument = "LAMP");

// Index of the scene's perch of that name; the same.
std::size_t perch_named(const Scene& scene, const std::string& name);

// A length as typed, m; bare numbers are in the scene's unit. Throws CallError naming the option where it is
// none or not from `least` to `most`.
double typed_length(const Scene& scene, const std::string& option, const std::string& text, double least,
                    double most);

// Throws CallError where no light of a lamp over the top gets in.
void require_open_top(const Scene& scene);

// Between the top and a lamp that a command looks at, m.
inline constexpr double kMostGap = 3;

}  // namespace boughlight::cli
