"""Durability: does treated soil keep its strength through frost, wetting and drying?"""

from __future__ import annotations

import numpy as np

from earthfast.checks.build_up import Material
from earthfast.checks.frost import DEPTH_ERROR
from earthfast.checks.frozen_columns import share_of_winters_below
from earthfast.checks.registry import CheckName, check
from earthfast.checks.situation import Case, CheckResult
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail
from earthfast.frost import frozen_winters
from earthfast.frost.rules import HEAVE_FREE_STRENGTH

FINE_FROM = 0.35  # share of fines from which a mixture counts as fine-grained
FINE_FROST_STRENGTH = 1.0e6  # Pa
WET_STRENGTH = 345.0e3  # Pa, 50 psi
WEAK_SPOTS = 0.5  # strength at weak spots in the ground over that of laboratory specimens
FROSTS_FOR_MOST = 1.44  # first frost takes half the loss, the sixth leaves nothing to lose
FROST_WORDS, WET_WORDS = "freezing and thawing", "wetting and drying"


def frost_strength_wanted(fines: FloatLike, frosts: FloatLike) -> Floats:
    """Strength that treated soil wants where it will freeze.

    Parameters
    ----------
    fines : array-like
        Fines of the soil before treatment. [-]
    frosts : array-like
        Winters of the design life in which the layer freezes. [-]

    Returns
    -------
    strength : array-like
        Unconfined strength at weak spots in the ground, soaked, at the first frost. [Pa]

    Notes
    -----
    q = ½ max(q₅₀, q_f (1 − exp(−N/1.44))), N the winters: q_f 2 MPa where fines are below 35 %, above which bound mixtures show
    no heave, and 1 MPa for fine-grained mixtures, which go by about that; half of the loss comes with the first frost and all of
    it by the sixth. q₅₀ = 0.345 MPa is the low end of treated ground, asked for wetting and drying alone. These are strengths of
    laboratory specimens; weak spots in the ground have half. A stand-in for twelve cycles in the laboratory, whose mass loss
    limits are 14, 10 and 7 % for A-1 to A-3, A-4 and A-5, A-6 and A-7: test where it matters.

    References
    ----------
    uk_bound_mixture_frost_note, 2 MPa, and 1 MPa for fine mixtures [S]
    gajurel_2021, low end of the usual range of treated ground [S]
    earthfast_proposal, growth with the number of frosts, and weak spots [P]
    """
    most = np.where(np.asarray(fines) < FINE_FROM, HEAVE_FREE_STRENGTH, FINE_FROST_STRENGTH)
    share = -np.expm1(-np.asarray(frosts) / FROSTS_FOR_MOST)
    return np.asarray(WEAK_SPOTS * np.maximum(most * share, WET_STRENGTH))


def winters_that_freeze(share: FloatLike, years: FloatLike) -> FloatLike:
    """Winters of a design life in which a layer freezes.

    Parameters
    ----------
    share : array-like
        Share of all winters in which frost reaches it. [-]
    years : array-like
        Design life in years. [-]

    Returns
    -------
    winters : array-like
        Number to expect. [-]

    Notes
    -----
    N = n p, with p and n share and years.

    References
    ----------
    definition, expected number [C]
    """
    return np.asarray(share) * years


@check(
    CheckName.DURABILITY,
    "Does treated soil last through frost and wet?",
    "frost or wet would break the treated soil up",
)
def durability(case: Case, trail: Trail) -> CheckResult:
    """Judge the strength of treated soil at its weak spots against what its frosts and soakings want."""
    steps = trail.under("durability")
    treated = case.thickness(Material.TREATED_SOIL)
    shape = (len(case.ways), case.draws.count)
    if not treated.any():
        nothing = Quantity(case.mix.strength.key, np.ones(shape))
        return CheckResult(nothing, nothing, tuple(WET_WORDS for _ in case.ways), treated)
    frosts = _frosts(case, treated, steps)
    wanted = steps.derive(
        "strength_wanted",
        Meaning("Strength that frost and wet want of the treated soil", "Pa", "MPa"),
        frost_strength_wanted,
        {"fines": case.ground.fines, "frosts": frosts},
    )
    words = np.where(np.median(wanted.values, axis=1) > WEAK_SPOTS * WET_STRENGTH, FROST_WORDS, WET_WORDS)
    return CheckResult(
        wanted,
        Quantity(case.mix.strength.key, np.broadcast_to(case.mix.strength.values, shape)),
        tuple(str(word) for word in words),
        (treated > 0.0).astype(np.float64),
    )


def _frosts(case: Case, treated: Floats, steps: Trail) -> Quantity:
    """Winters of the design life in which frost goes past the top of the treated layer."""
    winters = case.winters
    top = np.array([way.build_up.thickness for way in case.ways]) - treated
    share = steps.conclude(
        "share_frozen",
        Meaning("Share of winters in which the treated soil freezes", "-", "%"),
        share_of_winters_below(case, top, case.draws.of("frost model", DEPTH_ERROR)),
        (winters.freezing_index, winters.surface_factor),
        frozen_winters,
    )
    years = steps.enter(
        "years", Meaning("Design life", "years", "years"), case.years, Origin.GIVEN, "of this area"
    )
    return steps.derive(
        "frozen_winters",
        Meaning("Winters of the design life in which it freezes", "-", "-"),
        winters_that_freeze,
        {"share": share, "years": years},
    )
