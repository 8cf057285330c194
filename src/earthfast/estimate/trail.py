"""The trail of a figure: every number shown can be followed to its formula, inputs and sources.

Checks and quantities are written once, against a :class:`Trail`. Over a batch of ways the trail only
passes values through; for the way that is shown it records, so that `why`, the sheets and the screen
read the very numbers that decided.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

import numpy as np

from earthfast.estimate.arrays import FloatLike, Floats
from earthfast.estimate.drivers import first_order_share
from earthfast.estimate.joint import Band, band_of
from earthfast.sources import Relation, SourceNote, relation

NEXT_TO_THE_SAME = 0.9  # correlation of ranks


class Origin(StrEnum):
    """How a figure came into the trail."""

    GIVEN = "given in the job"
    OBSERVED = "from the observations"
    ASSUMED = "assumed"
    DERIVED = "worked out"


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a figure is called and how it is shown.

    Attributes
    ----------
    label : plain words, as shown to a person.
    unit : SI unit of the values.
    shown_in : unit it is shown in.
    """

    label: str
    unit: str
    shown_in: str


@dataclass(frozen=True, slots=True)
class Quantity:
    """Values on their way through a calculation, with the key they are known by in the trail."""

    key: str
    values: Floats


@dataclass(frozen=True, slots=True)
class Traced:
    """One figure of the trail.

    Attributes
    ----------
    key : name it is asked for by, as "base.bearing.ground_stress".
    meaning : label and units.
    origin : given, observed, assumed or worked out.
    values : all draws, or a single value, in SI.
    inputs : keys of the figures it was worked out from.
    method : the relation used, where it was worked out.
    parameters : which parameter of the relation each input is, where the figure is the relation of its inputs and no more.
    sources : on whose word.
    because : one sentence for a given, observed or assumed figure.
    band : 5..95 % band where it is known without draws.
    """

    key: str
    meaning: Meaning
    origin: Origin
    values: Floats
    inputs: tuple[str, ...] = ()
    method: Relation | None = None
    sources: tuple[SourceNote, ...] = ()
    because: str = ""
    band: Band | None = None
    parameters: tuple[str, ...] = ()

    @property
    def centre(self) -> float:
        """Median, in SI."""
        return band_of(self.values).median

    @property
    def low(self) -> float:
        """Lower end of the 5..95 % band, in SI."""
        return (self.band or band_of(self.values)).low

    @property
    def high(self) -> float:
        """Upper end of the 5..95 % band, in SI."""
        return (self.band or band_of(self.values)).high

    def in_draw(self, draw: int) -> float:
        """Value in one draw, in SI; the only value where there is but one."""
        if self.values.size == 1:
            return float(self.values[0])
        return float(self.values[draw])

    @property
    def low_centre_high(self) -> tuple[float, float, float]:
        """Median between the ends of the 5..95 % band, in SI."""
        drawn = band_of(self.values)
        ends = self.band or drawn
        return ends.low, drawn.median, ends.high

    @property
    def is_spread(self) -> bool:
        """Whether the figure is uncertain."""
        if self.band is not None:
            return self.band.high > self.band.low
        return self.values.size > 1 and bool(np.ptp(self.values) > 0.0)


@dataclass(frozen=True, slots=True)
class Influence:
    """How much one uncertain input moves a figure.

    Attributes
    ----------
    key : the input.
    share : share of the variance of the figure's ranks that knowing the input takes away; all of them sum to at most 1.
    rising : whether the figure rises with the input.
    """

    key: str
    share: float
    rising: bool


