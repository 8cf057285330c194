"""Water that stays liquid below 0 °C: how much, and what heat a cell of such ground holds at a temperature."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats

# K below 0 °C between which a cell's curve is straight: closest where water freezes fastest
KNOTS = np.array(
    [
        0.0,
        0.02,
        0.05,
        0.1,
        0.15,
        0.2,
        0.25,
        0.3,
        0.4,
        0.5,
        0.65,
        0.8,
        1.0,
        1.3,
        1.7,
        2.3,
        3.2,
        4.5,
        7.0,
        11.0,
        20.0,
        40.0,
    ]
)
SQUARE_METRE_A_GRAM = 1000.0  # m²/kg


@dataclass(frozen=True, slots=True)
class FreezingCurve:
    """How the water of layers freezes, each of shape (columns, layers) or broadcast to it.

    Attributes
    ----------
    depression : K below 0 °C at which ice first forms; 0 where all of the water freezes at 0 °C.
    exponent : power with which the liquid share falls with the cold below that.
    """

    depression: FloatLike
    exponent: FloatLike

    def part(self, columns: slice, shape: tuple[int, ...]) -> FreezingCurve:
        """The curve of some of so many columns and layers."""
        return FreezingCurve(*(np.broadcast_to(v, shape)[columns] for v in (self.depression, self.exponent)))


def unfrozen_share(temperature: FloatLike, curve: FreezingCurve) -> Floats:
    """Share of the water of a soil that is liquid.

    Parameters
    ----------
    temperature : array-like
        Of the soil. [°C]
    curve : FreezingCurve
        How its water freezes. [-]

    Returns
    -------
    share : array-like
        1 where nothing is frozen. [-]

    Notes
    -----
    min(1, (θ₀/θ)^b): θ the cold below 0 °C, θ₀ and b depression and exponent of the curve. Where the depression is 0 everything
    freezes at 0 °C.

    References
    ----------
    anderson_tice_1972, form of the relation [M]
    """
    cold = np.maximum(-np.asarray(temperature, float), 0.0)
    depression = np.asarray(curve.depression, float)
    ratio = np.divide(
        depression, cold, out=np.ones(np.broadcast_shapes(depression.shape, cold.shape)), where=cold > 0.0
    )
    return np.asarray(np.minimum(ratio, 1.0) ** np.asarray(curve.exponent))


def freezing_curve_by_surface(specific_surface: FloatLike, water_content: FloatLike) -> FreezingCurve:
    """How the water of a soil freezes, from the surface of its grains.

    Parameters
    ----------
    specific_surface : array-like
        Surface of the grains. [m²/kg]
    water_content : array-like
        Of dry mass. [-]

    Returns
    -------
    curve : FreezingCurve
        Depression and exponent. [-]

    Notes
    -----
    ln w_u = 0.2618 + 0.5519 ln S − 1.449 S^−0.264 ln θ, w_u the liquid water in percent of dry mass, S in m²/g, θ the cold
    in K; the depression is where w_u is all of the water. Silts have 10 to 30, lean clays 30 to 80, fat ones 100 to 300 m²/g.

    References
    ----------
    anderson_tice_1972, regression on eleven soils, and usual surfaces [M]
    """
    surface = np.asarray(specific_surface, float) / SQUARE_METRE_A_GRAM
    at_one_kelvin = np.exp(0.2618 + 0.5519 * np.log(surface))
    exponent = 1.449 * surface**-0.264
    return FreezingCurve(
        (at_one_kelvin / (100.0 * np.asarray(water_content, float))) ** (1.0 / exponent), exponent
    )


@dataclass(frozen=True, slots=True)
class CellCurve:
    """Temperature and liquid water of cells by their enthalpy, in straight pieces, shape (pieces, cells, ...).

    The first piece is thawed; in the second what freezes at 0 °C freezes; the others lie between the knots.

    Attributes
    ----------
    enthalpy, temperature, melted : at the upper end of a piece, the lower one of the first; J/m², °C, J/m².
    slope, melting : of temperature and of melted with enthalpy.
    """

    enthalpy: Floats
    temperature: Floats
    melted: Floats
    slope: Floats
    melting: Floats

    def by_winter(self) -> CellCurve:
        """The same for enthalpies of shape (cells, winters, columns)."""
        return CellCurve(*(getattr(self, name)[:, :, None] for name in self.__dataclass_fields__))

    def take(self, columns: np.typing.NDArray[np.intp]) -> CellCurve:
        """The chosen columns on their own, flat."""
        pieces, cells = self.enthalpy.shape[:2]
        flat = (
            getattr(self, name).reshape(pieces, cells, -1).take(columns, axis=2)
            for name in self.__dataclass_fields__
        )
        return CellCurve(*flat)

    def read(self, enthalpy: Floats) -> tuple[Floats, Floats, Floats]:
        """Temperature, its slope with enthalpy, and melted water (J/m²) at some enthalpies."""
        piece = (enthalpy < self.enthalpy[1:]).sum(axis=0)[None]

        def at(values: Floats) -> Floats:
            shape = np.broadcast_shapes(values.shape[1:], enthalpy.shape)
            return np.asarray(
                np.take_along_axis(np.broadcast_to(values, (len(values), *shape)), piece, axis=0)[0]
            )

        beyond, slope = enthalpy - at(self.enthalpy), at(self.slope)
        return at(self.temperature) + slope * beyond, slope, at(self.melted) + at(self.melting) * beyond

    def enthalpy_of(self, temperature: Floats) -> Floats:
        """Enthalpy at some temperatures, thawed at 0 °C."""
        piece = (temperature[None] < self.temperature[1:]).sum(axis=0)
        base, start, slope = (
            np.take_along_axis(one, piece[None], axis=0)[0]
            for one in (self.enthalpy, self.temperature, self.slope)
        )
        moved = np.divide(temperature - start, slope, out=np.zeros(slope.shape), where=slope > 0.0)
        return np.asarray(base + moved)


def cell_curve(
    overlap: Floats, curve: FreezingCurve, latent: Floats, frozen_capacity: Floats, unfrozen_capacity: Floats
) -> CellCurve:
    """The curve of cells that overlap layers by so much (layers, cells, columns), m; the rest by column and layer."""
    shape = latent.shape
    depression = np.broadcast_to(np.asarray(curve.depression, float), shape)
    share = unfrozen_share(
        -KNOTS[:, None, None], FreezingCurve(depression, np.broadcast_to(curve.exponent, shape))
    )
    share[0] = depression > 0.0  # just below 0 °C
    held = frozen_capacity + (unfrozen_capacity - frozen_capacity) * share

    def summed(values: Floats) -> Floats:
        return np.asarray(np.einsum("lcp,kpl->kcp", overlap, values))

    water, capacity = summed(latent * share), summed(held)
    steps = -np.diff(KNOTS)[:, None, None]
    sensible = np.cumsum(0.5 * (capacity[1:] + capacity[:-1]) * steps, axis=0)
    enthalpy = water + np.concatenate([np.zeros_like(water[:1]), sensible])
    whole = summed(latent[None])
    per_heat = 1.0 / np.diff(enthalpy, axis=0)
    flat, thawed = np.zeros_like(whole), 1.0 / summed(unfrozen_capacity[None])
    return CellCurve(
        enthalpy=np.concatenate([whole, whole, enthalpy]),
        temperature=np.concatenate([flat, flat, np.broadcast_to(-KNOTS[:, None, None], water.shape)]),
        melted=np.concatenate([whole, whole, water]),
        slope=np.concatenate([thawed, flat, steps * per_heat, 1.0 / capacity[-1:]]),
        melting=np.concatenate([flat, flat + 1.0, np.diff(water, axis=0) * per_heat, flat]),
    )
