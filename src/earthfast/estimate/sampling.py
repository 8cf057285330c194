"""Quasi-random draws with named columns, so that a column means the same thing in every check."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.special import ndtri

from earthfast.estimate.arrays import Floats
from earthfast.estimate.quantity import Estimate
from earthfast.estimate.sobol import sobol_points


class Draws:
    """Scrambled Sobol points as independent standard normal columns.

    Parameters
    ----------
    names : column names; their order fixes which Sobol dimension each one gets.
    count : number of draws, a power of two.
    generator : source of the scrambling.
    """

    def __init__(self, names: Sequence[str], count: int, generator: np.random.Generator) -> None:
        if count < 2 or count & (count - 1):
            raise ValueError(f"the number of draws must be a power of two, got {count}")
        if len(set(names)) != len(names):
            raise ValueError("column names must differ")
        self.names = tuple(names)
        self.count = count
        uniforms = sobol_points(len(self.names), count, generator)
        half_step = 0.5 / 2.0**30  # points lie on the left ends of their intervals
        self._normals = ndtri(uniforms + half_step)
        self._drawn: dict[tuple[str, Estimate], Floats] = {}

    @classmethod
    def of_normals(cls, names: Sequence[str], normals: Floats) -> Draws:
        """Draws whose columns are given, shape (count, names), as where rare cases are sought out."""
        made = object.__new__(cls)
        made.names, made.count, made._normals, made._drawn = tuple(names), len(normals), normals, {}
        return made

    def first(self, count: int) -> Draws:
        """The first draws of every column; the start of a Sobol sequence is a Sobol sequence."""
        return Draws.of_normals(self.names, self._normals[:count])

    def normal(self, name: str) -> Floats:
        """Standard normal column of that name, shape (count,)."""
        try:
            return np.asarray(self._normals[:, self.names.index(name)])
        except ValueError:
            raise KeyError(f"no column '{name}'; there are {', '.join(self.names)}") from None

    def of(self, name: str, estimate: Estimate) -> Floats:
        """Draws of an estimate along one column, shape (count,); worked out once, not to be written to."""
        asked = (name, estimate)
        if asked not in self._drawn:
            drawn = estimate.at_normal(self.normal(name))
            drawn.flags.writeable = False
            self._drawn[asked] = drawn
        return self._drawn[asked]
