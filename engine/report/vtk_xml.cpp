#include "report/vtk_xml.h"

#include <bit>
#include <cstring>
#include <sstream>

#include "report/packed.h"

namespace boughlight {

namespace {

static_assert(std::endian::native == std::endian::little, "the arrays are written as they lie in memory");

template <class Value>
pugi::xml_node put(pugi::xml_node parent, std::string_view name, const char* type,
                   const std::vector<Value>& values) {
  pugi::xml_node array = parent.append_child("DataArray");
  array.append_attribute("type") = type;
  array.append_attribute("Name") = std::string(name).c_str();
  array.append_attribute("format") = "binary";
  const std::uint64_t size = values.size() * sizeof(Value);
  std::string bytes(sizeof size + size, '\0');
  std::memcpy(bytes.data(), &size, sizeof size);
  if (size > 0) std::memcpy(bytes.data() + sizeof size, values.data(), size);
  array.append_child(pugi::node_pcdata).set_value(base64(bytes).c_str());
  return array;
}

}  // namespace

pugi::xml_node start_vtk(pugi::xml_document& document, const char* type) {
  pugi::xml_node declaration = document.append_child(pugi::node_declaration);
  declaration.append_attribute("version") = "1.0";
  pugi::xml_node file = document.append_child("VTKFile");
  file.append_attribute("type") = type;
  file.append_attribute("version") = "1.0";
  file.append_attribute("byte_order") = "LittleEndian";
  file.append_attribute("header_type") = "UInt64";
  return file.append_child(type);
}

std::string vtk_text(const pugi::xml_document& document) {
  std::ostringstream stream;
  document.save(stream, " ");
  return stream.str();
}

pugi::xml_node put_array(pugi::xml_node parent, std::string_view name, const std::vector<float>& values,
                         int components) {
  pugi::xml_node array = put(parent, name, "Float32", values);
  if (components > 1) array.append_attribute("NumberOfComponents") = components;
  return array;
}

pugi::xml_node put_array(pugi::xml_node parent, std::string_view name,
                         const std::vector<std::int32_t>& values) {
  return put(parent, name, "Int32", values);
}

void put_texts(pugi::xml_node parent, std::string_view name, const std::vector<std::string>& texts) {
  pugi::xml_node array = parent.append_child("DataArray");
  array.append_attribute("type") = "String";
  array.append_attribute("Name") = std::string(name).c_str();
  array.append_attribute("NumberOfTuples") = static_cast<unsigned long long>(texts.size());
  array.append_attribute("format") = "ascii";
  std::string codes;
  for (const std::string& text : texts) {
    for (const char c : text) codes += std::to_string(static_cast<unsigned char>(c)) + " ";
    codes += "0 ";
  }
  array.append_child(pugi::node_pcdata).set_value(codes.c_str());
}

void put_unit(pugi::xml_node array, std::string_view unit) {
  if (unit.empty()) return;
  pugi::xml_node key = array.append_child("InformationKey");
  key.append_attribute("name") = "UNITS_LABEL";
  key.append_attribute("location") = "vtkDataArray";
  key.append_child(pugi::node_pcdata).set_value(std::string(unit).c_str());
}

}  // namespace boughlight
