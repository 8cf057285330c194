"""How weak the ground gets while it thaws."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.frost.susceptibility import FrostGroup
from earthfast.sources import read_table


@dataclass(frozen=True, slots=True)
class ThawRow:
    """One row of the table of thaw weakening.

    Attributes
    ----------
    group : US frost group.
    modulus_factor : modulus while thawing over the yearly modulus.
    support_index : index used in place of CBR, percent; None where the yearly CBR stays.
    reaction_intercept : slab reaction without base, Pa/m; None where none is given.
    reaction_slope : its gain a metre of base, Pa/m²; None where none is given.
    """

    group: str
    modulus_factor: float
    support_index: float | None = None
    reaction_intercept: float | None = None
    reaction_slope: float | None = None


def _thaw_row(group: FrostGroup) -> ThawRow:
    rows: tuple[ThawRow, ...] = read_table("thaw_weakening", ThawRow).rows
    return next(row for row in rows if row.group == group)


def thaw_cbr(cbr: FloatLike, group: FrostGroup) -> Floats:
    """CBR to use for formation that thaws each spring.

    Parameters
    ----------
    cbr : array-like
        Yearly CBR of the soil, in percent. [-]
    group : FrostGroup
        US frost group of the soil. [-]

    Returns
    -------
    cbr : ndarray
        Lower of the yearly CBR and the frost-area support index, in percent. [-]

    Notes
    -----
    Support index 9.0 for F1 and S1, 6.5 for F2 and S2, 3.5 for F3 and F4; none for NFS and PFS. The lower
    governs.

    References
    ----------
    ufc_3_260_02, table 3-5 [S]
    fm_5_430, appendix G, the lower governs [S]
    """
    index = _thaw_row(group).support_index
    strength = np.asarray(cbr, float)
    return strength if index is None else np.asarray(np.minimum(strength, index))


def thaw_modulus_factor(group: FrostGroup) -> float:
    """Modulus of thawing ground over its yearly modulus.

    Parameters
    ----------
    group : FrostGroup
        US frost group of the soil. [-]

    Returns
    -------
    factor : float
        Ratio of moduli. [-]

    Notes
    -----
    NFS 1.0, PFS 0.9, S1 0.75, S2 0.70, F1 0.60, F2 0.50, F3 and F4 0.30.

    References
    ----------
    ufc_3_260_03, table 7-4 [S]
    """
    return _thaw_row(group).modulus_factor


def thaw_reaction(base_thickness: FloatLike, group: FrostGroup) -> Floats:
    """Reaction under a slab while the ground below its base thaws.

    Parameters
    ----------
    base_thickness : array-like
        Thickness of base that frost does not weaken. [m]
    group : FrostGroup
        US frost group of the soil, S1 to F4. [-]

    Returns
    -------
    reaction : ndarray
        Modulus of reaction. [Pa/m]

    Notes
    -----
    k = a + b t in MN/m³, t the base in metres: 1.13 + 116.4 t (S1, F1), 0.36 + 85.6 t (S2, F2), 0.43 + 63
    t (F3, F4). Signs and the last row were restored from the row in inches, the copy read being garbled.

    References
    ----------
    ufc_3_260_03, equations 7-5 to 7-7 [S]
    """
    row = _thaw_row(group)
    if row.reaction_intercept is None or row.reaction_slope is None:
        raise ValueError(f"no thaw reaction is given for group {group}: it is not weakened")
    return np.asarray(row.reaction_intercept + row.reaction_slope * np.asarray(base_thickness, float))
