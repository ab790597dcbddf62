"""The files for ParaView, opened by VTK itself (python3-vtk9): every value is where the CSV files have it.

Run by CTest with BOUGHLIGHT_PROGRAM and BOUGHLIGHT_SOURCE set.
"""

import csv
import math
import os
import pathlib
import subprocess
import tempfile
import unittest

from vtkmodules.vtkCommonCore import vtkOutputWindow, vtkStringOutputWindow
from vtkmodules.vtkIOXML import vtkXMLImageDataReader, vtkXMLMultiBlockDataReader, vtkXMLPolyDataReader

PROGRAM = os.environ["BOUGHLIGHT_PROGRAM"]
SOURCE = pathlib.Path(os.environ["BOUGHLIGHT_SOURCE"])


def rows(file):
    with file.open(newline="") as stream:
        return list(csv.DictReader(stream))


def number(text):
    return float(text) if text else math.nan


class Vtk(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.complaints = vtkStringOutputWindow()
        vtkOutputWindow.SetInstance(cls.complaints)
        folder = tempfile.TemporaryDirectory()
        cls.addClassCleanup(folder.cleanup)
        cls.results = pathlib.Path(folder.name) / "results"
        scene = SOURCE / "scenes" / "fern-tower.yaml"
        run = subprocess.run([PROGRAM, "survey", str(scene), "-o", str(cls.results), "--quiet", "--spacing", "15cm",
                              "--tolerance", "30%"], capture_output=True, text=True)
        assert run.returncode <= 1, run.stderr

    def read(self, reader, name):
        reader.SetFileName(str(self.results / "vtk" / name))
        reader.Update()
        self.assertEqual(self.complaints.GetOutput(), "", name)
        return reader.GetOutput()

    def expect_same(self, actual, text, what):
        """6 digits in the CSV file, single precision in VTK's."""
        expected = number(text)
        if math.isnan(expected):
            self.assertTrue(math.isnan(actual), what)
        else:
            self.assertAlmostEqual(actual, expected, delta=1e-6 + 1e-5 * abs(expected), msg=what)

    def expect_cells(self, image, cells):
        self.assertEqual(image.GetNumberOfCells(), len(cells))
        names = [name for name in cells[0] if name not in ("x_m", "y_m", "z_m", "box")]
        self.assertEqual(image.GetCellData().GetNumberOfArrays(), len(names))
        for i, cell in enumerate(cells):
            low_x, high_x, low_y, high_y, low_z, high_z = image.GetCell(i).GetBounds()
            for middle, name in (((low_x + high_x) / 2, "x_m"), ((low_y + high_y) / 2, "y_m"), ((low_z + high_z) / 2, "z_m")):
                self.expect_same(middle, cell[name], name)
            for name in names:
                self.expect_same(image.GetCellData().GetArray(name).GetValue(i), cell[name], f"{name} of cell {i}")

    def test_every_cell_of_the_grid_is_where_it_belongs(self):
        cells = rows(self.results / "grid.csv")
        boxes = list(dict.fromkeys(cell["box"] for cell in cells))
        blocks = self.read(vtkXMLMultiBlockDataReader(), "grid.vtm")
        self.assertEqual(blocks.GetNumberOfBlocks(), len(boxes))
        for i, box in enumerate(boxes):
            own = [cell for cell in cells if cell["box"] == box]
            self.expect_cells(self.read(vtkXMLImageDataReader(), f"grid-{i + 1}.vti"), own)
            self.expect_cells(blocks.GetBlock(i), own)
            self.assertEqual(blocks.GetMetaData(i).Get(blocks.NAME()), box)

    def test_every_reading_is_a_point_with_its_values(self):
        points = self.read(vtkXMLPolyDataReader(), "readings.vtp")
        data = points.GetPointData()
        names = [data.GetAbstractArray("name").GetValue(i) for i in range(points.GetNumberOfPoints())]
        found = 0
        for row in rows(self.results / "readings.csv"):
            if row["kind"] not in ("perch", "plant", "point"):
                continue
            i = names.index(row["name"])
            for axis, coordinate in enumerate(points.GetPoint(i)):
                self.expect_same(coordinate, row[("x_m", "y_m", "z_m")[axis]], row["name"])
            self.expect_same(data.GetArray(row["quantity"]).GetValue(i), row["value"], row["quantity"])
            self.expect_same(data.GetArray(row["quantity"] + "_se").GetValue(i), row["se"], row["quantity"])
            found += 1
        self.assertGreater(found, 20)

    def test_every_thing_of_the_scene_is_a_cell_with_its_name(self):
        scene = self.read(vtkXMLPolyDataReader(), "scene.vtp")
        data = scene.GetCellData()
        things = {(int(data.GetArray("kind").GetValue(i)), data.GetAbstractArray("name").GetValue(i)): scene.GetCell(i)
                  for i in range(scene.GetNumberOfCells())}
        for kind in (0, 1, 4):
            self.assertTrue([name for one, name in things if one == kind], kind)
        for (kind, name), cell in things.items():
            self.assertEqual(cell.GetCellDimension(), {0: 2, 1: 1, 2: 2, 3: 2, 4: 0}[kind], name)


if __name__ == "__main__":
    unittest.main()
