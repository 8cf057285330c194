"""How soils and courses conduct and store heat, frozen and unfrozen."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.sources import read_table
from earthfast.sources.constants import WATER_DENSITY

LATENT_HEAT_WATER = 333.7e3  # J/kg
SOLIDS_DENSITY = 2700.0  # kg/m³, of the formula for dry conductivity
CONDUCTIVITY_WATER, CONDUCTIVITY_ICE, CONDUCTIVITY_QUARTZ = 0.57, 2.2, 7.7  # W/(m·K)
CALORIC = 4186.8  # J/(kg·K) in one Btu/(lb·°F)
POUND_PER_CUBIC_FOOT = 16.018463  # kg/m³
KERSTEN_CONDUCTIVITY = 0.1442279  # W/(m·K) in one Btu·in/(ft²·h·°F)


class GrainKind(StrEnum):
    """The kinds of soil that the conductivity relations tell apart."""

    FINE = "fine"
    COARSE = "coarse"
    CRUSHED = "crushed"


class ThermalMaterial(StrEnum):
    """Courses and soils with working thermal values on the table."""

    BLOCKS = "blocks"
    BEDDING_SAND = "bedding sand"
    CRUSHED_STONE = "crushed stone"
    TREATED_SOIL = "treated soil"
    CONCRETE = "concrete"
    INSULATION_BOARD = "insulation board"
    SAND = "sand"
    SILT = "silt"
    CLAY = "clay"


@dataclass(frozen=True, slots=True)
class FrozenUnfrozen:
    """One property in both states.

    Attributes
    ----------
    frozen, unfrozen : the property, in its SI unit.
    """

    frozen: Floats
    unfrozen: Floats

    @property
    def mean(self) -> Floats:
        """Mean of the two states, as the modified Berggren method takes it."""
        return np.asarray(0.5 * (self.frozen + self.unfrozen))


@dataclass(frozen=True, slots=True)
class ThermalProperties:
    """What the heat-flow solver needs to know of one layer, or of arrays of layers.

    Attributes
    ----------
    frozen_conductivity, unfrozen_conductivity : W/(m·K).
    frozen_capacity, unfrozen_capacity : volumetric heat capacity, J/(m³·K).
    latent_heat : volumetric latent heat, J/m³.
    """

    frozen_conductivity: FloatLike
    unfrozen_conductivity: FloatLike
    frozen_capacity: FloatLike
    unfrozen_capacity: FloatLike
    latent_heat: FloatLike


@dataclass(frozen=True, slots=True)
class ThermalRow:
    """One row of the table of thermal materials."""

    material: str
    frozen_conductivity: float
    unfrozen_conductivity: float
    frozen_capacity: float
    unfrozen_capacity: float
    latent_heat: float


# Côté and Konrad: kappa unfrozen, kappa frozen, chi, eta
_KAPPA_UNFROZEN = {GrainKind.FINE: 1.90, GrainKind.COARSE: 3.55, GrainKind.CRUSHED: 4.60}
_KAPPA_FROZEN = {GrainKind.FINE: 0.85, GrainKind.COARSE: 0.95, GrainKind.CRUSHED: 1.70}
_CHI = {GrainKind.FINE: 0.75, GrainKind.COARSE: 0.75, GrainKind.CRUSHED: 1.70}
_ETA = {GrainKind.FINE: 1.20, GrainKind.COARSE: 1.20, GrainKind.CRUSHED: 1.80}


def typical_thermal(material: ThermalMaterial) -> ThermalProperties:
    """Working thermal properties of a course or a soil.

    Parameters
    ----------
    material : ThermalMaterial
        Course or soil. [-]

    Returns
    -------
    properties : ThermalProperties
        Conductivities, capacities and latent heat. [-]

    Notes
    -----
    Table of working values at ordinary moisture, inside published ranges (concrete 1.2 to 2.6 W/(m·K),
    extruded board 0.033 to 0.036 dry and about 0.04 after years in the ground).

    References
    ----------
    earthfast_proposal, working values [P]
    """
    rows = read_table("thermal_materials", ThermalRow).rows
    row = next(row for row in rows if row.material == material)
    return ThermalProperties(
        row.frozen_conductivity,
        row.unfrozen_conductivity,
        row.frozen_capacity,
        row.unfrozen_capacity,
        row.latent_heat,
    )


def volumetric_latent_heat(dry_density: FloatLike, water_content: FloatLike) -> Floats:
    """Latent heat of the water in a soil.

    Parameters
    ----------
    dry_density : array-like
        Dry density. [kg/m³]
    water_content : array-like
        Water over dry soil by mass. [-]

    Returns
    -------
    latent_heat : ndarray
        Volumetric latent heat. [J/m³]

    Notes
    -----
    L = 333.7 kJ/kg times dry density times water content; all water is taken to freeze, which clays do
    not quite.

    References
    ----------
    definition, latent heat of the pore water [C]
    """
    return np.asarray(LATENT_HEAT_WATER * np.asarray(dry_density, float) * water_content)


def volumetric_heat_capacity(dry_density: FloatLike, water_content: FloatLike) -> FrozenUnfrozen:
    """Heat capacity of a soil, frozen and unfrozen.

    Parameters
    ----------
    dry_density : array-like
        Dry density. [kg/m³]
    water_content : array-like
        Water over dry soil by mass. [-]

    Returns
    -------
    heat_capacity : FrozenUnfrozen
        Volumetric heat capacity. [J/(m³·K)]

    Notes
    -----
    C = dry density times 4186.8 J/(kg·K) times (0.17 + w) unfrozen or (0.17 + 0.5 w) frozen; one manual
    writes 0.2.

    References
    ----------
    ufc_3_130_06, heat capacity [M]
    """
    solid = CALORIC * np.asarray(dry_density, float)
    w = np.asarray(water_content, float)
    return FrozenUnfrozen(np.asarray(solid * (0.17 + 0.5 * w)), np.asarray(solid * (0.17 + w)))


def conductivity_kersten_fine(dry_density: FloatLike, water_content: FloatLike) -> FrozenUnfrozen:
    """Conductivity of a silt or clay after Kersten.

    Parameters
    ----------
    dry_density : array-like
        Dry density. [kg/m³]
    water_content : array-like
        Water over dry soil by mass, 0.07 or more. [-]

    Returns
    -------
    conductivity : FrozenUnfrozen
        Thermal conductivity. [W/(m·K)]

    Notes
    -----
    Unfrozen (0.9 log w - 0.2) 10^(0.01 g), frozen 0.01 10^(0.022 g) + 0.085 10^(0.008 g) w, with g the
    dry density in lb/ft³, w in percent and the result in Btu·in/(ft²·h·°F), here converted. Within about
    25 percent.

    References
    ----------
    kersten_1949, equations [M]
    handy_spangler_2007, table 11.1, agreement to 0.12 W/(m·K) [S]
    """
    g, w = np.asarray(dry_density, float) / POUND_PER_CUBIC_FOOT, 100.0 * np.asarray(water_content, float)
    unfrozen = (0.9 * np.log10(w) - 0.2) * 10.0 ** (0.01 * g)
    frozen = 0.01 * 10.0 ** (0.022 * g) + 0.085 * 10.0 ** (0.008 * g) * w
    return FrozenUnfrozen(
        np.asarray(KERSTEN_CONDUCTIVITY * frozen), np.asarray(KERSTEN_CONDUCTIVITY * unfrozen)
    )


def conductivity_kersten_sandy(dry_density: FloatLike, water_content: FloatLike) -> FrozenUnfrozen:
    """Conductivity of a sandy soil after Kersten.

    Parameters
    ----------
    dry_density : array-like
        Dry density. [kg/m³]
    water_content : array-like
        Water over dry soil by mass, 0.01 or more. [-]

    Returns
    -------
    conductivity : FrozenUnfrozen
        Thermal conductivity. [W/(m·K)]

    Notes
    -----
    Unfrozen (0.7 log w + 0.4) 10^(0.01 g), frozen 0.076 10^(0.013 g) + 0.032 10^(0.0146 g) w, with g the
    dry density in lb/ft³, w in percent and the result in Btu·in/(ft²·h·°F), here converted. Not for
    crushed rock.

    References
    ----------
    kersten_1949, equations [M]
    handy_spangler_2007, table 11.1, agreement to 0.12 W/(m·K) but for one wet frozen row [S]
    """
    g, w = np.asarray(dry_density, float) / POUND_PER_CUBIC_FOOT, 100.0 * np.asarray(water_content, float)
    unfrozen = (0.7 * np.log10(w) + 0.4) * 10.0 ** (0.01 * g)
    frozen = 0.076 * 10.0 ** (0.013 * g) + 0.032 * 10.0 ** (0.0146 * g) * w
    return FrozenUnfrozen(
        np.asarray(KERSTEN_CONDUCTIVITY * frozen), np.asarray(KERSTEN_CONDUCTIVITY * unfrozen)
    )


@dataclass(frozen=True, slots=True)
class _Phases:
    porosity: Floats
    saturation: Floats
    saturated: FrozenUnfrozen


def _phases(dry_density: FloatLike, water_content: FloatLike, quartz_fraction: FloatLike) -> _Phases:
    rho, q = np.asarray(dry_density, float), np.asarray(quartz_fraction, float)
    porosity = 1.0 - rho / SOLIDS_DENSITY
    saturation = rho * water_content / (WATER_DENSITY * porosity)
    solids = CONDUCTIVITY_QUARTZ**q * np.where(q > 0.2, 2.0, 3.0) ** (1.0 - q)
    rock = solids ** (1.0 - porosity)
    return _Phases(
        porosity,
        np.asarray(saturation),
        FrozenUnfrozen(rock * CONDUCTIVITY_ICE**porosity, rock * CONDUCTIVITY_WATER**porosity),
    )


def conductivity_johansen(
    kind: GrainKind, dry_density: FloatLike, water_content: FloatLike, quartz_fraction: FloatLike
) -> FrozenUnfrozen:
    """Conductivity of a soil after Johansen.

    Parameters
    ----------
    kind : GrainKind
        Fine, coarse or crushed. [-]
    dry_density : array-like
        Dry density. [kg/m³]
    water_content : array-like
        Water over dry soil by mass. [-]
    quartz_fraction : array-like
        Quartz in the solids. [-]

    Returns
    -------
    conductivity : FrozenUnfrozen
        Thermal conductivity. [W/(m·K)]

    Notes
    -----
    k = k_dry + (k_sat - k_dry) Ke; k_dry = 0.039 n^(-2.2) crushed, else (0.135 rho + 64.7)/(2700 - 0.947
    rho); k_sat = k_s^(1-n) k_w^n, k_w 0.57 water or 2.2 ice, k_s = 7.7^q k_o^(1-q), k_o 2 above q 0.2
    else 3; Ke = log Sr + 1 fine, 0.7 log Sr + 1 coarse, Sr frozen. n porosity, Sr saturation, q quartz.
    Holds for Sr above 0.1 (fine) or 0.05 (coarse); all water frozen where frozen. For well compacted
    crushed stone the dry formula reads high: use Côté and Konrad.

    References
    ----------
    johansen_1975, equations as coded in public land-surface models [S]
    """
    rho = np.asarray(dry_density, float)
    phases = _phases(rho, water_content, quartz_fraction)
    crushed = kind == GrainKind.CRUSHED
    dry = 0.039 * phases.porosity**-2.2 if crushed else (0.135 * rho + 64.7) / (2700.0 - 0.947 * rho)
    slope = 1.0 if kind == GrainKind.FINE else 0.7
    wet = slope * np.log10(phases.saturation) + 1.0
    return FrozenUnfrozen(
        np.asarray(dry + (phases.saturated.frozen - dry) * phases.saturation),
        np.asarray(dry + (phases.saturated.unfrozen - dry) * np.maximum(wet, 0.0)),
    )


def conductivity_cote_konrad(
    kind: GrainKind, dry_density: FloatLike, water_content: FloatLike, quartz_fraction: FloatLike
) -> FrozenUnfrozen:
    """Conductivity of a soil or a stone course after Côté and Konrad.

    Parameters
    ----------
    kind : GrainKind
        Fine (silt, clay), coarse (medium and fine sand) or crushed (crushed rock, gravel). [-]
    dry_density : array-like
        Dry density. [kg/m³]
    water_content : array-like
        Water over dry soil by mass. [-]
    quartz_fraction : array-like
        Quartz in the solids. [-]

    Returns
    -------
    conductivity : FrozenUnfrozen
        Thermal conductivity. [W/(m·K)]

    Notes
    -----
    k = k_dry + (k_sat - k_dry) Ke; Ke = kappa Sr/(1 + (kappa - 1) Sr), k_dry = chi 10^(-eta n), k_sat as
    in `conductivity_johansen`. kappa unfrozen/frozen: crushed 4.60/1.70, coarse 3.55/0.95, fine
    1.90/0.85; chi, eta: crushed 1.70, 1.80, soils 0.75, 1.20. n porosity, Sr saturation. All water frozen
    where frozen.

    References
    ----------
    cote_konrad_2005, constants as coded in public land-surface models [S]
    from_memory, frozen kappa of sand and gravel [M]
    """
    phases = _phases(dry_density, water_content, quartz_fraction)
    dry = _CHI[kind] * 10.0 ** (-_ETA[kind] * phases.porosity)
    return FrozenUnfrozen(
        np.asarray(dry + (phases.saturated.frozen - dry) * _wetness(_KAPPA_FROZEN[kind], phases.saturation)),
        np.asarray(
            dry + (phases.saturated.unfrozen - dry) * _wetness(_KAPPA_UNFROZEN[kind], phases.saturation)
        ),
    )


def _wetness(kappa: float, saturation: Floats) -> Floats:
    return np.asarray(kappa * saturation / (1.0 + (kappa - 1.0) * saturation))
