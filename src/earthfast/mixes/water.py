"""Water: what to add, what rain adds, what quicklime takes away, what the hand says."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from earthfast.estimate import FloatLike
from earthfast.sources.constants import WATER_DENSITY

LIME_IN_HYDRATE = 0.7556  # CaO in pure hydrated lime, by mass. S: lime_field_testing
SLAKING_WATER = 0.32  # water bound per CaO, kg/kg. S: building_materials_lime
CALORIE = 4.184  # J, thermochemical
SLAKING_HEAT = 15.6e3 * CALORIE / 0.05608  # J/kg CaO, from 15.6 kcal/mol. S: building_materials_lime
SOIL_HEAT_CAPACITY = 840.0  # J/(kg·K), dry mineral soil, from memory
WATER_HEAT_CAPACITY = 4190.0  # J/(kg·K), from memory


def water_to_add(
    dry_soil_areal_mass: FloatLike,
    dose: FloatLike,
    field_water: FloatLike,
    target_water: FloatLike,
    allowance: FloatLike,
) -> FloatLike:
    """Water to bring a bay from its field moisture to the moisture wanted for compaction.

    Parameters
    ----------
    dry_soil_areal_mass : array-like
        Dry soil in the layer, by area: dry density times depth. [kg/m²]
    dose : array-like
        Binder as a fraction of dry soil mass. [-]
    field_water : array-like
        Water in the ground as a fraction of dry soil mass. [-]
    target_water : array-like
        Water wanted as a fraction of all dry solids, soil and binder. [-]
    allowance : array-like
        Extra for evaporation and the first hydration, fraction of all dry solids. [-]

    Returns
    -------
    water : array-like
        Water to add by area (a litre is a kilogram); below 0 means the soil is too wet already. [kg/m²]

    Notes
    -----
    W = (wt + a) ms (1 + c) − wf ms, with ms, c, wf, wt and a in the order of the arguments. The allowance
    is 0.005 to 0.015 in the source. Clays are mixed at the optimum or up to 2 points above it, sands at or
    slightly below it (from memory).

    References
    ----------
    definition, mass balance of water [C]
    road_base_guideline, allowance of 0.5 to 1.5 points [S]
    """
    return dry_soil_areal_mass * ((target_water + allowance) * (1.0 + dose) - field_water)


def moisture_rise_from_rain(rain: FloatLike, dry_density: FloatLike, depth: FloatLike) -> FloatLike:
    """Rise in moisture when rain soaks into a tilled bay.

    Parameters
    ----------
    rain : array-like
        Depth of rain. [m]
    dry_density : array-like
        Dry density of the layer. [kg/m³]
    depth : array-like
        Depth of the layer. [m]

    Returns
    -------
    rise : array-like
        Added water as a fraction of dry soil mass. [-]

    Notes
    -----
    Δw = ρw r / (ρ h), with r, ρ and h in the order of the arguments; 1 mm is 1 litre on each m². All of it
    is taken to soak in, the upper bound.

    References
    ----------
    definition, mass balance of water [C]
    """
    return WATER_DENSITY * rain / (dry_density * depth)


def hydrate_equivalent(quicklime_dose: FloatLike) -> FloatLike:
    """Dose of pure hydrated lime that brings the same lime as a dose of quicklime.

    Parameters
    ----------
    quicklime_dose : array-like
        Quicklime as a fraction of dry soil mass. [-]

    Returns
    -------
    hydrate_dose : array-like
        Hydrated lime as a fraction of dry soil mass. [-]

    Notes
    -----
    cH = cQ / 0.7556, the share of CaO in pure hydrate. Trade limes are less pure.

    References
    ----------
    lime_field_testing, available lime in pure hydrate [S]
    """
    return quicklime_dose / LIME_IN_HYDRATE


def slaking_water(quicklime_dose: FloatLike) -> FloatLike:
    """Water that quicklime binds as it slakes.

    Parameters
    ----------
    quicklime_dose : array-like
        Quicklime as a fraction of dry soil mass. [-]

    Returns
    -------
    water : array-like
        Water bound as a fraction of dry soil mass. [-]

    Notes
    -----
    w = 0.32 cQ for pure quicklime. Heat drives off more, see `slaking_heat`; turning the soil in wind and
    sun more still.

    References
    ----------
    building_materials_lime, slaking [S]
    """
    return SLAKING_WATER * quicklime_dose


def slaking_heat(quicklime_dose: FloatLike) -> FloatLike:
    """Heat that quicklime gives off in each kilogram of dry soil.

    Parameters
    ----------
    quicklime_dose : array-like
        Quicklime as a fraction of dry soil mass. [-]

    Returns
    -------
    heat : array-like
        Heat by mass of dry soil. [J/kg]

    Notes
    -----
    Q = ΔH cQ, with ΔH = 15.6 kcal/mol of CaO = 1.164 MJ/kg. Harmless to soil, dangerous to skin and eyes.

    References
    ----------
    building_materials_lime, slaking [S]
    """
    return SLAKING_HEAT * quicklime_dose


def slaking_temperature_rise(quicklime_dose: FloatLike, water: FloatLike) -> FloatLike:
    """Most that the soil can warm when quicklime slakes in it.

    Parameters
    ----------
    quicklime_dose : array-like
        Quicklime as a fraction of dry soil mass. [-]
    water : array-like
        Water in the soil as a fraction of dry soil mass. [-]

    Returns
    -------
    rise : array-like
        Temperature rise with no loss and no evaporation. [K]

    Notes
    -----
    ΔT = Q / (cs + w cw), with w the water, cs = 840 and cw = 4190 J/(kg·K). An upper bound.

    References
    ----------
    building_materials_lime, heat of slaking [S]
    from_memory, heat capacities [M]
    """
    return slaking_heat(quicklime_dose) / (SOIL_HEAT_CAPACITY + water * WATER_HEAT_CAPACITY)


def quicklime_to_dry(field_water: FloatLike, target_water: FloatLike) -> FloatLike:
    """Quicklime that dries soil to a target by slaking alone.

    Parameters
    ----------
    field_water : array-like
        Water in the ground as a fraction of dry soil mass. [-]
    target_water : array-like
        Water wanted as a fraction of all dry solids, soil and slaked lime. [-]

    Returns
    -------
    quicklime_dose : array-like
        Quicklime as a fraction of dry soil mass; below 0 means the soil is dry enough. [-]

    Notes
    -----
    cQ = (wf − wt) / (0.32 + 1.32 wt), from wf − 0.32 cQ = wt (1 + 1.32 cQ), with wf and wt in the order of
    the arguments. Evaporation helps beyond this, so the figure is on the high side.

    References
    ----------
    building_materials_lime, slaking [S]
    definition, mass balance of water [C]
    """
    return (field_water - target_water) / (SLAKING_WATER + (1.0 + SLAKING_WATER) * target_water)


class Squeeze(StrEnum):
    """What a squeezed ball of the mix does when dropped from shoulder height."""

    WILL_NOT_BALL = "will not hold together"
    SHATTERS = "shatters"
    FEW_LUMPS = "breaks into a few lumps"
    STAYS_WHOLE = "stays whole"
    WATER_COMES_OUT = "water comes out"


@dataclass(frozen=True, slots=True)
class SqueezeAdvice:
    """Change of water advised after a squeeze, as a band of fractions of dry mass, and what to do.

    Attributes
    ----------
    low, high : least and most change of water, fraction of dry mass; below 0 is drying.
    text : what to do.
    """

    low: float
    high: float
    text: str


_SQUEEZE = {
    Squeeze.WILL_NOT_BALL: SqueezeAdvice(
        0.02, 0.05, "far too dry: add water in two passes, mix, squeeze again"
    ),
    Squeeze.SHATTERS: SqueezeAdvice(0.01, 0.03, "dry: add a little water, mix, squeeze again"),
    Squeeze.FEW_LUMPS: SqueezeAdvice(-0.005, 0.005, "right: compact now"),
    Squeeze.STAYS_WHOLE: SqueezeAdvice(-0.03, -0.01, "wet: turn it to dry, or compact a little later"),
    Squeeze.WATER_COMES_OUT: SqueezeAdvice(-0.06, -0.03, "too wet to compact: dry it back or use quicklime"),
}


def squeeze_advice(squeeze: Squeeze) -> SqueezeAdvice:
    """What to do about water after squeezing a ball of the mix and dropping it.

    Parameters
    ----------
    squeeze : Squeeze
        What the ball did.

    Returns
    -------
    advice : SqueezeAdvice
        Band of change in water and what to do.

    Notes
    -----
    Δw, a band for each reading. The reading itself (no water comes out, breaks into a few lumps) is
    published; the bands are ours, from the moisture at which each behaviour is usual.

    References
    ----------
    soil_block_guide, squeeze and drop [S]
    earthfast_proposal, bands of water [P]
    """
    return _SQUEEZE[squeeze]
