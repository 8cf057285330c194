"""Permanent deformation of the ground under many passes: limiting vertical strain, as a band."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from scipy.constants import psi

from earthfast.estimate import FloatLike, Floats

LIGHT_USE_STRAIN_CAP = 3500.0e-6  # middle of 3000..4000 µε, judgement


class StrainCriterion(StrEnum):
    """Published limits of the vertical strain at the top of the ground."""

    FOURTH_ROOT_50 = "fourth root, 50 %"
    FOURTH_ROOT_85 = "fourth root, 85 %"
    FOURTH_ROOT_95 = "fourth root, 95 %"
    ASPHALT_INSTITUTE = "Asphalt Institute"
    AUSTROADS = "Austroads"
    AUSTROADS_2017 = "Austroads 2017"
    LR1132 = "LR1132"
    IRC_80 = "IRC:37, 80 %"
    CORPS = "Corps of Engineers"


@dataclass(frozen=True, slots=True)
class StrainLaw:
    """A limit of the form ε = A N^(−n).

    Attributes
    ----------
    coefficient : strain allowed for one repetition, A.
    exponent : n, above 0.
    """

    coefficient: FloatLike
    exponent: FloatLike


def _from_life(coefficient: float, exponent: float) -> StrainLaw:
    """Turn N = C ε^(−m) round to ε = C^(1/m) N^(−1/m)."""
    return StrainLaw(coefficient ** (1.0 / exponent), 1.0 / exponent)


def _corps_law(modulus: FloatLike) -> StrainLaw:
    in_psi = np.asarray(modulus, dtype=np.float64) / psi
    exponent = 1.0 / (0.0658 * in_psi**0.559)
    return StrainLaw((0.000247 + 0.000245 * np.log10(in_psi)) * 10_000.0**exponent, exponent)


def _on_any_ground(law: StrainLaw) -> Callable[[FloatLike], StrainLaw]:
    return lambda _modulus: law


STRAIN_LAWS: dict[StrainCriterion, Callable[[FloatLike], StrainLaw]] = {
    StrainCriterion.FOURTH_ROOT_50: _on_any_ground(StrainLaw(0.028, 0.25)),
    StrainCriterion.FOURTH_ROOT_85: _on_any_ground(StrainLaw(0.021, 0.25)),
    StrainCriterion.FOURTH_ROOT_95: _on_any_ground(StrainLaw(0.018, 0.25)),
    StrainCriterion.ASPHALT_INSTITUTE: _on_any_ground(_from_life(1.365e-9, 4.477)),
    StrainCriterion.AUSTROADS: _on_any_ground(StrainLaw(9300.0e-6, 1.0 / 7.0)),
    StrainCriterion.AUSTROADS_2017: _on_any_ground(StrainLaw(9150.0e-6, 1.0 / 7.0)),
    StrainCriterion.LR1132: _on_any_ground(_from_life(10.0**-7.21, 3.95)),
    StrainCriterion.IRC_80: _on_any_ground(_from_life(4.1656e-8, 4.5337)),
    StrainCriterion.CORPS: _corps_law,
}


def limiting_strain(criterion: StrainCriterion, repetitions: FloatLike, modulus: FloatLike) -> Floats:
    """Vertical strain at the top of the ground that one published criterion allows.

    Parameters
    ----------
    criterion : StrainCriterion
        The criterion. [-]
    repetitions : array-like
        Passes over the design life, above 0. [-]
    modulus : array-like
        Resilient modulus of the ground; only the Corps of Engineers criterion uses it. [Pa]

    Returns
    -------
    strain : array-like
        Allowed vertical compressive strain per pass. [-]

    Notes
    -----
    Fourth root: ε = 0.028, 0.021, 0.018 N^−0.25 (50, 85, 95 % confidence). Asphalt Institute: N = 1.365e−9
    ε^−4.477. Austroads: N = (9300/µε)^7, 2017 revision 9150. LR1132: log N = −7.21 − 3.95 log ε. IRC:37: N
    = 4.1656e−8 ε^−4.5337. Corps: ε = A (10 000/N)^(1/B), A = 0.000247 + 0.000245 log E, B = 0.0658 E^0.559,
    E in psi; N the repetitions. Calibrated from about 1e4 repetitions of road axles; below that all are
    extrapolated. One reprint of the Corps equation has 0.00245, a tenfold misprint. An index of rutting,
    not its physics.

    References
    ----------
    strain_manual_1978 [M]
    crrel_96_21, p. 12: digits of the first fourth-root law [S]
    asphalt_institute_1982 [M]
    austroads_agpt02 [M]
    lr1132 [M]
    irc_37 [M]
    ufc_3_260_03, eq. 4-5 [S]
    """
    law = STRAIN_LAWS[StrainCriterion(criterion)](modulus)
    return np.asarray(law.coefficient * np.asarray(repetitions, dtype=np.float64) ** -law.exponent)


def allowable_repetitions(criterion: StrainCriterion, strain: FloatLike, modulus: FloatLike) -> Floats:
    """Passes that one published criterion allows at a vertical strain of the ground.

    Parameters
    ----------
    criterion : StrainCriterion
        The criterion. [-]
    strain : array-like
        Vertical compressive strain at the top of the ground per pass, above 0. [-]
    modulus : array-like
        Resilient modulus of the ground; only the Corps of Engineers criterion uses it. [Pa]

    Returns
    -------
    repetitions : array-like
        Passes over the life. [-]

    Notes
    -----
    The inverse of limiting_strain: N = (A/ε)^(1/n) for a law ε = A N^(−n). Same range and the same doubts.

    References
    ----------
    ufc_3_260_03, eq. 4-5 [S]
    lr1132, and the other criteria of limiting_strain [M]
    """
    law = STRAIN_LAWS[StrainCriterion(criterion)](modulus)
    return np.asarray((law.coefficient / np.asarray(strain)) ** (1.0 / np.asarray(law.exponent)))


@dataclass(frozen=True, slots=True)
class StrainBand:
    """What the criteria together allow.

    Attributes
    ----------
    low, middle, high : smallest, geometric mean and largest allowed strain.
    log_spread : standard deviation of its natural logarithm between criteria.
    """

    low: Floats
    middle: Floats
    high: Floats
    log_spread: Floats


def limiting_strain_band(repetitions: FloatLike, modulus: FloatLike) -> StrainBand:
    """Vertical strain at the top of the ground that the published criteria allow, as a band.

    Parameters
    ----------
    repetitions : array-like
        Passes over the design life, above 0. [-]
    modulus : array-like
        Resilient modulus of the ground. [Pa]

    Returns
    -------
    band : StrainBand
        Smallest, geometric mean and largest allowed strain, and their scatter. [-]

    Notes
    -----
    Over all criteria of limiting_strain with equal weight. The three strains are capped at 3500 µε: below
    about 1e4 repetitions the criteria are extrapolated and would allow strains at which ground fails. The
    scatter is taken before the cap, so that it does not look better known there. The criteria differ 2 to
    2.5 times.

    References
    ----------
    earthfast_proposal, equal weights and cap of 3500 µε within a judged 3000 to 4000 [P]
    ufc_3_260_03, eq. 4-5 [S]
    """
    shape = np.broadcast_shapes(np.shape(repetitions), np.shape(modulus))
    limits = np.stack(
        [np.broadcast_to(limiting_strain(one, repetitions, modulus), shape) for one in StrainCriterion]
    )
    logs = np.log(limits)
    return StrainBand(
        low=np.minimum(limits.min(axis=0), LIGHT_USE_STRAIN_CAP),
        middle=np.minimum(np.exp(logs.mean(axis=0)), LIGHT_USE_STRAIN_CAP),
        high=np.minimum(limits.max(axis=0), LIGHT_USE_STRAIN_CAP),
        log_spread=logs.std(axis=0, ddof=1),
    )
