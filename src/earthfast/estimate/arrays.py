"""The two array types the core speaks: an array of floats, and anything that becomes one."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]
FloatLike: TypeAlias = float | Floats
