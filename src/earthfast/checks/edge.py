"""Edge: do the outermost blocks or flags stay put when wheels brake and turn beside them?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.checks.acts import Act, acts_of
from earthfast.checks.build_up import UNITS
from earthfast.checks.loading import enter_factor, load_factor
from earthfast.checks.registry import CheckName, check
from earthfast.checks.restraint import Restraint
from earthfast.checks.situation import Case, CheckResult, nothing_to_judge
from earthfast.checks.worst import Asked, worst_of
from earthfast.estimate import (
    FloatLike,
    Floats,
    Meaning,
    Origin,
    Quantity,
    Trail,
    lognormal,
    lognormal_from_band,
)
from earthfast.ground import passive_thrust_rankine
from earthfast.loads import Motion
from earthfast.sources import source_note

SIDEWAYS = lognormal_from_band(0.2, 0.6)  # of a wheel's weight
REACHES = lognormal_from_band(0.05, 0.3)  # of that push; the rest goes into the bed
GIVEN_BACK = lognormal_from_band(0.5, 1.2)  # of the thrust of a smooth wall that has moved far
MODEL_ERROR = lognormal(1.0, 0.25)
BENDING_STRENGTH = 0.7e6  # Pa, of concrete mixed and tamped by hand
CONCRETE_WEIGHT = 23.0e3  # N/m³
VERGE_WEIGHT = 17.0e3  # N/m³
VERGE_FRICTION = 28.0  # degrees
VERGE_BELOW = 0.025  # m below the finished surface
BASE_FRICTION = 0.6
RUN = 1.5  # m of edging along which wheels push together
HALF = 0.5
PUSH = Meaning("Push of a wheel against the edging", "N", "kN")
HELD = Meaning("Push that the edging stands", "N", "kN")
TRUE_OVER_COMPUTED = Meaning("True over computed resistance", "-", "-")
DRAWN = "earthfast_proposal, section of the edging and its concrete [P]"


@dataclass(frozen=True, slots=True)
class _Grounds:
    """Why a value is taken, and where it is from."""

    because: str
    source: str


LEAN = _Grounds(
    "mixed and tamped by hand, with cracks of its own; good concrete stands 3 to 4 MPa",
    "earthfast_proposal, bending strength of concrete under edgings [P]",
)
SCATTER = _Grounds("verges and concrete differ", "earthfast_proposal, log-standard deviation 0.25 [P]")
BELOW = _Grounds("the verge is finished 25 mm below the paving", "common_practice, verge below paving [CP]")
PUT_BACK = _Grounds(
    "soil put back and trodden down, its cohesion lost", "earthfast_proposal, soil put back [P]"
)
LITTLE_MOVED = _Grounds(
    "a rough wall gets half as much again, and half of it before it has moved a few millimetres",
    "earthfast_proposal, 0.5 to 1.2 of the thrust of a smooth wall [P]",
)
CAST = _Grounds(
    "concrete cast on stone takes on its friction; 0.6 is that of 31 degrees",
    "en_1997_1, 6.5.3, concrete cast against the ground [M]",
)


def edge_push(
    force: FloatLike, factor: FloatLike, sideways_share: FloatLike, reaching_share: FloatLike
) -> Floats:
    """Push of a braking or turning wheel that comes to the edging.

    Parameters
    ----------
    force : array-like
        Usual weight of the wheels that stand over one run of edging. [N]
    factor : array-like
        Load over its usual value. [-]
    sideways_share : array-like
        Hardest push of the wheel sideways over its weight. [-]
    reaching_share : array-like
        Share of that push which the paving passes on to the edging; the rest goes into its bed by friction. [-]

    Returns
    -------
    push : array-like
        Push against the edging. [N]

    Notes
    -----
    F = P f s r, in the order of the arguments. Paving under a wheel is held by its own friction, which is more than the wheel
    can ask for: what comes to the edge comes by creeping, push after push, through the joints.

    References
    ----------
    en_1991_2, braking force up to 0.6 of the axle loads [M]
    earthfast_proposal, share that reaches the edging [P]
    """
    return np.asarray(
        np.asarray(force) * np.asarray(factor) * np.asarray(sideways_share) * np.asarray(reaching_share)
    )


def thrust_given_back(thrust: FloatLike, share: FloatLike, verge: FloatLike) -> Floats:
    """Push that the verge gives back before an edging has moved too far.

    Parameters
    ----------
    thrust : array-like
        Thrust at which level earth yields to a smooth wall, per length. [N/m]
    share : array-like
        Share of it that a rough edging gets while it has hardly moved. [-]
    verge : array-like
        1 where level earth stands against the edging, 0 where a slope or a wall begins beside it. [-]

    Returns
    -------
    thrust : array-like
        Push per length. [N/m]

    Notes
    -----
    P' = P m v, in the order of the arguments. The whole of it is reached only after several per cent of the height; what
    lies behind a wedge of some 1.7 times the height must be there for it.

    References
    ----------
    en_1997_1, annex C, movement for half of the passive pressure [M]
    earthfast_proposal, 0.5 to 1.2 of the thrust of a smooth wall [P]
    """
    return np.asarray(np.asarray(thrust) * np.asarray(share) * np.asarray(verge))


def sliding_resistance(weight: FloatLike, base_friction: FloatLike, thrust: FloatLike) -> Floats:
    """Push along an edging at which it slides out over the base.

    Parameters
    ----------
    weight : array-like
        Weight of edging and concrete per length. [N/m]
    base_friction : array-like
        Friction of concrete cast on the base. [-]
    thrust : array-like
        Push that the verge gives back per length. [N/m]

    Returns
    -------
    resistance : array-like
        Push per length. [N/m]

    Notes
    -----
    R = W μ + P, in the order of the arguments.

    References
    ----------
    definition, statics of a wall that slides [C]
    """
    return np.asarray(np.asarray(weight) * np.asarray(base_friction) + np.asarray(thrust))


def tipping_resistance(
    weight: FloatLike, width: FloatLike, thrust: FloatLike, height: FloatLike, lever: FloatLike
) -> Floats:
    """Push along an edging at which it tips over its outer foot.

    Parameters
    ----------
    weight : array-like
        Weight of edging and concrete per length. [N/m]
    width : array-like
        Width over which it stands. [m]
    thrust : array-like
        Push that the verge gives back per length. [N/m]
    height : array-like
        Height of the verge against it. [m]
    lever : array-like
        Height of the push above its underside. [m]

    Returns
    -------
    resistance : array-like
        Push per length. [N/m]

    Notes
    -----
    R = (W b/2 + P h/3)/a, in the order of the arguments: moments about the outer foot, the weight taken in the middle of the
    width, no bond of concrete to the base.

    References
    ----------
    definition, statics of a wall that tips [C]
    """
    steadied = np.asarray(weight) * np.asarray(width) / 2.0 + np.asarray(thrust) * np.asarray(height) / 3.0
    return np.asarray(steadied / np.asarray(lever))


def cracking_moment(bending_strength: FloatLike, bed: FloatLike, width: FloatLike) -> Floats:
    """Moment at which the strip of concrete under an edging cracks sideways.

    Parameters
    ----------
    bending_strength : array-like
        Tension at which the concrete cracks in bending. [Pa]
    bed : array-like
        Thickness of the strip. [m]
    width : array-like
        Its width. [m]

    Returns
    -------
    moment : array-like
        Moment about an upright axis. [N·m]

    Notes
    -----
    M = f t b²/6, in the order of the arguments: a rectangle lying flat, its back left out.

    References
    ----------
    definition, bending of a rectangle [C]
    """
    return np.asarray(np.asarray(bending_strength) * np.asarray(bed) * np.asarray(width) ** 2 / 6.0)


def edging_resistance(sliding: FloatLike, tipping: FloatLike, moment: FloatLike, error: FloatLike) -> Floats:
    """Push of a wheel at one place that an edging stands.

    Parameters
    ----------
    sliding : array-like
        Push per length at which it slides. [N/m]
    tipping : array-like
        Push per length at which it tips. [N/m]
    moment : array-like
        Moment at which its strip of concrete cracks. [N·m]
    error : array-like
        True over computed resistance. [-]

    Returns
    -------
    resistance : array-like
        Push. [N]

    Notes
    -----
    R = e √(8 M r), r = min(R₁, R₂); R₁, R₂, M, e in the order of the arguments. A strip held by r along a length ℓ carries
    r ℓ in its middle and bends there by r ℓ²/8: it cracks at ℓ = √(8 M/r), and what lies beyond no longer helps.

    References
    ----------
    definition, statics of a strip pushed in its middle [C]
    earthfast_proposal, a cracked strip is a lost edge [P]
    """
    least = np.minimum(np.asarray(sliding), np.asarray(tipping))
    return np.asarray(np.asarray(error) * np.sqrt(8.0 * np.asarray(moment) * least))


@check(CheckName.EDGE, "Do the blocks at its edges stay?", "wheels would push its edges out")
def edge(case: Case, trail: Trail) -> CheckResult:
    """Judge the push of braking and turning wheels against the edging; nothing to judge where no wheel comes to one."""
    wheels = tuple(
        act
        for load in case.loads
        if load.motion is Motion.ROLLING
        for act in acts_of(load, case.unit, repeated=True)
    )
    edged = np.array([float(way.build_up.courses[0].material in UNITS) for way in case.ways])
    if case.restraint is None or not wheels or not edged.any():
        return nothing_to_judge(case)
    steps = trail.under("edge")
    held = _Edging(case, case.restraint, steps).held()
    pushed, words = _pushed(case, wheels, steps)
    return CheckResult(
        Quantity(pushed.key, np.broadcast_to(pushed.values, case.shape)),
        Quantity(held.key, np.broadcast_to(held.values, case.shape)),
        words * len(case.ways),
        edged,
    )


def _beside(act: Act) -> int:
    """How many of a load's wheels push against one run of edging."""
    return sum(bool(np.hypot(circle.x, circle.y) < HALF * RUN) for circle in act.circles)


