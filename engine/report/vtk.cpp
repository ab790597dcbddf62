#include "report/vtk.h"

#include <fmt/format.h>

#include <cmath>
#include <limits>

#include "report/text.h"
#include "report/vtk_xml.h"
#include "scene/enclosure.h"

namespace boughlight {
namespace {

constexpr float kNoValue = std::numeric_limits<float>::quiet_NaN();

float finite(double value, std::string_view what) {
  return static_cast<float>(six_digits(value, what));
}

std::string triple(const Vec3& values) {
  return fmt::format("{} {} {}", six_digits(values.x(), "a place"), six_digits(values.y(), "a place"),
                     six_digits(values.z(), "a place"));
}

template <class Value>
std::vector<float> over_cells(const Survey& survey, const GridBox& box, Value value) {
  const auto count = static_cast<std::size_t>(box.count[0] * box.count[1] * box.count[2]);
  std::vector<float> values;
  for (std::size_t i = 0; i < count; ++i) {
    const Cell& cell = survey.cells[box.first + i];
    values.push_back(cell.free_share > 0 ? finite(value(cell), "a cell") : kNoValue);
  }
  return values;
}

std::string grid_file(const Survey& survey, const GridBox& box) {
  pugi::xml_document document;
  pugi::xml_node image = start_vtk(document, "ImageData");
  const std::string extent = fmt::format("0 {} 0 {} 0 {}", box.count[0], box.count[1], box.count[2]);
  image.append_attribute("WholeExtent") = extent.c_str();
  image.append_attribute("Origin") = triple(box.corner).c_str();
  image.append_attribute("Spacing") = triple(box.cell).c_str();
  pugi::xml_node piece = image.append_child("Piece");
  piece.append_attribute("Extent") = extent.c_str();
  pugi::xml_node cells = piece.append_child("CellData");
  cells.append_attribute("Scalars") = "uvi";
  const auto count = static_cast<std::size_t>(survey.has_day ? kQuantities : kInstant);
  for (std::size_t q = 0; q < count; ++q) {
    const QuantityInfo& row = info(static_cast<Quantity>(q));
    const std::string name(row.name);
    put_unit(
        put_array(cells, name, over_cells(survey, box, [q](const Cell& cell) { return cell.up[q].value; })),
        row.unit);
    put_unit(put_array(cells, name + "_se",
                       over_cells(survey, box, [q](const Cell& cell) { return cell.up[q].se; })),
             row.unit);
  }
  put_array(cells, "uvi_brightest",
            over_cells(survey, box, [](const Cell& cell) { return cell.brightest_uvi; }));
  std::vector<float> free_share;
  for (std::size_t i = 0; i < static_cast<std::size_t>(box.count[0] * box.count[1] * box.count[2]); ++i)
    free_share.push_back(finite(survey.cells[box.first + i].free_share, "a cell's free share"));
  put_array(cells, "free_share", free_share);
  return vtk_text(document);
}

std::string blocks_file(const Survey& survey) {
  pugi::xml_document document;
  pugi::xml_node blocks = start_vtk(document, "vtkMultiBlockDataSet");
  for (std::size_t i = 0; i < survey.grid.size(); ++i) {
    pugi::xml_node block = blocks.append_child("DataSet");
    block.append_attribute("index") = static_cast<unsigned>(i);
    block.append_attribute("name") = printable(survey.scene.boxes[i].name).c_str();
    block.append_attribute("file") = fmt::format("grid-{}.vti", i + 1).c_str();
  }
  return vtk_text(document);
}

// Points and what is made of them.
class PolyData {
 public:
  explicit PolyData(pugi::xml_document& document)
      : piece_(start_vtk(document, "PolyData").append_child("Piece")) {}

  std::int32_t point(const Vec3& at) {
    for (const double coordinate : at) points_.push_back(finite(coordinate, "a place"));
    return static_cast<std::int32_t>(points_.size() / 3) - 1;
  }

  struct Elements {
    std::vector<std::int32_t> corners, ends;
    void add(const std::vector<std::int32_t>& of) {
      corners.insert(corners.end(), of.begin(), of.end());
      ends.push_back(static_cast<std::int32_t>(corners.size()));
    }
  };
  Elements verts, lines, polys;

  // Writes what was added; arrays follow at piece().
  void finish() {
    piece_.append_attribute("NumberOfPoints") = static_cast<unsigned long long>(points_.size() / 3);
    piece_.append_attribute("NumberOfVerts") = static_cast<unsigned long long>(verts.ends.size());
    piece_.append_attribute("NumberOfLines") = static_cast<unsigned long long>(lines.ends.size());
    piece_.append_attribute("NumberOfStrips") = 0;
    piece_.append_attribute("NumberOfPolys") = static_cast<unsigned long long>(polys.ends.size());
    put_array(piece_.append_child("Points"), "Points", points_, 3);
    put("Verts", verts);
    put("Lines", lines);
    put("Polys", polys);
  }
  pugi::xml_node piece() { return piece_; }

