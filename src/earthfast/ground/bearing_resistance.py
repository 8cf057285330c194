"""Bearing resistance of one stratum under a footing or wheel, by EN 1997-1 Annex D."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats

PRANDTL = np.pi + 2.0  # bearing factor of a strip on undrained clay


@dataclass(frozen=True, slots=True)
class BearingFactors:
    """Three factors, one for each term of the bearing equation; also used for shape and inclination.

    Attributes
    ----------
    cohesion : factor of the cohesion term.
    surcharge : factor of the overburden term.
    weight : factor of the term for the soil's own weight.
    """

    cohesion: Floats
    surcharge: Floats
    weight: Floats


UPRIGHT = BearingFactors(np.asarray(1.0), np.asarray(1.0), np.asarray(1.0))


class WeightFactor(StrEnum):
    """Published forms of the factor for the soil's own weight."""

    EUROCODE = "EN 1997-1"
    VESIC = "Vesic"
    MEYERHOF = "Meyerhof"
    HANSEN = "Hansen"


def _log_surcharge_factor(friction_angle: FloatLike) -> Floats:
    radians = np.deg2rad(np.asarray(friction_angle, dtype=np.float64))
    return np.asarray(np.pi * np.tan(radians) + 2.0 * np.arctanh(np.sin(radians)))


def surcharge_factor(friction_angle: FloatLike) -> Floats:
    """Bearing factor of the overburden, for a friction angle.

    Parameters
    ----------
    friction_angle : array-like
        Effective friction angle. [deg]

    Returns
    -------
    factor : array-like
        Bearing factor of the overburden term. [-]

    Notes
    -----
    N_q = exp(π tan φ) tan²(45° + φ/2), φ the friction angle. Exact for a strip on weightless soil, 0 ≤ φ <
    90°.

    References
    ----------
    en_1997_1, Annex D.4 [M]
    look_handbook, Table 21.5 [S]
    """
    return np.asarray(np.exp(_log_surcharge_factor(friction_angle)))


def cohesion_factor(friction_angle: FloatLike) -> Floats:
    """Bearing factor of cohesion, for a friction angle.

    Parameters
    ----------
    friction_angle : array-like
        Effective friction angle. [deg]

    Returns
    -------
    factor : array-like
        Bearing factor of the cohesion term. [-]

    Notes
    -----
    N_c = (N_q − 1) cot φ, and its limit π + 2 at φ = 0. Exact for a strip on weightless soil, 0 ≤ φ < 90°.

    References
    ----------
    en_1997_1, Annex D.4 [M]
    look_handbook, Table 21.5 [S]
    """
    tangent = np.tan(np.deg2rad(np.asarray(friction_angle, dtype=np.float64)))
    rise = np.expm1(_log_surcharge_factor(friction_angle))
    return np.asarray(np.divide(rise, tangent, out=np.full_like(rise, PRANDTL), where=tangent > 0.0))


def weight_factor_eurocode(friction_angle: FloatLike) -> Floats:
    """Bearing factor of the soil's own weight, rough base, EN 1997-1 form.

    Parameters
    ----------
    friction_angle : array-like
        Effective friction angle. [deg]

    Returns
    -------
    factor : array-like
        Bearing factor of the weight term. [-]

    Notes
    -----
    N_γ = 2 (N_q − 1) tan φ. About 25 to 50 % above the exact rough-base factor at 30 to 40°; adding the three
    terms is in turn up to 30 % below the exact sum, which offsets it.

    References
    ----------
    en_1997_1, Annex D.4 [M]
    martin_2003, introduction: superposition is conservative [S]
    """
    tangent = np.tan(np.deg2rad(np.asarray(friction_angle, dtype=np.float64)))
    return np.asarray(2.0 * (surcharge_factor(friction_angle) - 1.0) * tangent)


def weight_factor_vesic(friction_angle: FloatLike) -> Floats:
    """Bearing factor of the soil's own weight, Vesic form.

    Parameters
    ----------
    friction_angle : array-like
        Effective friction angle. [deg]

    Returns
    -------
    factor : array-like
        Bearing factor of the weight term. [-]

    Notes
    -----
    N_γ = 2 (N_q + 1) tan φ. About 25 to 50 % above the exact rough-base factor at 30 to 40°.

    References
    ----------
    look_handbook, Table 21.5 [S]
    """
    tangent = np.tan(np.deg2rad(np.asarray(friction_angle, dtype=np.float64)))
    return np.asarray(2.0 * (surcharge_factor(friction_angle) + 1.0) * tangent)


