"""Volumes of ground: cut and fill apart, grids of depths, heaps; and what digging does to a volume."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from earthfast.estimate import FloatLike, Floats
from earthfast.works.levels import LevelPlane
from earthfast.works.plan import Plan, shape_of


@dataclass(frozen=True, slots=True)
class CutAndFill:
    """Volumes to dig and to fill, m³, never netted: what is dug may not be fit to fill with."""

    cut: float
    fill: float


def cut_and_fill(plan: Plan, dig: LevelPlane) -> CutAndFill:
    """Cut and fill inside an outline where the dig depth is a plane.

    Parameters
    ----------
    plan : Plan
        Outline of the dig. [m]
    dig : LevelPlane
        Depth from the ground now down to formation; negative is fill. [m]

    Returns
    -------
    volumes : CutAndFill
        Cut and fill, both counted positive. [m³]

    Notes
    -----
    The volume under a plane is area times depth at the centroid; the outline is cut along the line where the
    depth is nought, so that the two sides are counted apart. Sides of the dig are upright.

    References
    ----------
    definition, volume of a truncated prism [C]
    """
    shape = shape_of(plan)
    rise = float(np.hypot(dig.rise_x, dig.rise_y))
    if rise < 1e-12:
        volume = shape.area * dig.at_origin
        return CutAndFill(max(volume, 0.0), max(-volume, 0.0))
    total = _under_plane(shape, dig)
    cut = _under_plane(shape.intersection(_side_of_cut(shape, dig, rise)), dig)
    return CutAndFill(cut, cut - total)


def _under_plane(shape: BaseGeometry, dig: LevelPlane) -> float:
    return shape.area * float(dig.at(shape.centroid.x, shape.centroid.y)) if shape.area else 0.0


def _side_of_cut(shape: Polygon, dig: LevelPlane, rise: float) -> Polygon:
    """A square large enough to hold the part of the shape where the dig is positive."""
    centre = np.array([shape.centroid.x, shape.centroid.y])
    steepest = np.array([dig.rise_x, dig.rise_y]) / rise
    along = np.array([-steepest[1], steepest[0]])
    on_line = centre - steepest * float(dig.at(*centre)) / rise
    reach = 2.0 * (shape.length + float(np.hypot(*(on_line - centre))))
    start, end = on_line - reach * along, on_line + reach * along
    return Polygon([start, end, end + reach * steepest, start + reach * steepest])


def grid_volume(cell_length: float, cell_width: float, depths: Floats) -> float:
    """Volume of a dig from depths on a grid, cut and fill netted.

    Parameters
    ----------
    cell_length : float
        Spacing between columns. [m]
    cell_width : float
        Spacing between rows. [m]
    depths : array
        Depths, one row of the grid a row; two rows and two columns at least. [m]

    Returns
    -------
    volume : float
        Volume dug. [m³]

    Notes
    -----
    V = A/4 (S₁ + 2 S₂ + 3 S₃ + 4 S₄) with Sₖ the sum of depths at points that k cells share, and
    A = cell_length × cell_width. A full grid has no S₃. See grid_cut_and_fill where depths change sign.

    References
    ----------
    surveying_lecture_notes, borrow-pit method [S]
    """
    corners = depths[:-1, :-1] + depths[:-1, 1:] + depths[1:, :-1] + depths[1:, 1:]
    return float(cell_length * cell_width * corners.sum() / 4.0)


def grid_cut_and_fill(cell_length: float, cell_width: float, depths: Floats) -> CutAndFill:
    """Cut and fill from depths on a grid, split inside the cells where the depth changes sign.

    Parameters
    ----------
    cell_length : float
        Spacing between columns. [m]
    cell_width : float
        Spacing between rows. [m]
    depths : array
        Depths, negative where the ground lies too low; one row of the grid a row. [m]

    Returns
    -------
    volumes : CutAndFill
        Cut and fill, both counted positive. [m³]

    Notes
    -----
    Each cell is four triangles about its middle, whose depth is the mean of the corners, so cut − fill is
    grid_volume. A triangle with one positive corner h₊ and two negative ones h₁, h₂ holds
    V₊ = A h₊³ / (3 (h₊ − h₁)(h₊ − h₂)).

    References
    ----------
    definition, positive part of a linear function on a triangle [C]
    """
    around = np.stack([depths[:-1, :-1], depths[:-1, 1:], depths[1:, 1:], depths[1:, :-1]])
    middle = np.broadcast_to(around.mean(axis=0), around.shape)
    triangles = np.stack([around, np.roll(around, -1, axis=0), middle])
    area = cell_length * cell_width / 4.0
    cut = float(area * _positive_part(triangles).sum())
    return CutAndFill(cut, cut - float(area * triangles.mean(axis=0).sum()))


def _positive_part(corners: Floats) -> Floats:
    """Mean over a triangle of the positive part of the plane through its three corner values."""
    low, mid, high = np.sort(corners, axis=0)
    mean = (low + mid + high) / 3.0
    one_above = np.maximum(high, 0.0) ** 3 / (3.0 * _nonzero((high - low) * (high - mid)))
    one_below = mean - np.minimum(low, 0.0) ** 3 / (3.0 * _nonzero((low - mid) * (low - high)))
    return np.select([low >= 0.0, high <= 0.0, mid <= 0.0], [mean, np.zeros_like(mean), one_above], one_below)


def _nonzero(product: Floats) -> Floats:
    return np.where(product == 0.0, 1.0, product)


def prismoid_volume(first_area: float, middle_area: float, last_area: float, length: float) -> float:
    """Volume of a heap or cutting that tapers, from its ends and its middle.

    Parameters
    ----------
    first_area : float
        Area of one end. [m²]
    middle_area : float
        Area half way. [m²]
    last_area : float
        Area of the other end. [m²]
    length : float
        Distance between the ends. [m]

    Returns
    -------
    volume : float
        Volume. [m³]

    Notes
    -----
    V = L/6 (A₁ + 4 Aₘ + A₂). Exact for prismoids; the mean of the ends times the length overstates a taper.

    References
    ----------
    definition, prismoidal rule [C]
    """
    return length / 6.0 * (first_area + 4.0 * middle_area + last_area)


def mean_end_volume(first_area: float, last_area: float, length: float) -> float:
    """Volume by the mean of two end areas.

    Parameters
    ----------
    first_area : float
        Area of one end. [m²]
    last_area : float
        Area of the other end. [m²]
    length : float
        Distance between the ends. [m]

    Returns
    -------
    volume : float
        Volume, too large where the shape tapers both ways. [m³]

    Notes
    -----
    V = L (A₁ + A₂) / 2.

    References
    ----------
    definition, mean end areas [C]
    """
    return length * (first_area + last_area) / 2.0


@dataclass(frozen=True, slots=True)
class VolumeFactors:
    """How one soil changes volume, from its density in the bank, loose and compacted.

    Attributes
    ----------
    swell : loose volume over bank volume, less 1.
    shrinkage : loss of volume from bank to compacted, as a fraction of the bank volume.
    load_factor : bank volume over loose volume.
    shrinkage_ratio : compacted volume over bank volume; some books call this 'shrinkage'.
    """

    swell: float
    shrinkage: float
    load_factor: float
    shrinkage_ratio: float


def volume_factors(bank_density: float, loose_density: float, compacted_density: float) -> VolumeFactors:
    """Swell and shrinkage of a soil from three weighings.

    Parameters
    ----------
    bank_density : float
        Dry mass per volume in the ground. [kg/m³]
    loose_density : float
        Dry mass per volume in the heap. [kg/m³]
    compacted_density : float
        Dry mass per volume in the fill. [kg/m³]

    Returns
    -------
    factors : VolumeFactors
        Swell, shrinkage, load factor and shrinkage ratio. [-]

    Notes
    -----
    Mass is conserved: swell = ρ_b/ρ_l − 1, shrinkage = 1 − ρ_b/ρ_c, load factor = ρ_l/ρ_b. 'Shrinkage' has
    three meanings in print; only densities say which.

    References
    ----------
    definition, conservation of mass [C]
    """
    ratio = bank_density / compacted_density
    return VolumeFactors(bank_density / loose_density - 1.0, 1.0 - ratio, loose_density / bank_density, ratio)


def loose_volume(bank_volume: FloatLike, swell: FloatLike) -> FloatLike:
    """Volume in the heap of soil measured in the ground.

    Parameters
    ----------
    bank_volume : float or array
        Volume in the ground. [m³]
    swell : float or array
        Gain of volume on digging, as a fraction. [-]

    Returns
    -------
    volume : float or array
        Volume in heap, skip or lorry. [m³]

    Notes
    -----
    V_l = V_b (1 + s). Mass goes with bank volume and bank density, containers with loose volume.

    References
    ----------
    construction_methods_handbook, table 4-1 [S]
    """
    return bank_volume * (1.0 + swell)


def bank_volume_for_fill(compacted_volume: FloatLike, shrinkage_ratio: FloatLike) -> FloatLike:
    """Volume to dig for a volume of compacted fill.

    Parameters
    ----------
    compacted_volume : float or array
        Volume of the finished fill. [m³]
    shrinkage_ratio : float or array
        Compacted over bank volume; 0.95 is a loss of 5 %, not of 95 %. [-]

    Returns
    -------
    volume : float or array
        Volume in the ground. [m³]

    Notes
    -----
    V_b = V_c / r.

    References
    ----------
    building_estimating_textbook, example 9-3 [S]
    """
    return compacted_volume / shrinkage_ratio


def natural_depth_to_till(
    finished_depth: FloatLike,
    finished_dry_density: FloatLike,
    natural_dry_density: FloatLike,
    dose: FloatLike,
) -> FloatLike:
    """Depth of natural ground that becomes a treated layer of a finished depth.

    Parameters
    ----------
    finished_depth : float or array
        Compacted thickness wanted. [m]
    finished_dry_density : float or array
        Dry density of the finished layer, binder counted. [kg/m³]
    natural_dry_density : float or array
        Dry density of the ground as found. [kg/m³]
    dose : float or array
        Binder over dry soil mass. [-]

    Returns
    -------
    depth : float or array
        Depth to till. [m]

    Notes
    -----
    Soil mass per area is conserved: d = h ρ_f / ((1 + c) ρ_n), with h, ρ_f, ρ_n, c in the order of the
    arguments. Ground looser than the layer drops by d − h; denser ground rises.

    References
    ----------
    definition, conservation of soil mass [C]
    """
    return finished_depth * finished_dry_density / ((1.0 + dose) * natural_dry_density)
