"""Highway class of a soil and its group index (AASHTO M 145)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.ground.grading import whole_percent


@dataclass(frozen=True, slots=True)
class AashtoClass:
    """Highway group with its group index, as computed and as reported."""

    group: str
    group_index_unrounded: float
    group_index: int

    @property
    def label(self) -> str:
        """Group with its index, such as A-6 (9)."""
        return f"{self.group} ({self.group_index})"


def group_index(fines: FloatLike, liquid_limit: FloatLike, plasticity_index: FloatLike) -> Floats:
    """Group index of a soil whose group takes the full formula, neither rounded nor held above 0.

    Parameters
    ----------
    fines : array-like
        Share finer than 0.075 mm. [-]
    liquid_limit : array-like
        Liquid limit as a fraction. [-]
    plasticity_index : array-like
        Plasticity index as a fraction. [-]

    Returns
    -------
    group_index : array-like
        [-]

    Notes
    -----
    GI = (F - 35)(0.2 + 0.005 (LL - 40)) + 0.01 (F - 15)(PI - 10), all in percent.

    References
    ----------
    aashto_m_145, as reproduced in lecture sets [S]
    """
    f, ll = 100.0 * np.asarray(fines), 100.0 * np.asarray(liquid_limit)
    return np.asarray((f - 35.0) * (0.2 + 0.005 * (ll - 40.0)) + plastic_group_index(fines, plasticity_index))


def plastic_group_index(fines: FloatLike, plasticity_index: FloatLike) -> Floats:
    """Second term of the group index, all that A-2-6 and A-2-7 soils take.

    Parameters
    ----------
    fines : array-like
        Share finer than 0.075 mm. [-]
    plasticity_index : array-like
        Plasticity index as a fraction. [-]

    Returns
    -------
    group_index : array-like
        [-]

    Notes
    -----
    GI = 0.01 (F - 15)(PI - 10), both in percent.

    References
    ----------
    aashto_m_145, as reproduced in lecture sets [S]
    """
    f, index = 100.0 * np.asarray(fines), 100.0 * np.asarray(plasticity_index)
    return np.asarray(0.01 * (f - 15.0) * (index - 10.0))


@dataclass(frozen=True, slots=True)
class _Percent:
    """What the table asks for, in whole percent; `plastic` is None for a non-plastic soil."""

    passing_2mm: int
    passing_0425: int
    fines: int
    limit: int
    index: int
    non_plastic: bool
    below_diagonal: bool


def _group(soil: _Percent) -> str:
    """First row of the table that fits, left to right."""
    if soil.fines <= 15 and soil.passing_2mm <= 50 and soil.passing_0425 <= 30 and soil.index <= 6:
        return "A-1-a"
    if soil.fines <= 25 and soil.passing_0425 <= 50 and soil.index <= 6:
        return "A-1-b"
    if soil.fines <= 10 and soil.passing_0425 >= 51 and soil.non_plastic:
        return "A-3"
    column = 4 + (soil.limit >= 41) + 2 * (soil.index >= 11)
    if soil.fines <= 35:
        return f"A-2-{column}"
    if column == 7:
        return "A-7-5" if soil.below_diagonal else "A-7-6"
    return f"A-{column}"


def aashto_class(
    fines: float,
    liquid_limit: float | None = None,
    plastic_limit: float | None = None,
    passing_2mm: float = 1.0,
    passing_0425: float = 1.0,
    non_plastic: bool = False,
) -> AashtoClass:
    """Highway class of a soil from the sieves 2, 0.425 and 0.075 mm and its limits.

    Parameters
    ----------
    fines : float
        Share finer than 0.075 mm. [-]
    liquid_limit : float
        Liquid limit as a fraction. [-]
    plastic_limit : float
        Plastic limit as a fraction. [-]
    passing_2mm : float
        Share finer than 2 mm; not needed above 35 % fines. [-]
    passing_0425 : float
        Share finer than 0.425 mm; not needed above 35 % fines. [-]
    non_plastic : bool
        No 3 mm thread can be rolled.

    Returns
    -------
    soil : AashtoClass

    Notes
    -----
    The table is read from left to right and the first column that fits is taken, with whole percent; A-3 is
    tried before A-2. The group index takes the second term alone for A-2-6 and A-2-7 and is 0 for other
    granular soils; negative values are 0; it is rounded half up, without a cap.

    References
    ----------
    aashto_m_145, as reproduced in lecture sets [S]
    earthfast_proposal, rounding half up [P]
    """
    limit = 0.0 if liquid_limit is None else liquid_limit
    if not non_plastic and (liquid_limit is None or plastic_limit is None):
        raise ValueError("give liquid and plastic limit, or say that the soil is non-plastic")
    index = 0.0 if non_plastic or plastic_limit is None else limit - plastic_limit
    soil = _Percent(
        passing_2mm=whole_percent(passing_2mm),
        passing_0425=whole_percent(passing_0425),
        fines=whole_percent(fines),
        limit=whole_percent(limit),
        index=whole_percent(index),
        non_plastic=non_plastic,
        below_diagonal=round(index, 9) <= round(limit - 0.30, 9),
    )
    group = _group(soil)
    unrounded = _index_of(group, fines, limit, index)
    return AashtoClass(group, unrounded, max(0, int(np.floor(unrounded + 0.5 + 1e-9))))


def _index_of(group: str, fines: float, limit: float, index: float) -> float:
    if group in {"A-2-6", "A-2-7"}:
        return float(plastic_group_index(fines, index))
    if group.startswith(("A-1", "A-2", "A-3")):
        return 0.0
    return float(group_index(fines, limit, index))
