"""Cells of a layered column: fine where it may freeze, coarse below, faces on the layer boundaries."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Floats
from earthfast.frost.thermal import ThermalProperties
from earthfast.frost.unfrozen_water import CellCurve, FreezingCurve, cell_curve


@dataclass(frozen=True, slots=True)
class LayeredColumns:
    """Columns of layered ground, side by side.

    Attributes
    ----------
    thickness : layer thicknesses, shape (columns, layers), top down, m; the last layer goes on for ever.
    properties : thermal properties of the layers, each of that shape or broadcast to it.
    curve : how their water freezes, the same way; all of it at 0 °C if None.
    """

    thickness: Floats
    properties: ThermalProperties
    curve: FreezingCurve | None = None

    def __post_init__(self) -> None:
        if np.ndim(self.thickness) != 2:
            raise ValueError("layered columns have a thickness of shape (columns, layers)")

    def layer_values(self, name: str) -> Floats:
        """One thermal property as an array of shape (columns, layers)."""
        return np.broadcast_to(np.asarray(getattr(self.properties, name), float), self.thickness.shape)

    def part(self, columns: slice) -> LayeredColumns:
        """Some of the columns."""
        names = ThermalProperties.__dataclass_fields__
        values = {name: self.layer_values(name)[columns] for name in names}
        curve = self.curve.part(columns, self.thickness.shape) if self.curve else None
        return LayeredColumns(self.thickness[columns], ThermalProperties(**values), curve)


@dataclass(frozen=True, slots=True)
class GridFineness:
    """How finely a column is cut.

    Attributes
    ----------
    freezing_cells : equal cells down to the reach of frost.
    deep_cells : growing cells from there to the bottom, which never freeze.
    depth_below : distance from the reach of frost to the bottom, where no heat flows, m.
    """

    freezing_cells: int = 14
    deep_cells: int = 6
    depth_below: float = 8.0


@dataclass(frozen=True, slots=True)
class ColumnGrid:
    """Cells of the columns, arrays of shape (cells, columns); the first `freezing_cells` may freeze.

    Attributes
    ----------
    edges : cell faces, shape (cells + 1, columns), m.
    frozen_capacity, unfrozen_capacity, latent : per area of the cell, J/(m²·K) and J/m².
    frozen_resistance, unfrozen_resistance : of half a cell, m²·K/W.
    frozen_conductivity : mean over the cell, W/(m·K).
    layer_share : share of each cell in each layer, shape (layers, cells, columns).
    freezing_cells : number of cells that may freeze.
    curve : how those freeze where some of their water stays liquid; None where all freezes at 0 °C.
    """

    edges: Floats
    frozen_capacity: Floats
    unfrozen_capacity: Floats
    latent: Floats
    frozen_resistance: Floats
    unfrozen_resistance: Floats
    frozen_conductivity: Floats
    layer_share: Floats
    freezing_cells: int
    curve: CellCurve | None = None

    @property
    def centres(self) -> Floats:
        """Cell centres, m."""
        return np.asarray(0.5 * (self.edges[1:] + self.edges[:-1]))


def column_grid(columns: LayeredColumns, reach: Floats, fineness: GridFineness) -> ColumnGrid:
    """Cut columns into cells down to the reach of frost and below."""
    interfaces = np.cumsum(columns.thickness, axis=-1)[:, :-1].T
    edges = _snapped(_plain_edges(reach, fineness), interfaces, fineness.freezing_cells)
    bottom = np.full((1, edges.shape[1]), np.inf)
    top = np.zeros((1, edges.shape[1]))
    above, below = np.concatenate([top, interfaces]), np.concatenate([interfaces, bottom])
    shares = np.minimum(edges[None, 1:], below[:, None]) - np.maximum(edges[None, :-1], above[:, None])
    overlap = np.maximum(shares, 0.0)  # layers, cells, columns; m

    def summed(values: Floats) -> Floats:
        return np.asarray(np.einsum("lcp,pl->cp", overlap, values))

    frozen = columns.layer_values("frozen_conductivity")
    frozen_resistance = 0.5 * summed(1.0 / frozen)
    thickness = np.diff(edges, axis=0)
    return ColumnGrid(
        edges=edges,
        frozen_capacity=summed(columns.layer_values("frozen_capacity")),
        unfrozen_capacity=summed(columns.layer_values("unfrozen_capacity")),
        latent=summed(columns.layer_values("latent_heat")),
        frozen_resistance=frozen_resistance,
        unfrozen_resistance=0.5 * summed(1.0 / columns.layer_values("unfrozen_conductivity")),
        frozen_conductivity=0.5 * thickness / frozen_resistance,
        layer_share=np.asarray(overlap / thickness),
        freezing_cells=fineness.freezing_cells,
        curve=_curve(columns, overlap[:, : fineness.freezing_cells]),
    )


def _curve(columns: LayeredColumns, overlap: Floats) -> CellCurve | None:
    if columns.curve is None:
        return None
    names = ("latent_heat", "frozen_capacity", "unfrozen_capacity")
    return cell_curve(overlap, columns.curve, *(columns.layer_values(name) for name in names))


def _plain_edges(reach: Floats, fineness: GridFineness) -> Floats:
    upper = np.linspace(0.0, 1.0, fineness.freezing_cells + 1)[:, None] * reach
    first = reach / fineness.freezing_cells
    growth = _growth(fineness.depth_below / first, fineness.deep_cells)
    steps = first * growth ** np.arange(1, fineness.deep_cells + 1)[:, None]
    lower = np.cumsum(steps, axis=0)
    lower *= fineness.depth_below / lower[-1]
    return np.concatenate([upper, reach + lower])


def _growth(span: Floats, cells: int) -> Floats:
    """Ratio between neighbouring cells whose sum over the cells is about the span, in first cells."""
    low, high = np.ones_like(span), np.maximum(span ** (1.0 / cells), 1.0)
    powers = np.arange(1, cells + 1)[:, None]
    for _ in range(40):
        middle = 0.5 * (low + high)
        longer = (middle**powers).sum(axis=0) > span
        low, high = np.where(longer, low, middle), np.where(longer, middle, high)
    return np.asarray(0.5 * (low + high))


def _snapped(edges: Floats, interfaces: Floats, freezing_cells: int) -> Floats:
    """Move the nearest free face onto each layer boundary, where one is near enough."""
    snapped = edges.copy()
    columns = np.arange(edges.shape[1])
    taken = np.zeros(edges.shape, bool)
    taken[[0, freezing_cells, -1]] = True
    for boundary in interfaces:
        nearest = np.argmin(np.where(taken, np.inf, np.abs(edges - boundary)), axis=0)
        above, below = snapped[nearest - 1, columns], snapped[nearest + 1, columns]
        sliver = 0.25 * (below - above) / 2.0
        move = (boundary > above + sliver) & (boundary < below - sliver)
        snapped[nearest[move], columns[move]] = boundary[move]
        taken[nearest[move], columns[move]] = True
    return snapped
