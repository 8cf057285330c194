"""Frost depth by the modified Berggren method, with its correction computed instead of read from a chart."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.frost.front import front_root
from earthfast.frost.stefan import frost_depth_stefan, part_frozen

_MOST_ROUNDS = 60
_CLOSE = 1e-9  # m


@dataclass(frozen=True, slots=True)
class BerggrenFrost:
    """Frost depth in uniform ground, with the numbers of the method.

    Attributes
    ----------
    depth : frost depth, m.
    thermal_ratio : warmth of the ground over cold of the season.
    fusion_parameter : sensible over latent heat.
    correction : depth over Stefan's depth.
    """

    depth: Floats
    thermal_ratio: Floats
    fusion_parameter: Floats
    correction: Floats


@dataclass(frozen=True, slots=True)
class LayeredFrost:
    """Frost depth in a layered column, with what each layer took.

    Attributes
    ----------
    depth : frost depth, m.
    frozen_thickness : part of each layer that freezes, m.
    index_used : surface index spent on each layer, K·s.
    correction : correction down to and including each layer (1 where all is dry so far).
    """

    depth: Floats
    frozen_thickness: Floats
    index_used: Floats
    correction: Floats


def berggren_correction(thermal_ratio: FloatLike, fusion_parameter: FloatLike) -> Floats:
    """Ratio of frost depth to Stefan's depth in the modified Berggren method.

    Parameters
    ----------
    thermal_ratio : array-like
        Mean annual temperature above freezing over the mean frost of the season. [-]
    fusion_parameter : array-like
        Heat capacity times that frost over latent heat. [-]

    Returns
    -------
    correction : ndarray
        lambda, at most 1. [-]

    Notes
    -----
    lambda = y sqrt(2/mu), with y the root of exp(-y²)/erf(y) - alpha exp(-y²)/erfc(y) = y sqrt(pi)/mu;
    alpha the thermal ratio and mu the fusion parameter. This is the exact two-phase solution with equal
    frozen and unfrozen properties, which the manual's chart draws; no chart reading is needed.

    References
    ----------
    aldrich_paynter_1953, chart of the correction coefficient [M]
    definition, exact solution for equal properties [C]
    """
    alpha, mu = np.broadcast_arrays(np.asarray(thermal_ratio, float), np.asarray(fusion_parameter, float))
    wet = mu > 0.0
    safe = np.where(wet & np.isfinite(mu), mu, 1.0)
    return np.asarray(np.where(wet, front_root(alpha, 1.0, 1.0 / safe) * np.sqrt(2.0 / safe), 1.0))


def frost_depth_berggren(
    surface_freezing_index: FloatLike,
    season_length: FloatLike,
    mean_annual_temperature: FloatLike,
    conductivity: FloatLike,
    heat_capacity: FloatLike,
    volumetric_latent_heat: FloatLike,
) -> BerggrenFrost:
    """Frost depth in uniform ground by the modified Berggren method.

    Parameters
    ----------
    surface_freezing_index : array-like
        Air freezing index times the n-factor. [K·s]
    season_length : array-like
        Length of the freezing season. [s]
    mean_annual_temperature : array-like
        Mean annual temperature, above 0. [°C]
    conductivity : array-like
        Mean of frozen and unfrozen conductivity. [W/(m·K)]
    heat_capacity : array-like
        Mean of frozen and unfrozen volumetric heat capacity. [J/(m³·K)]
    volumetric_latent_heat : array-like
        Latent heat of the ground's water. [J/m³]

    Returns
    -------
    frost : BerggrenFrost
        Depth and the numbers of the method. [-]

    Notes
    -----
    X = lambda sqrt(2 k nF/L); v_s = nF/season, alpha = v_0/v_s, mu = C v_s/L with v_0 the mean annual
    temperature above 0 °C; lambda from `berggren_correction`. A step of temperature stands for the
    winter, so depths came out 4 to 17 % below a full heat-flow solution with sine winters: read it within
    20 %.

    References
    ----------
    ufc_3_130_06, method [M]
    ufc_3_130_04, isolated footing example, formula and definitions [S]
    """
    index = np.asarray(surface_freezing_index, float)
    frost = np.where(index > 0.0, index, 1.0) / np.where(index > 0.0, season_length, 1.0)
    alpha = np.maximum(np.asarray(mean_annual_temperature, float), 0.0) / frost
    mu = np.asarray(heat_capacity, float) * frost / volumetric_latent_heat
    correction = berggren_correction(alpha, mu)
    depth = correction * frost_depth_stefan(np.maximum(index, 0.0), conductivity, volumetric_latent_heat)
    return BerggrenFrost(np.asarray(depth), np.asarray(alpha), np.asarray(mu), correction)


def frost_depth_berggren_layered(
    surface_freezing_index: FloatLike,
    season_length: FloatLike,
    mean_annual_temperature: FloatLike,
    thickness: Floats,
    conductivity: Floats,
    heat_capacity: Floats,
    volumetric_latent_heat: Floats,
) -> LayeredFrost:
    """Frost depth in a layered column by the modified Berggren method.

    Parameters
    ----------
    surface_freezing_index : array-like
        Air freezing index times the n-factor. [K·s]
    season_length : array-like
        Length of the freezing season. [s]
    mean_annual_temperature : array-like
        Mean annual temperature, above 0. [°C]
    thickness : ndarray
        Layer thicknesses, top down along the last axis; the last layer goes on for ever. [m]
    conductivity : ndarray
        Mean of frozen and unfrozen conductivity of each layer. [W/(m·K)]
    heat_capacity : ndarray
        Mean volumetric heat capacity of each layer. [J/(m³·K)]
    volumetric_latent_heat : ndarray
        Latent heat of each layer, 0 for dry ones but not in the last. [J/m³]

    Returns
    -------
    frost : LayeredFrost
        Depth, and what each layer took. [-]

    Notes
    -----
    Top down, for layer j: L_bar and C_bar are thickness-weighted means down to and including j; mu = v_s
    C_bar/L_bar, lambda = lambda(alpha, mu), index used = L_j d_j (sum of R above + R_j/2)/lambda². In the
    layer where the index runs out the part thickness is solved for, its means changing with it. Dry
    layers use no index but add resistance. Leading axes broadcast: draws and ways at once.

    References
    ----------
    ufc_3_130_06, multilayer procedure [M]
    definition, arithmetic of the procedure [C]
    """
    columns = np.broadcast_arrays(thickness, conductivity, heat_capacity, volumetric_latent_heat)
    index, season = np.asarray(surface_freezing_index, float), np.asarray(season_length, float)
    warm = np.maximum(np.asarray(mean_annual_temperature, float), 0.0)
    shape = np.broadcast_shapes(index.shape, season.shape, warm.shape, columns[0].shape[:-1])
    index = np.broadcast_to(index, shape)
    frost = np.where(index > 0.0, index, 1.0) / np.where(index > 0.0, season, 1.0)
    d, k, c, latent = (np.broadcast_to(column, (*shape, column.shape[-1])) for column in columns)
    none = np.zeros(shape)
    above = _Above(none, none, none, index, warm / frost, frost)
    parts, used, corrections = [], [], []
    for j in range(d.shape[-1]):
        layer = _Layer(d[..., j], k[..., j], c[..., j], latent[..., j])
        last = j == d.shape[-1] - 1
        part, correction = above.freeze(layer, bottomless=last)
        spent = layer.latent * part * (above.resistance + 0.5 * part / layer.conductivity) / correction**2
        parts.append(part)
        used.append(spent)
        corrections.append(correction)
        above = above.below(layer, spent, part)
    frozen = np.stack(parts, axis=-1)
    return LayeredFrost(frozen.sum(axis=-1), frozen, np.stack(used, axis=-1), np.stack(corrections, axis=-1))


@dataclass(frozen=True, slots=True)
class _Layer:
    thickness: Floats
    conductivity: Floats
    capacity: Floats
    latent: Floats


@dataclass(frozen=True, slots=True)
class _Above:
    """Sums over the layers above, and the index still to spend."""

    resistance: Floats
    capacity: Floats
    latent: Floats
    index_left: Floats
    thermal_ratio: Floats
    frost: Floats

    def correction_with(self, layer: _Layer, part: Floats) -> Floats:
        stored = self.capacity + layer.capacity * part
        fused = self.latent + layer.latent * part
        mu = np.divide(self.frost * stored, fused, out=np.zeros_like(stored), where=fused > 0.0)
        return berggren_correction(self.thermal_ratio, mu)

    def freeze(self, layer: _Layer, *, bottomless: bool) -> tuple[Floats, Floats]:
        """Part of a layer that freezes, and the correction that goes with it."""
        full = np.zeros_like(self.frost) if bottomless else layer.thickness
        correction = self.correction_with(layer, full)
        index = layer.latent * full * (self.resistance + 0.5 * full / layer.conductivity) / correction**2
        runs_out = (index >= self.index_left) | bottomless
        part = np.where(self.index_left > 0.0, full, 0.0)
        if not (runs_out & (self.index_left > 0.0)).any():
            return part, correction
        some = self._runs_out_at(layer, full)
        part = np.where(runs_out & (self.index_left > 0.0), some, part)
        return part, np.where(runs_out, self.correction_with(layer, part), correction)

    def _runs_out_at(self, layer: _Layer, full: Floats) -> Floats:
        """Part thickness by fixed point: the correction changes slowly with it."""
        wet = layer.latent > 0.0
        safe = np.where(wet, layer.latent, 1.0)
        correction = np.ones_like(self.frost)
        part = np.where(wet, 0.0, full)
        for _ in range(_MOST_ROUNDS):
            index = self.index_left * correction**2
            moved = np.where(wet, part_frozen(index, self.resistance, layer.conductivity, safe), full)
            settled = bool(np.all(np.abs(moved - part) <= _CLOSE))
            part = moved
            if settled:
                break
            correction = self.correction_with(layer, part)
        return np.asarray(part)

    def below(self, layer: _Layer, spent: Floats, part: Floats) -> _Above:
        """The sums once this layer too lies above; nothing is left where it froze only in part."""
        through = part >= layer.thickness
        return _Above(
            self.resistance + layer.thickness / layer.conductivity,
            self.capacity + layer.capacity * layer.thickness,
            self.latent + layer.latent * layer.thickness,
            np.where(through, np.maximum(self.index_left - spent, 0.0), 0.0),
            self.thermal_ratio,
            self.frost,
        )
