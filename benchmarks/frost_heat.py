"""Frost by heat flow: budget of the design mode, and against a plain solver in the same run.

Run with `python benchmarks/frost_heat.py`; prints times and ratios, asserts the budgets.
"""

from __future__ import annotations

import resource
import time
from concurrent.futures import ProcessPoolExecutor

import numpy as np
from scipy.integrate import solve_ivp

from earthfast.frost import (
    GridFineness,
    GroundStart,
    LayeredColumns,
    ThermalMaterial,
    ThermalProperties,
    climate_like,
    daily_winters,
    frozen_winters,
    typical_thermal,
)

DAY = 86400.0
FIRST, LAST = 95, 285  # days from the warmest: the cold half-year with margins
WINTERS, WAYS, DRAWS = 30, 60, 64
CORES = 2
BUDGET, FACTOR = 10.0, 50.0  # s of each core; times faster than the plain solver


def some_columns(count, generator):
    names = ThermalProperties.__dataclass_fields__
    materials = (
        ThermalMaterial.BLOCKS,
        ThermalMaterial.BEDDING_SAND,
        ThermalMaterial.CRUSHED_STONE,
        ThermalMaterial.SILT,
    )
    typical = [typical_thermal(material) for material in materials]
    scatter = generator.uniform(0.8, 1.2, (count, len(materials)))
    properties = {name: np.array([getattr(t, name) for t in typical]) * scatter for name in names}
    stone = generator.uniform(0.1, 0.45, count)
    thickness = np.column_stack([np.full(count, 0.06), np.full(count, 0.03), stone, np.full(count, 99.0)])
    return LayeredColumns(thickness, ThermalProperties(**properties))


def some_winters(count, generator):
    air = daily_winters(climate_like("Chicago 2001 to 2016"), count, generator)[:, FIRST:LAST]
    return np.where(air < 0.0, 0.75 * air, air)


def start():
    climate = climate_like("Chicago 2001 to 2016")
    return GroundStart(climate.mean, climate.amplitude, FIRST)


def plain_depth(columns, column, surface, cells, tolerance):
    """Method of lines with a standard stiff integrator, one column under one winter."""
    names = ThermalProperties.__dataclass_fields__
    kf, ku, cf, cu, latent = (columns.layer_values(name)[column] for name in names)
    fine, coarse = np.linspace(0.0, 1.3, cells + 1), 1.3 + 8.0 * (np.arange(1, 13) / 12.0) ** 2
    edges = np.concatenate([fine, coarse])
    centres, dz = 0.5 * (edges[1:] + edges[:-1]), np.diff(edges)
    layer = np.minimum(np.searchsorted(np.cumsum(columns.thickness[column]), centres), latent.size - 1)
    kf, ku, cf, cu, latent = kf[layer], ku[layer], cf[layer], cu[layer], latent[layer]
    climate = climate_like("Chicago 2001 to 2016")
    damping = np.sqrt(ku[-1] / cu[-1] * 365.0 * DAY / np.pi)
    temperature = climate.mean + climate.amplitude * np.exp(-centres / damping) * np.cos(
        2.0 * np.pi * FIRST / 365.0 - centres / damping
    )
    enthalpy = np.where(temperature > 0.0, temperature * cu + latent, temperature * cf)

    def rate(_, h, air):
        t = np.minimum(h, 0.0) / cf + np.maximum(h - latent, 0.0) / cu
        water = np.clip(h / latent, 0.0, 1.0)
        half = 0.5 * dz / (kf + (ku - kf) * water)
        flow = np.concatenate([[(air - t[0]) / half[0]], (t[:-1] - t[1:]) / (half[:-1] + half[1:]), [0.0]])
        return (flow[:-1] - flow[1:]) / dz

    deepest = 0.0
    for day, air in enumerate(surface):
        span = (day * DAY, (day + 1) * DAY)
        solved = solve_ivp(
            rate, span, enthalpy, method="LSODA", args=(air,), rtol=tolerance, atol=1e4, lband=1, uband=1
        )
        enthalpy = solved.y[:, -1]
        ice = 1.0 - np.clip(enthalpy[:cells] / latent[:cells], 0.0, 1.0)
        deepest = max(deepest, float(np.where(ice > 0.0, edges[:cells] + ice * dz[:cells], 0.0).max()))
    return deepest


def worker_seconds():
    """Processor time of finished workers: fair on a machine that is busy with other things."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def measure():
    generator = np.random.default_rng(1)
    winters = some_winters(WINTERS, generator)
    columns = some_columns(WAYS * DRAWS, generator)
    before, begun = worker_seconds(), time.perf_counter()
    with ProcessPoolExecutor(CORES) as executor:
        design = frozen_winters(columns, winters, start(), executor=executor)
    wall = time.perf_counter() - begun
    together = (worker_seconds() - before) / CORES
    each = together / design.frost_depth.size
    print(
        f"design mode: {design.frost_depth.size} columns x winters, {together:.1f} s of each core, {wall:.1f} s by the clock"
    )

    few = columns.part(slice(0, 3))
    truth = frozen_winters(few, np.repeat(winters[:2], 12, axis=1), start(), GridFineness(80, 12), DAY / 12)
    ours = np.abs(design.frost_depth[:3, :2] - truth.frost_depth).mean()
    begun = time.perf_counter()
    plain = np.array([[plain_depth(few, c, winters[w], 26, 1e-3) for w in range(2)] for c in range(3)])
    plain_each = (time.perf_counter() - begun) / plain.size
    theirs = np.abs(plain - truth.frost_depth).mean()
    print(f"error of depth: {1000 * ours:.1f} mm here, {1000 * theirs:.1f} mm plain method of lines")
    times = plain_each / each
    print(f"a winter: {1e6 * each:.0f} µs here, {1e6 * plain_each:.0f} µs plain, {times:.0f} times")
    return together, times


if __name__ == "__main__":
    seconds, ratio = measure()
    assert seconds < BUDGET, seconds
    assert ratio >= FACTOR, ratio
