"""What a check is asked about: ways, the ground under them, loads, winters and falls, on common draws."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar, cast

import numpy as np

from earthfast.checks.acts import Act, PavingUnit, acts_of
from earthfast.checks.build_up import Material, Method, Way
from earthfast.checks.restraint import Restraint
from earthfast.checks.winters import WinterSample
from earthfast.estimate import Draws, Floats, Quantity
from earthfast.loads import Load

Kept = TypeVar("Kept")


WEAKENED = 0.98  # share of the strength below which a state counts as weaker


@dataclass(frozen=True, slots=True)
class UsualGround:
    """The ground at its medians over all draws, for what is worked out once: dry density (kg/m³), the others fractions."""

    dry_density: float
    water_content: float
    fines: float


@dataclass(frozen=True, slots=True)
class GroundDraws:
    """The ground under formation, one value a draw.

    Attributes
    ----------
    strength, strength_wet : undrained strength as found and in the long-term wet state, Pa.
    modulus, modulus_wet : resilient modulus as found and in the long-term wet state, Pa.
    softening : wet strength with rain standing on formation over that with its own water.
    permeability : m/s.
    friction_angle : effective friction angle where the ground drains, degrees.
    drains : 1 where the ground drains as it is loaded (sand, gravel), else 0.
    plasticity_index, fines, organic_content : fractions.
    dry_density : in place, kg/m³.
    water_content : as a fraction of dry mass.
    water_depth : depth of the highest seasonal water below the ground surface, m.
    capillary_rise : height to which water climbs in it, m.
    segregation_potential : water drawn to the freezing front, m²/(K·s).
    frost_rank : 0 where frost does not harm it, 1 to 4 for frost groups F1 to F4.
    drying : share of the change from dry to wet that a dry summer brings.
    drying_depth : depth below the ground surface that dries out, m.
    spot_spread : log-standard deviation of strength from place to place.
    usual : the same however few of the draws are looked at.
    rain_stands : 1 where rain standing on formation makes it weaker than its own water; None before that is asked.
    """

    strength: Quantity
    strength_wet: Quantity
    modulus: Quantity
    modulus_wet: Quantity
    softening: Quantity
    permeability: Quantity
    friction_angle: Quantity
    drains: Quantity
    plasticity_index: Quantity
    fines: Quantity
    organic_content: Quantity
    dry_density: Quantity
    water_content: Quantity
    water_depth: Quantity
    capillary_rise: Quantity
    segregation_potential: Quantity
    frost_rank: Quantity
    drying: Quantity
    drying_depth: Quantity
    spot_spread: Quantity
    usual: UsualGround
    rain_stands: Quantity | None = None


@dataclass(frozen=True, slots=True)
class MixDraws:
    """Treated soil as built in the field.

    Attributes
    ----------
    strength : of every way at 28 days, soaked, shape (ways, draws).
    depth_scatter : of its thickness, from place to place.
    """

    strength: Quantity
    depth_scatter: float


@dataclass(frozen=True, slots=True)
class Winters:
    """The coldest winter of the design life, one a draw, and the winters it was picked from.

    Attributes
    ----------
    freezing_index : air freezing index of the coldest winter, K·s.
    season : length of the freezing season, s.
    mean_annual_temperature : °C.
    surface_factor : surface index over air index.
    verge_factor, shade_factor : the same at the edge against the verge, and in the shade of a building or trees;
        the shade's is the surface's own where nothing stands near.
    usual_factor : the surface factor that heat flow is worked out at.
    sample : simulated winters.
    """

    freezing_index: Quantity
    season: Quantity
    mean_annual_temperature: Quantity
    surface_factor: Quantity
    verge_factor: Quantity
    shade_factor: Quantity
    usual_factor: float
    sample: WinterSample


@dataclass(frozen=True, slots=True)
class Drainage:
    """Falls and water.

    Attributes
    ----------
    fall : fall of the finished surface as set out, m/m.
    level_tolerance : standard deviation of a built level, m.
    run : length over which the fall is built, m.
    has_outlet : the face of a bound base falls to a free edge or weep holes.
    formation_drains : formation falls to an outlet, so that rain does not stand on it.
    """

    fall: Quantity
    level_tolerance: Quantity
    run: Quantity
    has_outlet: bool
    formation_drains: bool = False


@dataclass(frozen=True, slots=True)
class Case:
    """Everything a check may ask, for a batch of ways of one method on the same draws.

    Attributes
    ----------
    unit : the paving unit that spreads a contact.
    years : design life.
    tolerable_settlement : settlement put up with, m; None where nothing is said.
    is_beside_building : a wall or door stands within a metre of the edge.
    restraint : what holds its edges; None where wheels keep off them.
    has_verge : level earth stands against them, no slope or wall within a metre.
    """

    ways: tuple[Way, ...]
    ground: GroundDraws
    mix: MixDraws
    loads: tuple[Load, ...]
    unit: PavingUnit
    years: float
    tolerable_settlement: float | None
    winters: Winters
    drainage: Drainage
    draws: Draws
    is_beside_building: bool = False
    restraint: Restraint | None = None
    has_verge: bool = True
    kept: dict[str, object] = field(default_factory=dict, init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if len({way.method for way in self.ways}) != 1:
            raise ValueError("a case holds ways of one method")

    @property
    def method(self) -> Method:
        """How all ways of the case are built."""
        return self.ways[0].method

    @property
    def shape(self) -> tuple[int, int]:
        """Number of ways and of draws."""
        return len(self.ways), self.draws.count

    @property
    def acts(self) -> tuple[Act, ...]:
        """All acts of all loads."""
        return tuple(act for load in self.loads for act in acts_of(load, self.unit))

    @property
    def cover(self) -> Floats:
        """Depth from the finished surface to formation, shape (ways,), m."""
        return np.array([way.build_up.thickness for way in self.ways])

    def thickness(self, *materials: Material) -> Floats:
        """Thickness of all courses of these materials, shape (ways,), m."""
        return np.array([way.build_up.thickness_of(*materials) for way in self.ways])

    def once(self, name: str, work: Callable[[], Kept]) -> Kept:
        """What is worked out when it is first asked for, then shared by all checks of this case."""
        if name not in self.kept:
            self.kept[name] = work()
        return cast("Kept", self.kept[name])


@dataclass(frozen=True, slots=True)
class CheckResult:
    """Demand against capacity for a batch of ways.

    Attributes
    ----------
    demand, capacity : same unit, shape (ways, draws).
    governed_by : per way, the load, winter or rule that governs.
    applies : per way, whether the check has anything to judge.
    """

    demand: Quantity
    capacity: Quantity
    governed_by: tuple[str, ...]
    applies: Floats

    @property
    def fails(self) -> Floats:
        """1 in each draw in which demand exceeds capacity, shape (ways, draws)."""
        exceeded = np.greater(self.demand.values, self.capacity.values)
        return np.where(self.applies[:, None] > 0.0, exceeded, 0.0).astype(np.float64)

    @property
    def chance(self) -> Floats:
        """Chance of failure over the design life, shape (ways,)."""
        return np.asarray(self.fails.mean(axis=1))


def nothing_to_judge(case: Case) -> CheckResult:
    """What a check answers where it has nothing to judge."""
    nothing = Quantity("", np.zeros(case.shape))
    return CheckResult(nothing, nothing, ("",) * len(case.ways), np.zeros(len(case.ways)))
