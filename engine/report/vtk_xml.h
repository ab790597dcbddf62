// Pieces of VTK's XML files. Private to this room.
#pragma once

#include <cstdint>
#include <pugixml.hpp>
#include <string>
#include <string_view>
#include <vector>

namespace boughlight {

// <VTKFile type="..."><type>: the element that holds the data.
pugi::xml_node start_vtk(pugi::xml_document& document, const char* type);
std::string vtk_text(const pugi::xml_document& document);

// Arrays in base64 behind their length in bytes, as VTK reads them inline. `components` values belong
// together.
pugi::xml_node put_array(pugi::xml_node parent, std::string_view name, const std::vector<float>& values,
                         int components = 1);
pugi::xml_node put_array(pugi::xml_node parent, std::string_view name,
                         const std::vector<std::int32_t>& values);
// Texts, each as its bytes up to a 0.
void put_texts(pugi::xml_node parent, std::string_view name, const std::vector<std::string>& texts);
// The unit of an array, where it has one.
void put_unit(pugi::xml_node array, std::string_view unit);

}  // namespace boughlight
