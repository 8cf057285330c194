"""Which input drives a figure, from the draws that are there anyway."""

from __future__ import annotations

import numpy as np

from earthfast.estimate.arrays import Floats

FEWEST_IN_BIN, MOST_BINS = 32, 32


def first_order_share(figure: Floats, cause: Floats) -> float:
    """Share of the variance of a figure that knowing one cause would take away.

    Parameters
    ----------
    figure : array-like
        Draws of the figure. [-]
    cause : array-like
        Draws of the cause, in the same order. [-]

    Returns
    -------
    share : float
        First-order Sobol' index, 0 to 1. [-]

    Notes
    -----
    S = Var(E[y|x])/Var(y), the draws put into up to 32 bins of equal count by x; the scatter of the bins' own means is taken
    off (S = 1 − (n − 1)/(n − b) SSW/SST, b bins, SSW and SST squares within bins and in all). Sees causes that push both ways,
    which a correlation does not.

    References
    ----------
    sobol_1993, first-order index [M]
    kelley_1935, correction of the correlation ratio [M]
    """
    values = np.asarray(figure, dtype=np.float64).ravel()
    bins = max(2, min(MOST_BINS, values.size // FEWEST_IN_BIN))
    whole = float(np.square(values - values.mean()).sum())
    if whole == 0.0 or values.size < 2 * bins:
        return 0.0
    parts = np.array_split(values[np.argsort(np.ravel(cause), kind="stable")], bins)
    within = sum(float(np.square(part - part.mean()).sum()) for part in parts)
    share = 1.0 - (values.size - 1) / (values.size - bins) * within / whole
    return float(np.clip(share, 0.0, 1.0))
