"""Treated soil as a bound layer: flexural strength and modulus from UCS, cracked state."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.constants import psi

from earthfast.estimate import Estimate, FloatLike, Floats, lognormal_from_band
from earthfast.sources import Table, read_table

KSI = 1000.0 * psi
CRACKED_MODULUS = lognormal_from_band(0.2e9, 0.5e9)  # Pa, crack-tolerant design of weak treated soil
SHRINKAGE_CRACK_FACTOR = lognormal_from_band(1.25, 1.4)  # on the flexural stress of the uncracked layer


def flexural_strength_share(compressive_strength: FloatLike, share: FloatLike) -> Floats:
    """Flexural strength as a share of compressive strength.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength. [Pa]
    share : array-like
        0.20 for cement in design, 0.25 for lime; published shares run from 1/5 to 1/3. [-]

    Returns
    -------
    flexural_strength : array-like
        Modulus of rupture. [Pa]

    Notes
    -----
    f = s q_u, s the share and q_u the compressive strength.

    References
    ----------
    nchrp_1_37a, 20 % for cement-treated material [M]
    lime_association_guide, 25 % for lime-treated soil [M]
    """
    return np.asarray(share * np.asarray(compressive_strength, dtype=np.float64))


def flexural_strength_aci(compressive_strength: FloatLike) -> Floats:
    """Flexural strength of soil-cement from its compressive strength, power relation.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength. [Pa]

    Returns
    -------
    flexural_strength : array-like
        Modulus of rupture. [Pa]

    Notes
    -----
    f = 0.51 q_u^0.88 in psi, q_u the compressive strength; about a fifth above the 20 % rule at 3.4 MPa.

    References
    ----------
    aci_230_1r, §4.4 [M]
    """
    return np.asarray(0.51 * psi * (np.asarray(compressive_strength, dtype=np.float64) / psi) ** 0.88)


def indirect_tensile_strength(compressive_strength: FloatLike) -> Floats:
    """Splitting strength of treated soil from its compressive strength.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength. [Pa]

    Returns
    -------
    tensile_strength : array-like
        Indirect tensile strength. [Pa]

    Notes
    -----
    f_it = 0.1 q_u, q_u the compressive strength.

    References
    ----------
    from_memory, tenth of the compressive strength [M]
    """
    return np.asarray(0.1 * np.asarray(compressive_strength, dtype=np.float64))


def direct_tensile_strength(compressive_strength: FloatLike) -> Floats:
    """Strength in direct tension of treated soil from its compressive strength.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength. [Pa]

    Returns
    -------
    tensile_strength : array-like
        Direct tensile strength. [Pa]

    Notes
    -----
    f_t = 0.8 f_it = 0.08 q_u, f_it the indirect tensile and q_u the compressive strength.

    References
    ----------
    from_memory, 0.8 of the indirect tensile strength [M]
    """
    return np.asarray(0.8 * indirect_tensile_strength(compressive_strength))


def bound_modulus_aggregate_mepdg(compressive_strength: FloatLike) -> Floats:
    """Modulus of lean concrete or cement-treated aggregate from its compressive strength.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength. [Pa]

    Returns
    -------
    modulus : array-like
        Elastic modulus. [Pa]

    Notes
    -----
    E = 57 000 √f in psi, f the compressive strength.

    References
    ----------
    nchrp_1_37a, part 2 chapter 2 [M]
    """
    return np.asarray(57_000.0 * psi * np.sqrt(np.asarray(compressive_strength, dtype=np.float64) / psi))


def bound_modulus_soil_cement_mepdg(compressive_strength: FloatLike) -> Floats:
    """Modulus of soil-cement from its compressive strength.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength. [Pa]

    Returns
    -------
    modulus : array-like
        Elastic modulus. [Pa]

    Notes
    -----
    E = 1200 q_u, q_u the compressive strength.

    References
    ----------
    nchrp_1_37a, part 2 chapter 2 [M]
    """
    return np.asarray(1200.0 * np.asarray(compressive_strength, dtype=np.float64))


def bound_modulus_lime_cement_flyash_mepdg(compressive_strength: FloatLike) -> Floats:
    """Modulus of a lime, cement and fly-ash mixture from its compressive strength.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength. [Pa]

    Returns
    -------
    modulus : array-like
        Elastic modulus. [Pa]

    Notes
    -----
    E = 500 + q_u, E in ksi with q_u, the compressive strength, in psi. The constant makes it useless below
    about 1 MPa.

    References
    ----------
    nchrp_1_37a, part 2 chapter 2 [M]
    """
    return np.asarray(KSI * (500.0 + np.asarray(compressive_strength, dtype=np.float64) / psi))


def bound_modulus_lime_mepdg(compressive_strength: FloatLike) -> Floats:
    """Resilient modulus of lime-treated soil from its compressive strength.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength. [Pa]

    Returns
    -------
    modulus : array-like
        Resilient modulus. [Pa]

    Notes
    -----
    M_r = 0.124 q_u + 9.98, M_r in ksi with q_u, the compressive strength, in psi.

    References
    ----------
    nchrp_1_37a, part 2 chapter 2 [M]
    """
    return np.asarray(KSI * (0.124 * np.asarray(compressive_strength, dtype=np.float64) / psi + 9.98))


def bound_modulus_austroads(compressive_strength: FloatLike, ratio: FloatLike) -> Floats:
    """Flexural modulus of a cemented material from its compressive strength.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength at 28 days. [Pa]
    ratio : array-like
        1000 to 1250. [-]

    Returns
    -------
    modulus : array-like
        Flexural modulus. [Pa]

    Notes
    -----
    E = k q_u, k the ratio and q_u the strength. The Indian guide takes 1000 of the 7-day strength.

    References
    ----------
    austroads_agpt02 [M]
    irc_37, 1000 of the 7-day strength, quoted in a secondary source [S]
    """
    return np.asarray(ratio * np.asarray(compressive_strength, dtype=np.float64))


def stress_beside_crack(flexural_stress: FloatLike, crack_factor: FloatLike) -> Floats:
    """Flexural stress beside a shrinkage crack.

    Parameters
    ----------
    flexural_stress : array-like
        Flexural stress of the uncracked layer. [Pa]
    crack_factor : array-like
        1.25 to 1.4. [-]

    Returns
    -------
    stress : array-like
        Flexural stress beside the crack. [Pa]

    Notes
    -----
    σ_c = k σ, k the factor, σ the uncracked stress. A free edge is worse: about twice the stress away from
    edges.

    References
    ----------
    otte_1978 [M]
    """
    return np.asarray(crack_factor * np.asarray(flexural_stress, dtype=np.float64))


def cracked_modulus() -> Estimate:
    """Modulus of weak treated soil designed to tolerate cracks.

    Returns
    -------
    modulus : Estimate
        Median and log-standard deviation. [Pa]

    Notes
    -----
    Lognormal with its 5..95 % band at 0.2 to 0.5 GPa. Then the stress on the ground governs and thickness
    decides. Badly cracked cement-treated base is quoted at 0.28 to 1.4 GPa.

    References
    ----------
    earthfast_proposal, band for light use [P]
    typical_moduli_table, badly cracked cement-treated base [S]
    """
    return CRACKED_MODULUS


@dataclass(frozen=True, slots=True)
class BoundDefault:
    """Values to start from for a bound material, Pa: uncracked modulus, flexural strength, final modulus."""

    material: str
    modulus: float
    flexural_strength: float
    final_modulus: float


def bound_defaults() -> Table[BoundDefault]:
    """Values to start from where nothing was measured on a bound material.

    Returns
    -------
    table : Table
        Uncracked modulus, flexural strength and modulus at the end of its life, by material. [Pa]

    Notes
    -----
    Converted from psi. Soil-cement ends near the modulus of good stone, lime-treated soil near that of firm
    clay.

    References
    ----------
    nchrp_1_37a, part 2 chapter 2 [M]
    """
    return read_table("bound_default", BoundDefault)
