// Text and data that go into a page, so that no name can break it.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace boughlight {

// Text that may stand anywhere in HTML: no name can open a tag, close one or start a reference.
std::string escaped(std::string_view utf8);

// As escaped(), lines kept.
std::string escaped_lines(std::string_view utf8);

// JSON that may stand inside a script element: in JSON text a "<" can only be part of a string.
std::string inside_script(std::string_view json);

// The frame with each {{NAME}} replaced, once: what is put in is never looked at again. Throws
// std::logic_error where the frame asks for what is not there.
std::string filled(std::string_view frame,
                   const std::vector<std::pair<std::string_view, std::string>>& slots);

}  // namespace boughlight