def _pushed(case: Case, wheels: tuple[Act, ...], steps: Trail) -> tuple[Quantity, tuple[str]]:
    shape = (1, case.draws.count)
    asked = [
        Asked(
            np.broadcast_to(act.force * _beside(act) * load_factor(case, act.load), shape),
            np.ones(1),
            act.words,
            act,
        )
        for act in wheels
    ]
    worst = worst_of(asked, shape)
    force = worst.of(lambda act: act.force * _beside(act))
    meaning = Meaning("Usual weight of the wheels over one run of edging", "N", "kN")
    push = steps.derive(
        "push",
        PUSH,
        edge_push,
        {
            "force": steps.enter(
                "force",
                meaning,
                force,
                Origin.GIVEN,
                f"{worst.words[0]}: those within {HALF * RUN} m of one another",
            ),
            "factor": enter_factor(case, worst, steps),
            **_shares(case, steps),
        },
    )
    return push, (f"{worst.words[0]}, braking or turning",)


def _shares(case: Case, steps: Trail) -> dict[str, Quantity]:
    """What `edge_push` takes besides the weight."""
    return {
        "sideways_share": steps.enter(
            "sideways_share",
            Meaning("Hardest push of a wheel sideways over its weight", "-", "-"),
            case.draws.of("sideways push", SIDEWAYS),
            Origin.ASSUMED,
            "0.2 turning at a walk, 0.6 braking hard",
            (source_note("en_1991_2, braking force up to 0.6 of the axle loads [M]"),),
        ),
        "reaching_share": steps.enter(
            "reaching_share",
            Meaning("Share of that push which comes to the edging", "-", "-"),
            case.draws.of("edge push", REACHES),
            Origin.ASSUMED,
            "the bed takes the most, and full joints more still",
            (source_note("earthfast_proposal, 0.05 to 0.3 [P]"),),
        ),
    }