def weight_factor_meyerhof(friction_angle: FloatLike) -> Floats:
    """Bearing factor of the soil's own weight, Meyerhof form.

    Parameters
    ----------
    friction_angle : array-like
        Effective friction angle, below 64. [deg]

    Returns
    -------
    factor : array-like
        Bearing factor of the weight term. [-]

    Notes
    -----
    N_γ = (N_q − 1) tan(1.4 φ). The lowest of the forms below about 30°.

    References
    ----------
    bearing_factor_table, Meyerhof column [S]
    """
    radians = np.deg2rad(np.asarray(friction_angle, dtype=np.float64))
    return np.asarray((surcharge_factor(friction_angle) - 1.0) * np.tan(1.4 * radians))


def weight_factor_hansen(friction_angle: FloatLike) -> Floats:
    """Bearing factor of the soil's own weight, Hansen form.

    Parameters
    ----------
    friction_angle : array-like
        Effective friction angle. [deg]

    Returns
    -------
    factor : array-like
        Bearing factor of the weight term. [-]

    Notes
    -----
    N_γ = 1.5 (N_q − 1) tan φ. Within about 2 % of the exact rough-base factor at 30 to 35°.

    References
    ----------
    look_handbook, Table 21.5 [S]
    """
    tangent = np.tan(np.deg2rad(np.asarray(friction_angle, dtype=np.float64)))
    return np.asarray(1.5 * (surcharge_factor(friction_angle) - 1.0) * tangent)


WEIGHT_FACTORS: dict[WeightFactor, Callable[[FloatLike], Floats]] = {
    WeightFactor.EUROCODE: weight_factor_eurocode,
    WeightFactor.VESIC: weight_factor_vesic,
    WeightFactor.MEYERHOF: weight_factor_meyerhof,
    WeightFactor.HANSEN: weight_factor_hansen,
}


def shape_factors(friction_angle: FloatLike, width: FloatLike, length: FloatLike) -> BearingFactors:
    """Shape factors of a rectangular footing on drained ground.

    Parameters
    ----------
    friction_angle : array-like
        Effective friction angle. [deg]
    width : array-like
        Effective width, the shorter side. [m]
    length : array-like
        Effective length; infinite for a strip. [m]

    Returns
    -------
    factors : BearingFactors
        Shape factors of the three terms. [-]

    Notes
    -----
    s_q = 1 + (B/L) sin φ; s_γ = 1 − 0.3 B/L; s_c = (s_q N_q − 1)/(N_q − 1), with limit 1 + (B/L)/(π + 2) at
    φ = 0; B the width, L the length, 0 < B ≤ L. Other authors use 0.4 in s_γ.

    References
    ----------
    en_1997_1, Annex D.4 [M]
    annex_d_sheet [S]
    """
    ratio = np.asarray(width, dtype=np.float64) / np.asarray(length, dtype=np.float64)
    sine = np.sin(np.deg2rad(np.asarray(friction_angle, dtype=np.float64)))
    rise = np.expm1(_log_surcharge_factor(friction_angle))
    # s_c − 1 = (B/L) N_q sin φ/(N_q − 1): written so that φ = 0 has its limit
    gain = np.divide(sine * (rise + 1.0), rise, out=np.full_like(rise, 1.0 / PRANDTL), where=rise > 0.0)
    return BearingFactors(np.asarray(1.0 + ratio * gain), 1.0 + ratio * sine, 1.0 - 0.3 * ratio)


def inclination_factors(
    friction_angle: FloatLike,
    cohesion: FloatLike,
    width: FloatLike,
    length: FloatLike,
    vertical: FloatLike,
    horizontal_along_width: FloatLike,
    horizontal_along_length: FloatLike,
) -> BearingFactors:
    """Reduction of drained bearing where the load also pushes sideways.

    Parameters
    ----------
    friction_angle : array-like
        Effective friction angle, above 0. [deg]
    cohesion : array-like
        Effective cohesion. [Pa]
    width : array-like
        Effective width, the shorter side. [m]
    length : array-like
        Effective length, finite. [m]
    vertical : array-like
        Vertical load. [N]
    horizontal_along_width : array-like
        Horizontal load in the direction of the width. [N]
    horizontal_along_length : array-like
        Horizontal load in the direction of the length. [N]

    Returns
    -------
    factors : BearingFactors
        Inclination factors of the three terms; 0 where the footing slides. [-]

    Notes
    -----
    i_q = [1 − H/(V + A c cot φ)]^m; i_γ = [...]^(m+1); i_c = i_q − (1 − i_q)/(N_c tan φ);
    m = m_L cos²θ + m_B sin²θ with m_B = (2 + B/L)/(1 + B/L), m_L = (2 + L/B)/(1 + L/B); θ the angle of the
    horizontal resultant H from the length; V vertical, A = B L, c cohesion. At H = 0 all are 1.

    References
    ----------
    en_1997_1, Annex D.4 [M]
    annex_d_sheet [S]
    """
    tangent = np.tan(np.deg2rad(np.asarray(friction_angle, dtype=np.float64)))
    across = np.square(np.asarray(horizontal_along_width, dtype=np.float64))
    along = np.square(np.asarray(horizontal_along_length, dtype=np.float64))
    total = across + along
    share_across = np.divide(across, total, out=np.zeros_like(total), where=total > 0.0)
    ratio = np.asarray(width, dtype=np.float64) / np.asarray(length, dtype=np.float64)
    exponent_across = (2.0 + ratio) / (1.0 + ratio)
    exponent_along = (2.0 + 1.0 / ratio) / (1.0 + 1.0 / ratio)
    exponent = exponent_along * (1.0 - share_across) + exponent_across * share_across
    strength = vertical + width * np.asarray(length, dtype=np.float64) * cohesion / tangent
    base = np.clip(1.0 - np.sqrt(total) / strength, 0.0, 1.0)
    surcharge = base**exponent
    spared = (1.0 - surcharge) / (cohesion_factor(friction_angle) * tangent)
    return BearingFactors(np.maximum(surcharge - spared, 0.0), surcharge, base ** (exponent + 1.0))


