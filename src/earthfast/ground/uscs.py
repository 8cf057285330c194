"""Engineering class of a soil by the unified system (ASTM D2487)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Caution, CautionCode, Floats
from earthfast.ground.grading import GradingShape, grading_shape, share_passing, whole_percent
from earthfast.ground.plasticity import a_line, u_line

FINE_LIMIT, GRAVEL_LIMIT = 0.075e-3, 4.75e-3  # m


@dataclass(frozen=True, slots=True)
class UscsClass:
    """Symbol and name of a soil; several when what is known does not decide.

    Attributes
    ----------
    symbols, names : every symbol that fits, with its name.
    gravel, sand, fines : shares of the mass, -.
    cautions : impossible data.
    """

    symbols: tuple[str, ...]
    names: tuple[str, ...]
    gravel: float
    sand: float
    fines: float
    cautions: tuple[Caution, ...]

    @property
    def symbol(self) -> str:
        """Symbol, or the symbols that fit joined by 'or'."""
        return " or ".join(self.symbols)

    @property
    def name(self) -> str:
        """Name, or the names that fit joined by 'or'."""
        return " or ".join(self.names)


@dataclass(frozen=True, slots=True)
class Limits:
    """Limits of the part finer than 0.425 mm as fractions; None when not measured.

    Attributes
    ----------
    liquid_limit, plastic_limit : as fractions, -.
    non_plastic : no thread can be rolled.
    oven_dried_liquid_limit : liquid limit after drying in the oven, which tells organic soil, -.
    """

    liquid_limit: float | None = None
    plastic_limit: float | None = None
    non_plastic: bool = False
    oven_dried_liquid_limit: float | None = None

    @property
    def known(self) -> bool:
        """Whether the fine part can be placed on the chart."""
        return self.non_plastic or (self.liquid_limit is not None and self.plastic_limit is not None)

    @property
    def plasticity_index_percent(self) -> float:
        """Plasticity index in percent, 0 when non-plastic; exact in the sixth decimal."""
        if self.non_plastic or self.liquid_limit is None or self.plastic_limit is None:
            return 0.0
        return round(100.0 * (self.liquid_limit - self.plastic_limit), 6)

    @property
    def is_organic(self) -> bool:
        """Whether oven drying lowers the liquid limit to less than three quarters."""
        if self.oven_dried_liquid_limit is None or not self.liquid_limit:
            return False
        return self.oven_dried_liquid_limit / self.liquid_limit < 0.75


def fine_symbol(limits: Limits) -> str:
    """Symbol of a fine soil, or of the fine part of a coarse one, from its place on the chart."""
    index = limits.plasticity_index_percent
    if limits.non_plastic or limits.liquid_limit is None:
        return "ML"
    above = index >= round(100.0 * float(a_line(limits.liquid_limit)), 6)
    low = round(limits.liquid_limit, 9) < 0.50
    if limits.is_organic:
        return "OL" if low else "OH"
    if not low:
        return "CH" if above else "MH"
    if above and index > 7.0:
        return "CL"
    return "CL-ML" if above and index >= 4.0 else "ML"


FINE_NAMES = {
    "ML": "silt",
    "CL": "lean clay",
    "CL-ML": "silty clay",
    "MH": "elastic silt",
    "CH": "fat clay",
    "Pt": "peat",
}
FINE_SYMBOLS_UNKNOWN = ("ML", "CL", "CL-ML", "MH", "CH")
FINES_IN_COARSE_UNKNOWN = ("ML", "CL", "CL-ML")


def uscs_class(
    gravel: float,
    sand: float,
    fines: float,
    liquid_limit: float | None = None,
    plastic_limit: float | None = None,
    non_plastic: bool = False,
    oven_dried_liquid_limit: float | None = None,
    d10: float | None = None,
    d30: float | None = None,
    d60: float | None = None,
) -> UscsClass:
    """Unified class of a soil from its shares of gravel, sand and fines, its limits and its sizes.

    Parameters
    ----------
    gravel : float
        Share coarser than 4.75 mm. [-]
    sand : float
        Share between 0.075 and 4.75 mm. [-]
    fines : float
        Share finer than 0.075 mm. [-]
    liquid_limit : float
        Liquid limit as a fraction, where measured. [-]
    plastic_limit : float
        Plastic limit as a fraction, where measured. [-]
    non_plastic : bool
        No 3 mm thread can be rolled.
    oven_dried_liquid_limit : float
        Liquid limit after oven drying, where organic soil is suspected. [-]
    d10 : float
        Size that 10 % passes, where known. [m]
    d30 : float
        Size that 30 % passes, where known. [m]
    d60 : float
        Size that 60 % passes, where known. [m]

    Returns
    -------
    soil : UscsClass
        Every symbol that fits what is known, with names and cautions.

    Notes
    -----
    Shares are rounded to whole percent. Fine from 50 % fines: CL above the A-line with PI > 7, CL-ML for
    4 <= PI <= 7, ML otherwise, for LL below 50 %; CH and MH above. Coarse: gravel if it exceeds sand; clean
    below 5 % fines, dual 5 to 12 %, by fines alone above 12 %. Well graded: Cu >= 4 (gravel) or 6 (sand) and
    1 <= Cc <= 3. Names take "with" from 15 %, "sandy" or "gravelly" from 30 % coarse in a fine soil. A point
    above the U-line is flagged as bad data. What is not known is not guessed: all symbols that fit are given.

    References
    ----------
    astm_d2487, order of work; thresholds as taught in university notes [M]
    """
    limits = Limits(liquid_limit, plastic_limit, non_plastic, oven_dried_liquid_limit)
    sizes = [np.nan if size is None else size for size in (d10, d30, d60)]
    shape = GradingShape(sizes[0], sizes[1], sizes[2])
    return _classified(gravel, sand, fines, limits, shape)


def uscs_class_from_sieves(
    sizes: Floats,
    passing: Floats,
    liquid_limit: float | None = None,
    plastic_limit: float | None = None,
    non_plastic: bool = False,
    oven_dried_liquid_limit: float | None = None,
) -> UscsClass:
    """Unified class of a soil from its sieve curve and its limits.

    Parameters
    ----------
    sizes : array-like
        Sieve sizes; 0.075 mm must lie among or between them. [m]
    passing : array-like
        Share passing each. [-]
    liquid_limit : float
        Liquid limit as a fraction, where measured. [-]
    plastic_limit : float
        Plastic limit as a fraction, where measured. [-]
    non_plastic : bool
        No 3 mm thread can be rolled.
    oven_dried_liquid_limit : float
        Liquid limit after oven drying, where organic soil is suspected. [-]

    Returns
    -------
    soil : UscsClass
        Every symbol that fits what is known, with names and cautions.

    Notes
    -----
    As `uscs_class`, with shares and sizes read off the curve by log-linear interpolation; a size below the
    finest sieve stays unknown.

    References
    ----------
    astm_d2487, order of work; thresholds as taught in university notes [M]
    """
    fines = float(share_passing(sizes, passing, FINE_LIMIT))
    below_gravel = float(share_passing(sizes, passing, GRAVEL_LIMIT))
    if np.isnan(fines):
        raise ValueError("the sieves must reach 0.075 mm")
    below_gravel = 1.0 if np.isnan(below_gravel) else below_gravel
    limits = Limits(liquid_limit, plastic_limit, non_plastic, oven_dried_liquid_limit)
    shape = grading_shape(sizes, passing)
    return _classified(1.0 - below_gravel, below_gravel - fines, fines, limits, shape)


def _classified(gravel: float, sand: float, fines: float, limits: Limits, shape: GradingShape) -> UscsClass:
    if abs(gravel + sand + fines - 1.0) > 0.02:
        raise ValueError(f"gravel, sand and fines add up to {gravel + sand + fines:.3f}, not 1")
    whole_fines, whole_gravel = whole_percent(fines), whole_percent(gravel)
    whole_sand = 100 - whole_fines - whole_gravel
    if whole_fines >= 50:
        symbols: tuple[str, ...] = (fine_symbol(limits),) if limits.known else FINE_SYMBOLS_UNKNOWN
        names = tuple(_fine_name(symbol, limits, whole_gravel, whole_sand) for symbol in symbols)
    else:
        pairs = _coarse(whole_gravel, whole_sand, whole_fines, limits, shape)
        symbols, names = tuple(pair[0] for pair in pairs), tuple(pair[1] for pair in pairs)
    return UscsClass(symbols, names, gravel, sand, fines, _chart_cautions(limits))


def _chart_cautions(limits: Limits) -> tuple[Caution, ...]:
    if limits.non_plastic or limits.liquid_limit is None or limits.plastic_limit is None:
        return ()
    index = limits.plasticity_index_percent
    if 0.0 <= index <= round(100.0 * float(u_line(limits.liquid_limit)), 6):
        return ()
    text = "The point lies above the U-line or below zero: a data error, not a soil."
    return (
        Caution(CautionCode.IMPOSSIBLE_DATA, text, where="liquid and plastic limit", source="astm_d2487"),
    )


def _fine_name(symbol: str, limits: Limits, gravel: int, sand: int) -> str:
    name = FINE_NAMES.get(symbol) or _organic_name(limits)
    coarse = gravel + sand
    larger, lesser = ("sand", "gravel") if sand >= gravel else ("gravel", "sand")
    if coarse < 15:
        return name
    if coarse < 30:
        return f"{name} with {larger}"
    lead = {"sand": "sandy", "gravel": "gravelly"}[larger]
    return f"{lead} {name}" + (f" with {lesser}" if min(gravel, sand) >= 15 else "")


def _organic_name(limits: Limits) -> str:
    if limits.liquid_limit is None:
        return "organic soil"
    above = limits.plasticity_index_percent >= round(100.0 * float(a_line(limits.liquid_limit)), 6)
    clay = above and (limits.liquid_limit >= 0.50 or limits.plasticity_index_percent >= 4.0)
    return "organic clay" if clay else "organic silt"


# what fine soils are called inside a coarse one: letter after the dash, adjective, "with ..."
INSIDE_COARSE = {"ML": "M", "MH": "M", "CL": "C", "CH": "C", "OL": "M", "OH": "M", "CL-ML": "CM"}
ADJECTIVE = {"M": "silty", "C": "clayey", "CM": "silty, clayey"}
WITH_FINES = {"M": "silt", "C": "clay", "CM": "silty clay"}


def _coarse(gravel: int, sand: int, fines: int, limits: Limits, shape: GradingShape) -> list[tuple[str, str]]:
    letter, noun, other = ("G", "gravel", sand) if gravel > sand else ("S", "sand", gravel)
    other_noun = "sand" if letter == "G" else "gravel"
    fine_parts = [fine_symbol(limits)] if limits.known else list(FINES_IN_COARSE_UNKNOWN)
    kinds = [INSIDE_COARSE[part] for part in fine_parts]
    suffix = f" with {other_noun}" if other >= 15 else ""
    if fines > 12:
        return [
            (
                f"{letter}C-{letter}M" if kind == "CM" else f"{letter}{kind}",
                f"{ADJECTIVE[kind]} {noun}{suffix}",
            )
            for kind in kinds
        ]
    gradings = [
        (f"{letter}{graded}", f"{'well-graded' if graded == 'W' else 'poorly graded'} {noun}")
        for graded in _graded(letter, shape)
    ]
    if fines < 5:
        return [(symbol, name + suffix) for symbol, name in gradings]
    both = f" and {other_noun}" if other >= 15 else ""
    return [
        (f"{symbol}-{letter}{'C' if kind == 'CM' else kind}", f"{name} with {WITH_FINES[kind]}{both}")
        for symbol, name in gradings
        for kind in dict.fromkeys(kinds)
    ]


def _graded(letter: str, shape: GradingShape) -> tuple[str, ...]:
    if np.isnan(shape.uniformity) or np.isnan(shape.curvature):
        return ("W", "P")
    enough = 4.0 if letter == "G" else 6.0
    return ("W",) if shape.uniformity >= enough and 1.0 <= shape.curvature <= 3.0 else ("P",)
