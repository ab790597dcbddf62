// Files for the Visualization Toolkit: read back as its file formats document them, every value where it
// belongs.
#include "report/vtk.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstring>
#include <pugixml.hpp>
#include <sstream>

#include "read_back.h"
#include "report/write.h"
#include "sample_survey.h"

namespace boughlight {
namespace {

template <class Value>
std::vector<Value> values_of(const pugi::xml_node& array) {
  const std::string bytes = bytes_of_base64(array.child_value());
  std::uint64_t size = 0;
  std::memcpy(&size, bytes.data(), sizeof size);
  EXPECT_EQ(size + sizeof size, bytes.size()) << array.attribute("Name").value();
  std::vector<Value> values(size / sizeof(Value));
  std::memcpy(values.data(), bytes.data() + sizeof size, size);
  return values;
}

pugi::xml_node array_named(const pugi::xml_node& parent, const std::string& name) {
  return parent.find_child_by_attribute("DataArray", "Name", name.c_str());
}

std::vector<std::string> texts_of(const pugi::xml_node& array) {
  std::vector<std::string> texts(1);
  std::istringstream codes(array.child_value());
  for (int code; codes >> code;) {
    if (code == 0) {
      texts.emplace_back();
    } else {
      texts.back() += static_cast<char>(code);
    }
  }
  texts.pop_back();
  return texts;
}

class Vtk : public testing::Test {
 protected:
  pugi::xml_document document(const std::string& name) const {
    pugi::xml_document document;
    for (const VtkFile& file : files_) {
      if (file.name != name) continue;
      EXPECT_TRUE(document.load_string(file.bytes.c_str()));
    }
    EXPECT_TRUE(document.child("VTKFile")) << name;
    EXPECT_STREQ(document.child("VTKFile").attribute("byte_order").value(), "LittleEndian");
    EXPECT_STREQ(document.child("VTKFile").attribute("header_type").value(), "UInt64");
    return document;
  }

  Survey survey_ = sample_survey();
  std::vector<VtkFile> files_ = vtk_files(survey_);
};

TEST_F(Vtk, TheGridHasEveryCellsFiguresInTheirPlaces) {
  ASSERT_FALSE(survey_.grid.empty());
  for (std::size_t b = 0; b < survey_.grid.size(); ++b) {
    const GridBox& box = survey_.grid[b];
    const auto file = document("grid-" + std::to_string(b + 1) + ".vti");
    const pugi::xml_node image = file.child("VTKFile").child("ImageData");
    std::istringstream extent(image.attribute("WholeExtent").value()),
        spacing(image.attribute("Spacing").value()), origin(image.attribute("Origin").value());
    for (int axis = 0; axis < 3; ++axis) {
      int from = -1, to = -1;
      double step = 0, start = 0;
      extent >> from >> to;
      spacing >> step;
      origin >> start;
      EXPECT_EQ(from, 0);
      EXPECT_EQ(to, box.count[static_cast<std::size_t>(axis)]);
      EXPECT_NEAR(step, box.cell[axis], 1e-6 * box.cell[axis] + 1e-9);
      EXPECT_NEAR(start, box.corner[axis], 1e-6);
    }
    const pugi::xml_node cells = image.child("Piece").child("CellData");
    for (const Quantity quantity : {Quantity::uvi, Quantity::ppfd, Quantity::infrared}) {
      const auto q = static_cast<std::size_t>(quantity);
      const pugi::xml_node array = array_named(cells, std::string(info(quantity).name));
      const auto values = values_of<float>(array);
      const auto errors = values_of<float>(array_named(cells, std::string(info(quantity).name) + "_se"));
      ASSERT_EQ(values.size(), static_cast<std::size_t>(box.count[0] * box.count[1] * box.count[2]));
      for (std::size_t i = 0; i < values.size(); ++i) {
        const Cell& cell = survey_.cells[box.first + i];
        if (cell.free_share > 0) {
          EXPECT_NEAR(values[i], cell.up[q].value, 1e-5 * std::abs(cell.up[q].value));
          EXPECT_NEAR(errors[i], cell.up[q].se, 1e-5 * cell.up[q].se);
        } else {
          EXPECT_TRUE(std::isnan(values[i]));
        }
      }
      EXPECT_EQ(std::string(array.child("InformationKey").child_value()), info(quantity).unit);
    }
  }
}

TEST_F(Vtk, TheBlocksAreTheBoxes) {
  const auto file = document("grid.vtm");
  std::size_t count = 0;
  for (const pugi::xml_node& block :
       file.child("VTKFile").child("vtkMultiBlockDataSet").children("DataSet")) {
    EXPECT_EQ(block.attribute("file").value(), "grid-" + std::to_string(count + 1) + ".vti");
    ++count;
  }
  EXPECT_EQ(count, survey_.grid.size());
}

TEST_F(Vtk, ReadingsArePointsWithTheirNamesAndValues) {
  const auto file = document("readings.vtp");
  const pugi::xml_node piece = file.child("VTKFile").child("PolyData").child("Piece");
  ASSERT_EQ(piece.attribute("NumberOfPoints").as_ullong(), survey_.readings.size());
  const auto points = values_of<float>(piece.child("Points").child("DataArray"));
  const auto names = texts_of(array_named(piece.child("PointData"), "name"));
  const auto uvi = values_of<float>(array_named(piece.child("PointData"), "uvi"));
  ASSERT_EQ(points.size(), 3 * survey_.readings.size());
  ASSERT_EQ(names.size(), survey_.readings.size());
  for (std::size_t i = 0; i < survey_.readings.size(); ++i) {
    const Reading& reading = survey_.readings[i];
    EXPECT_NEAR(points[3 * i + 2], reading.at.z(), 1e-5);
    const auto found = reading.values.find(Quantity::uvi);
    if (found == reading.values.end()) {
      EXPECT_TRUE(std::isnan(uvi[i]));
    } else {
      EXPECT_NEAR(uvi[i], found->second.value, 1e-5 * found->second.value);
    }
  }
}

TEST_F(Vtk, TheSceneHasAsManyLabelsAsCells) {
  const auto file = document("scene.vtp");
  const pugi::xml_node piece = file.child("VTKFile").child("PolyData").child("Piece");
  std::size_t cells = 0;
  for (const char* kind : {"Verts", "Lines", "Polys"}) {
    const pugi::xml_node part = piece.child(kind);
    const auto ends = values_of<std::int32_t>(array_named(part, "offsets"));
    const auto corners = values_of<std::int32_t>(array_named(part, "connectivity"));
    EXPECT_EQ(ends.size(), piece.attribute(("NumberOf" + std::string(kind)).c_str()).as_ullong());
    EXPECT_EQ(ends.empty() ? 0u : static_cast<std::size_t>(ends.back()), corners.size());
    for (const std::int32_t corner : corners) EXPECT_LT(corner, piece.attribute("NumberOfPoints").as_int());
    cells += ends.size();
  }
  EXPECT_EQ(values_of<std::int32_t>(array_named(piece.child("CellData"), "kind")).size(), cells);
  EXPECT_EQ(texts_of(array_named(piece.child("CellData"), "name")).size(), cells);
  EXPECT_EQ(piece.attribute("NumberOfLines").as_ullong(), survey_.scene.branches.size());
}

TEST(VtkNames, ThoseOfTheGridAreKnown) {
  EXPECT_TRUE(is_vtk_file_name("grid-3.vti"));
  EXPECT_FALSE(is_vtk_file_name("grid.csv"));
  EXPECT_FALSE(is_vtk_file_name("mine.vti"));
}

}  // namespace
}  // namespace boughlight