@dataclass(frozen=True, slots=True)
class _Edging:
    """The edging of a case, and how what it stands is told."""

    case: Case
    restraint: Restraint
    steps: Trail

    def held(self) -> Quantity:
        """Push of a wheel that it stands."""
        weight, height = self.weight(), self.height()
        thrust, error = self.thrust(height), self.case.draws.of("edge model", MODEL_ERROR)
        inputs = {
            "sliding": self.sliding(weight, thrust),
            "tipping": self.tipping(weight, thrust, height),
            "moment": self.moment(),
            "error": self.assumed("error", TRUE_OVER_COMPUTED, error, SCATTER),
        }
        return self.steps.derive("held", HELD, edging_resistance, inputs)

    def assumed(self, key: str, meaning: Meaning, value: FloatLike, grounds: _Grounds) -> Quantity:
        """Enter a value that stands until a better one is known."""
        return self.steps.enter(
            key, meaning, value, Origin.ASSUMED, grounds.because, (source_note(grounds.source),)
        )

    def drawn(self, key: str, meaning: Meaning, value: float) -> Quantity:
        """Enter a size of the section."""
        grounds = _Grounds(f"{self.restraint.upright} {self.restraint.words}", DRAWN)
        return self.assumed(key, meaning, value, grounds)

    def weight(self) -> Quantity:
        """Weight of edging and concrete."""
        section = self.restraint.concrete + self.restraint.standing
        return self.drawn(
            "weight", Meaning("Weight of edging and concrete", "N/m", "kN/m"), section * CONCRETE_WEIGHT
        )

    def height(self) -> Quantity:
        """Height of the verge against it."""
        meaning = Meaning("Height of the verge against it", "m", "mm")
        return self.assumed("height", meaning, self.restraint.depth - VERGE_BELOW, BELOW)

    def thrust(self, height: Quantity) -> Quantity:
        """Push that the verge gives back."""
        weight, friction = (
            Meaning("Unit weight of the verge", "N/m³", "kN/m³"),
            Meaning("Friction angle of the verge", "°", "°"),
        )
        inputs = {
            "unit_weight": self.assumed("unit_weight", weight, VERGE_WEIGHT, PUT_BACK),
            "height": height,
            "friction_angle": self.assumed("friction_angle", friction, VERGE_FRICTION, PUT_BACK),
        }  # fmt: skip
        whole = Meaning("Thrust at which the verge yields to a smooth wall", "N/m", "kN/m")
        share = Meaning("Share of that thrust given back before the edging has moved too far", "-", "-")
        drawn = self.case.draws.of("verge thrust", GIVEN_BACK)
        given = {
            "thrust": self.steps.derive("verge_thrust", whole, passive_thrust_rankine, inputs),
            "share": self.assumed("given_back", share, drawn, LITTLE_MOVED),
            "verge": self.steps.enter(
                "verge",
                Meaning("Level earth stands against the edging (1 yes)", "-", "-"),
                float(self.case.has_verge),
                Origin.GIVEN,
                "no slope or retaining wall named within a metre"
                if self.case.has_verge
                else "a slope or a retaining wall is within a metre",
            ),
        }
        meaning = Meaning("Push that the verge gives back", "N/m", "kN/m")
        return self.steps.derive("thrust", meaning, thrust_given_back, given)

    def sliding(self, weight: Quantity, thrust: Quantity) -> Quantity:
        """Push at which it slides."""
        meaning = Meaning("Friction of concrete cast on the base", "-", "-")
        friction = self.assumed("base_friction", meaning, BASE_FRICTION, CAST)
        return self.steps.derive(
            "sliding",
            Meaning("Push along the edging at which it slides", "N/m", "kN/m"),
            sliding_resistance,
            {"weight": weight, "base_friction": friction, "thrust": thrust},
        )

    def tipping(self, weight: Quantity, thrust: Quantity, height: Quantity) -> Quantity:
        """Push at which it tips."""
        lever = self.drawn(
            "lever",
            Meaning("Height of the push, in the middle of the paving, above its underside", "m", "mm"),
            self.restraint.depth - HALF * self.case.unit.thickness,
        )
        return self.steps.derive(
            "tipping",
            Meaning("Push along the edging at which it tips", "N/m", "kN/m"),
            tipping_resistance,
            {"weight": weight, "width": self.width(), "thrust": thrust, "height": height, "lever": lever},
        )

    def moment(self) -> Quantity:
        """Moment at which its strip of concrete cracks."""
        strength = Meaning("Tension at which the concrete cracks in bending", "Pa", "MPa")
        inputs = {
            "bending_strength": self.assumed("bending_strength", strength, BENDING_STRENGTH, LEAN),
            "bed": self.drawn("bed", Meaning("Thickness of the strip", "m", "mm"), self.restraint.bed),
            "width": self.width(),
        }
        meaning = Meaning("Moment at which its strip of concrete cracks", "N·m", "kN·m")
        return self.steps.derive("moment", meaning, cracking_moment, inputs)

    def width(self) -> Quantity:
        """Width over which it stands."""
        return self.drawn("width", Meaning("Width over which it stands", "m", "mm"), self.restraint.width)
