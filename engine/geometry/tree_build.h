// How the tree that rays are cast into is built.
#pragma once

namespace boughlight {

// For rays as fast as they can be, or soon, where so few are cast that building would take longer than they
// do: in about a third of the time, for rays up to a tenth slower (measured with half a million leaves). Rays
// meet the same.
enum class TreeBuild { for_many_rays, for_few_rays };

}  // namespace boughlight
