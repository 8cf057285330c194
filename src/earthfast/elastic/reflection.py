"""Waves of pressure in a stack of layers, one wave number at a time, by reflection from below.

Each layer carries a pair of waves dying away downward from its top, e^-x (P + x B) and e^-x B, and a pair
dying away upward from its underside, (Q, D). What lies beneath an interface answers a displacement with a
symmetric 2 x 2 impedance; the answer turns the downward pair into the upward pair, and the layer's own
impedance follows. Only decaying exponentials and sums of like sign occur, so nothing overflows and
little cancels, whatever the thickness.

Impedances are in units of twice the layer's shear modulus; c stands for 1 - 2 x Poisson's ratio.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Floats


@dataclass(frozen=True, slots=True)
class Stack:
    """Layers in units of the load's radius, each entry of the batch's shape.

    Attributes
    ----------
    thickness : n - 1 thicknesses over the radius.
    shear_modulus : n shear moduli, any unit.
    c : n values of 1 - 2 x Poisson's ratio.
    slip : n - 1 slips times twice the upper layer's shear modulus over the radius; None is bonded.
    """

    thickness: tuple[Floats, ...]
    shear_modulus: tuple[Floats, ...]
    c: tuple[Floats, ...]
    slip: tuple[Floats | None, ...]


@dataclass(frozen=True, slots=True)
class Waves:
    """Amplitudes of one layer: the downward pair at its top, the upward pair at its underside."""

    down: Floats
    down_slope: Floats
    up: Floats
    up_slope: Floats


@dataclass(frozen=True, slots=True)
class _Impedance:
    tangential: Floats
    normal: Floats
    coupling: Floats


@dataclass(frozen=True, slots=True)
class _Interface:
    """An underside: what lies below, how much slip passes on, and the reflection (three numbers)."""

    below: _Impedance
    grip: Floats | None
    decay: Floats
    path: Floats
    first: Floats
    second: Floats
    third: Floats
    determinant: Floats


@dataclass(frozen=True, slots=True)
class _Returned:
    """The upward pair at a layer's top per downward pair there: a 2 x 2 matrix, its lower left entry -2 x first."""

    first: Floats
    trace: Floats
    upper_right: Floats
    determinant: Floats


def layer_waves(wave_number: Floats, stack: Stack, deepest: int) -> list[Waves]:
    """Waves in the layers down to number `deepest` under unit pressure on the surface.

    In the top layer the half-space of its own material is left out (its downward slope is 1), so that
    all its waves die away with twice the layer's thickness.
    """
    interfaces = _interfaces(wave_number, stack)
    top = _returned(interfaces[0])
    twice_right = top.upper_right + top.upper_right
    divisor = (1.0 - top.determinant) + (twice_right - 2.0 * top.first)
    down = top.upper_right / divisor
    excess = (top.determinant - 0.5 * top.trace + top.first - twice_right) / divisor
    slope = 1.0 + excess
    waves = []
    for number, interface in enumerate(interfaces[: deepest + 1]):
        c = stack.c[number]
        passing, passing_slope = interface.decay * (down + interface.path * slope), interface.decay * slope
        up = (interface.first + interface.second) * passing + interface.third * passing_slope
        up_slope = interface.second * passing_slope - interface.first * (passing_slope + 2.0 * passing)
        waves.append(Waves(down, slope if number else excess, up, up_slope))
        shift = passing + up - c * (passing_slope + up_slope)
        sink = passing - up + (1.0 + c) * (passing_slope - up_slope)
        down, slope = _entering(interface, stack.c[number + 1], shift, sink)
    waves.append(Waves(down, slope, np.zeros(1), np.zeros(1)))
    return waves


def _entering(interface: _Interface, c: Floats, shift: Floats, sink: Floats) -> tuple[Floats, Floats]:
    """The downward pair at the top of the layer below an interface that moves by (shift, sink)."""
    below = interface.below
    if interface.grip is not None:
        loose = (1.0 - interface.grip) * below.coupling / below.tangential
        shift = interface.grip * shift - loose * sink
    shear = below.tangential * shift + below.coupling * sink
    pressure = below.coupling * shift + below.normal * sink
    factor = 0.5 / (1.0 + c)
    return factor * (shift + c * pressure) + 0.5 * shear, factor * (pressure - shift + sink - shear)


def _interfaces(wave_number: Floats, stack: Stack) -> list[_Interface]:
    """All interfaces, from the top, worked from the half-space up."""
    c = stack.c[-1]
    same = (1.0 + c) / (1.0 + 2.0 * c)
    below = _Impedance(same, same, c / (1.0 + 2.0 * c))
    found = []
    for number in reversed(range(len(stack.thickness))):
        contrast = stack.shear_modulus[number + 1] / stack.shear_modulus[number]
        path = wave_number * stack.thickness[number]
        slip = stack.slip[number]
        grip = None if slip is None else 1.0 / (1.0 + wave_number * slip * contrast * below.tangential)
        interface = _interface(below, contrast, grip, path, stack.c[number])
        found.append(interface)
        if number:
            below = _impedance(_returned(interface), stack.c[number])
    return found[::-1]


def _interface(
    below: _Impedance, contrast: Floats, grip: Floats | None, path: Floats, c: Floats
) -> _Interface:
    """The reflection at an underside."""
    tangential, coupling = contrast * below.tangential, contrast * below.coupling
    normal = contrast * below.normal
    if grip is not None:
        normal = normal - (1.0 - grip) * coupling * coupling / tangential
        tangential, coupling = grip * tangential, grip * coupling
    product = tangential * normal - coupling * coupling
    crossed, wide = coupling + product, 1.0 + c
    steady = 1.0 + product + (c + c) * crossed
    varying = wide * (tangential + normal)
    scale = 1.0 / (steady + varying)
    wide_scale = wide * scale
    return _Interface(
        below=below,
        grip=grip,
        decay=np.exp(-path),
        path=path,
        first=(1.0 - coupling - crossed) * scale,
        second=(normal - tangential) * wide_scale,
        third=(c * product - coupling) * (wide_scale + wide_scale),
        determinant=(varying - steady) * scale,
    )


def _returned(interface: _Interface) -> _Returned:
    path = interface.path
    twice, twice_path = interface.decay * interface.decay, path + path
    first, second = twice * interface.first, twice * interface.second
    carried = twice_path * first
    return _Returned(
        first=first,
        trace=2.0 * (second - carried),
        upper_right=twice * interface.third + twice_path * second - path * carried,
        determinant=twice * twice * interface.determinant,
    )


def _impedance(returned: _Returned, c: Floats) -> _Impedance:
    """What a layer and all below it answer at the layer's top."""
    twice_c, wide = c + c, 1.0 + c
    passing, closed = 1.0 - returned.determinant, 1.0 + returned.determinant
    twice_right = returned.upper_right + returned.upper_right
    scale = 1.0 / (
        (1.0 + twice_c) * passing + (2.0 + (twice_c + twice_c) * wide) * returned.first - twice_right
    )
    stiff = wide * scale
    return _Impedance(
        tangential=stiff * (closed - returned.trace),
        normal=stiff * (closed + returned.trace),
        coupling=scale * (c * passing - twice_right - twice_c * returned.first),
    )