def bearing_resistance_drained(
    friction_angle: FloatLike,
    cohesion: FloatLike,
    surcharge: FloatLike,
    unit_weight: FloatLike,
    width: FloatLike,
    length: FloatLike,
    inclination: BearingFactors = UPRIGHT,
) -> Floats:
    """Pressure at which drained ground under a rectangular footing fails.

    Parameters
    ----------
    friction_angle : array-like
        Effective friction angle. [deg]
    cohesion : array-like
        Effective cohesion. [Pa]
    surcharge : array-like
        Effective overburden pressure beside the footing at its level. [Pa]
    unit_weight : array-like
        Unit weight of the ground below, effective where it is under water. [N/m³]
    width : array-like
        Effective width, the shorter side. [m]
    length : array-like
        Effective length; infinite for a strip. [m]
    inclination : BearingFactors
        Inclination factors; 1 for an upright load. [-]

    Returns
    -------
    resistance : array-like
        Failure pressure on the effective area, no partial factor applied. [Pa]

    Notes
    -----
    R/A = c N_c s_c i_c + q N_q s_q i_q + ½ γ B N_γ s_γ i_γ with c cohesion, q surcharge, γ unit weight, B
    width; N bearing, s shape, i inclination factors. Level base on level ground. No depth factors
    (conservative) and no ground-slope factors: it overstates the resistance beside a slope.

    References
    ----------
    en_1997_1, Annex D.4 [M]
    annex_d_sheet [S]
    decoding_eurocode_7, §10.4.4 [S]
    """
    shape = shape_factors(friction_angle, width, length)
    from_cohesion = cohesion * cohesion_factor(friction_angle) * shape.cohesion * inclination.cohesion
    from_surcharge = surcharge * surcharge_factor(friction_angle) * shape.surcharge * inclination.surcharge
    from_weight = 0.5 * unit_weight * width * weight_factor_eurocode(friction_angle)
    return np.asarray(from_cohesion + from_surcharge + from_weight * shape.weight * inclination.weight)


def bearing_resistance_undrained(
    undrained_strength: FloatLike,
    surcharge: FloatLike,
    width: FloatLike,
    length: FloatLike,
    horizontal: FloatLike = 0.0,
) -> Floats:
    """Pressure at which undrained clay under a rectangular footing fails.

    Parameters
    ----------
    undrained_strength : array-like
        Undrained shear strength. [Pa]
    surcharge : array-like
        Total overburden pressure beside the footing at its level. [Pa]
    width : array-like
        Effective width, the shorter side. [m]
    length : array-like
        Effective length; infinite for a strip with no horizontal load. [m]
    horizontal : array-like
        Horizontal load. [N]

    Returns
    -------
    resistance : array-like
        Failure pressure on the effective area, no partial factor applied; 0 where the footing slides. [Pa]

    Notes
    -----
    R/A = (π + 2) c_u s_c i_c + q; s_c = 1 + 0.2 B/L; i_c = ½ [1 + √(1 − H/(A c_u))]; the footing slides where
    H > A c_u. Level base on level ground; no depth factors (conservative), no slope factors.

    References
    ----------
    en_1997_1, Annex D.3 [M]
    decoding_eurocode_7, §10.4.4 [S]
    """
    breadth, reach = np.asarray(width, dtype=np.float64), np.asarray(length, dtype=np.float64)
    used = np.asarray(horizontal / (breadth * reach * undrained_strength))
    inclination = 0.5 * (1.0 + np.sqrt(np.clip(1.0 - used, 0.0, None)))
    resistance = PRANDTL * undrained_strength * (1.0 + 0.2 * breadth / reach) * inclination + surcharge
    return np.where(used > 1.0, 0.0, resistance)
