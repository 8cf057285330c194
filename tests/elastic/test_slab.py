"""A slab on springs against the exact plate, and its orders of magnitude."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import j1

from earthfast import elastic

FORCE, RADIUS, THICKNESS, MODULUS, NU, REACTION = 40e3, 0.15, 0.15, 30e9, 0.15, 50e6
REACH = float(elastic.radius_of_relative_stiffness(THICKNESS, MODULUS, NU, REACTION))


def plate_on_springs(kernel):
    """Hankel solution of the thin plate under a uniform circle, at its centre."""
    size = RADIUS / REACH
    return quad(lambda s: kernel(s) * j1(s * size) / (1.0 + s**4), 0.0, 400.0, limit=2000, epsabs=1e-12)[0]


def test_interior_deflection_is_that_of_the_exact_plate():
    pressure = FORCE / (np.pi * RADIUS**2)
    exact = pressure * RADIUS / (REACTION * REACH) * plate_on_springs(lambda _: 1.0)
    found = elastic.slab_interior_deflection(FORCE, RADIUS, REACTION, REACH)
    assert found == pytest.approx(exact, rel=1e-4)


def test_interior_stress_of_ordinary_theory_is_that_of_the_exact_plate():
    pressure = FORCE / (np.pi * RADIUS**2)
    curvature = plate_on_springs(lambda s: s**2)
    moment = 0.5 * (1.0 + NU) * pressure * RADIUS * REACH * curvature
    found = elastic.slab_interior_stress(FORCE, RADIUS, THICKNESS, NU, REACH)
    found = found + elastic.slab_interior_stress_supplement(FORCE, RADIUS, THICKNESS, NU, REACH)
    assert found == pytest.approx(6.0 * moment / THICKNESS**2, rel=1e-3)
    # The worked example of ordinary theory, 2.02963 MPa, computed independently.
    assert found == pytest.approx(2.02963e6, rel=1e-5)


def test_large_loads_keep_their_own_contact_radius():
    assert elastic.equivalent_contact_radius(0.3, 0.15) == pytest.approx(0.3)
    at_limit = elastic.equivalent_contact_radius(np.array([1.7239, 1.7241]), 1.0)
    assert at_limit[0] == pytest.approx(at_limit[1], rel=1e-3)


def test_edge_is_the_worst_place_for_stress_and_the_corner_for_deflection():
    contact = elastic.equivalent_contact_radius(RADIUS, THICKNESS)
    interior = elastic.slab_interior_stress(FORCE, contact, THICKNESS, NU, REACH)
    edge = elastic.slab_edge_stress(FORCE, RADIUS, THICKNESS, NU, REACH)
    corner = elastic.slab_corner_stress(FORCE, RADIUS, THICKNESS, REACH)
    assert interior < corner < edge
    assert elastic.slab_corner_deflection(FORCE, RADIUS, REACTION, REACH) > elastic.slab_edge_deflection(
        FORCE, RADIUS, NU, REACTION, REACH
    )