 private:
  void put(const char* name, const Elements& elements) {
    pugi::xml_node node = piece_.append_child(name);
    put_array(node, "connectivity", elements.corners);
    put_array(node, "offsets", elements.ends);
  }

  pugi::xml_node piece_;
  std::vector<float> points_;
};

std::string readings_file(const Survey& survey) {
  pugi::xml_document document;
  PolyData data(document);
  std::vector<std::string> names;
  std::vector<float> directions;
  for (const Reading& reading : survey.readings) {
    data.verts.add({data.point(reading.at)});
    names.push_back(printable(reading.name));
    for (const double component : reading.direction) directions.push_back(finite(component, reading.name));
  }
  data.finish();
  pugi::xml_node points = data.piece().append_child("PointData");
  points.append_attribute("Scalars") = "uvi";
  points.append_attribute("Vectors") = "direction";
  put_texts(points, "name", names);
  put_array(points, "direction", directions, 3);
  const auto count = static_cast<std::size_t>(survey.has_day ? kQuantities : kInstant);
  for (std::size_t q = 0; q < count; ++q) {
    const QuantityInfo& row = info(static_cast<Quantity>(q));
    std::vector<float> values, errors;
    for (const Reading& reading : survey.readings) {
      const auto found = reading.values.find(row.quantity);
      const bool there = found != reading.values.end();
      values.push_back(there ? finite(found->second.value, reading.name) : kNoValue);
      errors.push_back(there ? finite(found->second.se, reading.name) : kNoValue);
    }
    put_unit(put_array(points, row.name, values), row.unit);
    put_unit(put_array(points, std::string(row.name) + "_se", errors), row.unit);
  }
  return vtk_text(document);
}

std::string scene_file(const Survey& survey) {
  enum Kind : std::int32_t { face, branch, board, model, lamp };
  pugi::xml_document document;
  PolyData data(document);
  // Cells of a file are counted verts first, then lines, then polys.
  struct Labels {
    std::vector<std::int32_t> kinds;
    std::vector<std::string> names;
    void add(Kind kind, const std::string& name) {
      kinds.push_back(kind);
      names.push_back(printable(name));
    }
  } labels;
  const Scene& scene = survey.scene;
  for (const Lamp& one : scene.lamps) {
    data.verts.add({data.point(one.at)});
    labels.add(lamp, one.name);
  }
  for (const Branch& one : scene.branches) {
    std::vector<std::int32_t> path;
    for (const Vec3& at : one.path) path.push_back(data.point(at));
    data.lines.add(path);
    labels.add(branch, one.name);
  }
  const auto add_sheet = [&](const Vec3& corner, const Vec3& u, const Vec3& v) {
    data.polys.add(
        {data.point(corner), data.point(corner + u), data.point(corner + u + v), data.point(corner + v)});
  };
  for (const FacePart& one : outer_faces(scene.boxes)) {
    if (one.material == -1) continue;
    add_sheet(one.corner, one.edge_u, one.edge_v);
    labels.add(
        face, fmt::format("{} {}", scene.boxes[static_cast<std::size_t>(one.box)].name, side_name(one.side)));
  }
  for (const Board& one : scene.boards) {
    add_sheet(one.corner, one.edge_u, one.edge_v);
    labels.add(board, one.name);
  }
  for (const Model& one : scene.models) {
    std::vector<std::int32_t> corners;
    for (const Vec3& at : one.shell->vertices()) corners.push_back(data.point(at));
    for (const Triangle& triangle : one.shell->triangles()) {
      data.polys.add({corners[triangle[0]], corners[triangle[1]], corners[triangle[2]]});
      labels.add(model, one.name);
    }
  }
  data.finish();
  pugi::xml_node cells = data.piece().append_child("CellData");
  put_array(cells, "kind", labels.kinds);
  put_texts(cells, "name", labels.names);
  return vtk_text(document);
}

}  // namespace

std::vector<VtkFile> vtk_files(const Survey& survey) {
  std::vector<VtkFile> files;
  for (std::size_t i = 0; i < survey.grid.size(); ++i)
    files.push_back({fmt::format("grid-{}.vti", i + 1), grid_file(survey, survey.grid[i])});
  if (!survey.grid.empty()) files.push_back({"grid.vtm", blocks_file(survey)});
  files.push_back({"readings.vtp", readings_file(survey)});
  files.push_back({"scene.vtp", scene_file(survey)});
  return files;
}

bool is_vtk_file_name(const std::string& name) {
  return name == "grid.vtm" || (name.starts_with("grid-") && name.ends_with(".vti"));
}

}  // namespace boughlight