@dataclass(slots=True)
class Trail:
    """All figures behind an answer, by key; passes values through when not recording.

    Attributes
    ----------
    figures : by key; one that `follow` recorded knows its inputs once it was told.
    untold : what gives those inputs, by key.
    shared : influences on figures without draws that were worked out beside them, by key.
    """

    recording: bool = True
    prefix: str = ""
    figures: dict[str, Traced] = field(default_factory=dict)
    untold: dict[str, Callable[[], Mapping[str, Quantity]]] = field(default_factory=dict)
    shared: dict[str, tuple[Influence, ...]] = field(default_factory=dict)

    def under(self, name: str) -> Trail:
        """Give the same trail with keys below ``name``."""
        return Trail(self.recording, f"{self.prefix}{name}.", self.figures, self.untold, self.shared)

    def enter(
        self,
        key: str,
        meaning: Meaning,
        values: FloatLike,
        origin: Origin,
        because: str = "",
        sources: Iterable[SourceNote] = (),
        band: Band | None = None,
    ) -> Quantity:
        """Enter a figure that was given, observed or assumed."""
        array = np.asarray(values, dtype=np.float64)
        full_key = f"{self.prefix}{key}"
        if self.recording:
            self.figures[full_key] = Traced(
                full_key, meaning, origin, array.ravel(), (), None, tuple(sources), because, band
            )
        return Quantity(full_key, array)

    def derive(
        self,
        key: str,
        meaning: Meaning,
        function: Callable[..., FloatLike],
        inputs: Mapping[str, Quantity],
    ) -> Quantity:
        """Work out a figure from others by a published relation and record how."""
        array = function(**{name: quantity.values for name, quantity in inputs.items()})
        return self.follow(key, meaning, array, function, lambda: inputs)

    def follow(
        self,
        key: str,
        meaning: Meaning,
        values: FloatLike,
        function: Callable[..., object],
        inputs: Callable[[], Mapping[str, Quantity]],
    ) -> Quantity:
        """Record values already worked out that equal ``function`` of its inputs, which are worked out once they are told."""
        found = self.conclude(key, meaning, values, (), function)
        if self.recording:
            self.untold[found.key] = inputs
        return found

    def told(self, key: str) -> Traced:
        """A figure with its inputs."""
        inputs = self.untold.pop(key, None)
        if inputs is not None:
            named = inputs()
            keys = tuple(quantity.key for quantity in named.values())
            self.figures[key] = replace(self.figures[key], inputs=keys, parameters=tuple(named))
        return self.figures[key]

    def tell_all(self) -> Trail:
        """The same trail with the inputs of every figure."""
        while self.untold:
            self.told(next(iter(self.untold)))
        return self

    def conclude(
        self,
        key: str,
        meaning: Meaning,
        values: FloatLike,
        inputs: Iterable[Quantity],
        function: Callable[..., object],
        band: Band | None = None,
    ) -> Quantity:
        """Record values already worked out by ``function`` from the inputs."""
        array = np.asarray(values, dtype=np.float64)
        full_key = f"{self.prefix}{key}"
        if self.recording:
            described = relation(function)
            keys = tuple(dict.fromkeys(quantity.key for quantity in inputs))
            self.figures[full_key] = Traced(
                full_key, meaning, Origin.DERIVED, array.ravel(), keys, described, described.sources, "", band
            )
        return Quantity(full_key, array)

    def leaves(self, key: str) -> tuple[Traced, ...]:
        """All figures that were not worked out and that the figure rests on."""
        found: dict[str, Traced] = {}
        seen: set[str] = set()
        waiting = [key]
        while waiting:
            name = waiting.pop()
            if name in seen or name not in self.figures:
                continue
            seen.add(name)
            traced = self.told(name)
            if traced.inputs:
                waiting.extend(traced.inputs)
            elif name != key:
                found[name] = traced
        return tuple(found.values())

    def influences(self, key: str) -> tuple[Influence, ...]:
        """Rank the uncertain inputs of a figure by how much they move it."""
        if key in self.shared:
            return self.shared[key]
        target = self.told(key)
        if target.band is not None:
            return self._swings(target)
        if not target.is_spread:
            return self.influences(target.inputs[0]) if len(target.inputs) == 1 else ()
        ranks = _ranks(target.values)
        influences, told = [], list[tuple[str, Floats]]()
        for leaf in self.leaves(key):
            if leaf.is_spread and leaf.values.size == target.values.size:
                order = _ranks(leaf.values)
                if any(_is_retold(leaf.meaning.label, order, *earlier) for earlier in told):
                    continue
                told.append((leaf.meaning.label, order))
                rising = float((ranks - ranks.mean()) @ (leaf.values - leaf.values.mean())) > 0.0
                influences.append(Influence(leaf.key, first_order_share(ranks, leaf.values), rising))
        total = max(1.0, sum(influence.share for influence in influences))
        scaled = (Influence(i.key, i.share / total, i.rising) for i in influences)
        return tuple(sorted(scaled, key=lambda influence: -influence.share))

    def _swings(self, target: Traced) -> tuple[Influence, ...]:
        """Influences on a sum known by bands: each input's swing over all of them."""
        spread = [leaf for leaf in self.leaves(target.key) if leaf.is_spread]
        total = sum(leaf.high - leaf.low for leaf in spread)
        found = [Influence(leaf.key, (leaf.high - leaf.low) / total, rising=True) for leaf in spread]
        return tuple(sorted(found, key=lambda influence: -influence.share))


def _is_retold(label: str, ranks: Floats, earlier_label: str, earlier_ranks: Floats) -> bool:
    """Whether a leaf is the same as an earlier one under another key, or next to the same under the same label."""
    alike = float(np.corrcoef(ranks, earlier_ranks)[0, 1])
    return alike > (NEXT_TO_THE_SAME if label == earlier_label else 1.0 - 1e-9)


def _ranks(values: Floats) -> Floats:
    """Place of each value in order; draws are as good as never equal."""
    ranks = np.empty(values.size)
    ranks[np.argsort(values, kind="stable")] = np.arange(values.size)
    return ranks
