"""The transcendental equation that every exact freezing solution comes down to."""

from __future__ import annotations

import numpy as np
from scipy.special import erf, erfcx

from earthfast.estimate import FloatLike, Floats

_MOST_STEPS = 60
_RELATIVE = 1e-14


def front_root(warmth: FloatLike, diffusivity_root: FloatLike, latent: FloatLike) -> Floats:
    """Root x of exp(-x²)/erf(x) - a exp(-r²x²)/erfc(r x) = sqrt(pi) b x, for a, r and b of any shape.

    Newton kept inside a bracket. The left side falls and the right side rises, so the root is single; and
    since y exp(-y²)/erf(y) <= sqrt(pi)/2 and exp(-y²)/erfc(y) >= 1 it lies below the start value.
    """
    a, r, b = np.broadcast_arrays(*(np.asarray(v, float) for v in (warmth, diffusivity_root, latent)))
    root_pi = np.sqrt(np.pi)
    high = root_pi / (a + np.sqrt(a * a + 2.0 * np.pi * b))
    low = np.zeros_like(high)
    x = high.copy()
    for _ in range(_MOST_STEPS):
        cold = np.exp(-x * x) / erf(x)
        warm = 1.0 / erfcx(r * x)
        surplus = cold - a * warm - root_pi * b * x
        slope = -cold * (2.0 * x + 2.0 / root_pi * cold) + a * r * (2.0 * r * x - 2.0 / root_pi * warm) * warm
        slope -= root_pi * b
        low, high = np.where(surplus > 0.0, x, low), np.where(surplus > 0.0, high, x)
        trial = x - surplus / slope
        inside = (trial > low) & (trial < high)
        moved = np.where(inside, trial, np.where(surplus == 0.0, x, 0.5 * (low + high)))
        settled = np.abs(trial - x) <= _RELATIVE * x
        x = np.where(settled, x, moved)
        if settled.all():
            break
    return np.asarray(x)
