"""Printed sheets, drawings and charts."""

from earthfast.sheets.calculation_contents import CalculationCheck
from earthfast.sheets.chances import chance_strip
from earthfast.sheets.charts import WayMark, chart_svg, price_carbon_chart, way_marks
from earthfast.sheets.drawing import Anchor, Band, Drawing, Extent, Label, Place, Stroke
from earthfast.sheets.hatching import Hatch, SoilHatch, Tile, hatch_tile, soil_hatch
from earthfast.sheets.ink import Box, Ink, Paper
from earthfast.sheets.plan import BagGrid, bag_grid, plan
from earthfast.sheets.press import SheetError, SheetFormat, require_ending
from earthfast.sheets.section import section, small_sections
from earthfast.sheets.sheets import write_build_sheet, write_calculation_sheet, write_comparison_sheet
from earthfast.sheets.strip_log import strip_log

__all__ = [
    "Anchor",
    "BagGrid",
    "Band",
    "Box",
    "CalculationCheck",
    "Drawing",
    "Extent",
    "Hatch",
    "Ink",
    "Label",
    "Paper",
    "Place",
    "SheetError",
    "SheetFormat",
    "SoilHatch",
    "Stroke",
    "Tile",
    "WayMark",
    "bag_grid",
    "chance_strip",
    "chart_svg",
    "hatch_tile",
    "plan",
    "price_carbon_chart",
    "require_ending",
    "section",
    "small_sections",
    "soil_hatch",
    "strip_log",
    "way_marks",
    "write_build_sheet",
    "write_calculation_sheet",
    "write_comparison_sheet",
]
