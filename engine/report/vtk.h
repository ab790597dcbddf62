// Results as files of the Visualization Toolkit (VTK), for ParaView and others: XML as its file formats
// document them (https://docs.vtk.org/en/latest/design_documents/VTKFileFormats.html). Lengths in metres;
// each array is named as the quantity and carries its unit.
#pragma once

#include <string>
#include <vector>

#include "assess/results.h"

namespace boughlight {

struct VtkFile {
  std::string name;  // "grid-1.vti"
  std::string bytes;
};

// grid-1.vti, ...: ImageData, one a box from the floor up, with every quantity facing up, its standard error
// (_se), the greatest UV index of 26 directions (uvi_brightest) and the free share of each cell; NaN where a
// cell has no free volume. grid.vtm: all of them together. readings.vtp: PolyData, a point a reading with its
// name, the direction of its sensor and its values, NaN where there is none. scene.vtp: PolyData, the
// enclosure's faces, branches (as lines), boards, models and lamps (as points), told apart by `kind` (0 face,
// 1 branch, 2 board, 3 model, 4 lamp) and `name`. All throw std::runtime_error where a value that must be
// finite is not.
std::vector<VtkFile> vtk_files(const Survey& survey);
// Whether a file of this name is one that an earlier survey may have left.
bool is_vtk_file_name(const std::string& name);

}  // namespace boughlight
