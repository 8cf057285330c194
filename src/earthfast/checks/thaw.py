"""Spring: the ground under a base while it thaws, weaker than wet and for a while the weakest it gets."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

import numpy as np

from earthfast.checks.frost import DEPTH_ERROR
from earthfast.checks.frozen_columns import frozen
from earthfast.checks.situation import WEAKENED, Case
from earthfast.estimate import FloatLike, Floats, Meaning, Quantity, Trail
from earthfast.frost import FrostGroup, frozen_winters, thaw_cbr, thaw_modulus_factor

RANKS = (FrostGroup.NFS, FrostGroup.F1, FrostGroup.F2, FrostGroup.F3, FrostGroup.F4)
STRENGTH_PER_CBR = 25.0e3  # Pa for 1 % of CBR
WHOLLY_FROM = 0.30  # m frozen under the base from which the thaw governs all that a light load feels
NO_LIMIT = 1.0e3  # % of CBR
SPRING = "in a spring thaw"


@dataclass(frozen=True, slots=True)
class SpringState:
    """Ground in its weakest lasting state, shape (ways, draws).

    Attributes
    ----------
    strength, modulus : the lower of long-term wet and spring thaw.
    is_thaw : 1 where the thaw makes it weaker than wet.
    """

    strength: Quantity
    modulus: Quantity
    is_thaw: Floats


def frozen_share(frozen_thickness: FloatLike) -> Floats:
    """How far a thaw governs the ground that a light load feels.

    Parameters
    ----------
    frozen_thickness : array-like
        Thickness of natural ground frozen under the base. [m]

    Returns
    -------
    share : array-like
        0 where no ground froze, 1 from 0.3 m. [-]

    Notes
    -----
    φ = min(1, X/0.3 m), X the thickness frozen: light loads are felt little deeper.

    References
    ----------
    earthfast_proposal, depth that a light load feels [P]
    """
    return np.clip(np.asarray(frozen_thickness) / WHOLLY_FROM, 0.0, 1.0)


def spring_modulus(modulus: FloatLike, rank: FloatLike, share: FloatLike) -> Floats:
    """Modulus of ground while it thaws.

    Parameters
    ----------
    modulus : array-like
        In the long-term wet state. [Pa]
    rank : array-like
        Frost group as a rank, 0 to 4. [-]
    share : array-like
        How far the thaw governs. [-]

    Returns
    -------
    modulus : array-like
        While it thaws. [Pa]

    Notes
    -----
    E_s = E (1 − φ (1 − m)), E and φ modulus and share; m 1.0 where frost does no harm, 0.60, 0.50, 0.30, 0.30 for F1 to F4.

    References
    ----------
    ufc_3_260_03, table 7-4 [S]
    earthfast_proposal, share for shallow frost [P]
    """
    factors = np.array([thaw_modulus_factor(group) for group in RANKS])
    factor = factors[np.asarray(rank, dtype=np.intp)]
    return np.asarray(np.asarray(modulus) * (1.0 - np.asarray(share) * (1.0 - factor)))


def spring_strength(strength: FloatLike, rank: FloatLike, share: FloatLike) -> Floats:
    """Undrained strength of ground while it thaws.

    Parameters
    ----------
    strength : array-like
        In the long-term wet state. [Pa]
    rank : array-like
        Frost group as a rank, 0 to 4. [-]
    share : array-like
        How far the thaw governs. [-]

    Returns
    -------
    strength : array-like
        While it thaws. [Pa]

    Notes
    -----
    c_s = c − φ max(0, c − 25 kPa · I), c and φ strength and share; support index I 9.0, 6.5, 3.5, 3.5 for F1 to F4, no limit
    where frost does no harm: the lower of yearly strength and support index governs.

    References
    ----------
    ufc_3_260_02, table 3-5 [S]
    fm_5_430, appendix G, the lower governs [S]
    earthfast_proposal, share for shallow frost and 25 kPa for one of CBR [P]
    """
    limits = STRENGTH_PER_CBR * np.array([float(thaw_cbr(NO_LIMIT, group)) for group in RANKS])
    limit = limits[np.asarray(rank, dtype=np.intp)]
    surplus = np.maximum(np.asarray(strength) - limit, 0.0)
    return np.asarray(np.asarray(strength) - np.asarray(share) * surplus)


def spring_state(case: Case, trail: Trail) -> SpringState:
    """The lower of the long-term wet state and the spring after the coldest winter of the design life."""
    steps = trail.under("spring")
    return case.once(f"spring state, {steps.prefix}", partial(_spring_state, case, steps))


def _spring_state(case: Case, trail: Trail) -> SpringState:
    ground, winters = case.ground, case.winters
    error = case.draws.of("frost model", DEPTH_ERROR)
    frost = frozen(case, winters.freezing_index.values, winters.surface_factor.values, error)
    if not frost.ground.any():
        shape = frost.ground.shape
        strength, modulus = (
            Quantity(one.key, np.broadcast_to(one.values, shape))
            for one in (ground.strength_wet, ground.modulus_wet)
        )
        return SpringState(strength, modulus, np.zeros(shape))
    thickness = trail.conclude(
        "frozen_ground",
        Meaning("Ground under the base frozen in the coldest winter", "m", "mm"),
        frost.ground,
        (winters.freezing_index, winters.surface_factor),
        frozen_winters,
    )
    share = trail.derive(
        "thaw_share",
        Meaning("How far a spring thaw governs the ground under the base", "-", "%"),
        frozen_share,
        {"frozen_thickness": thickness},
    )
    modulus = trail.derive(
        "modulus_spring",
        Meaning("Modulus of the ground, the lower of wet and thawing", "Pa", "MPa"),
        spring_modulus,
        {"modulus": ground.modulus_wet, "rank": ground.frost_rank, "share": share},
    )
    strength = trail.derive(
        "strength_spring",
        Meaning("Undrained strength of the ground, the lower of wet and thawing", "Pa", "kPa"),
        spring_strength,
        {"strength": ground.strength_wet, "rank": ground.frost_rank, "share": share},
    )
    weaker = np.minimum(
        modulus.values / ground.modulus_wet.values, strength.values / ground.strength_wet.values
    )
    return SpringState(strength, modulus, (weaker < WEAKENED).astype(np.float64))
