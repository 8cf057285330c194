"""Stresses, strains and displacements under a load, from the integrals that every solution reduces to."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats


@dataclass(frozen=True, slots=True)
class Response:
    """What one circular load does at points: compression positive, deflection positive downward.

    Attributes
    ----------
    deflection : vertical displacement, m.
    radial_displacement : away from the load's centre, m.
    vertical_stress, radial_stress, tangential_stress : Pa.
    shear_stress : on vertical and radial faces, positive where the load pushes outward and down, Pa.
    vertical_strain, radial_strain, tangential_strain : fraction.
    """

    deflection: Floats
    radial_displacement: Floats
    vertical_stress: Floats
    radial_stress: Floats
    tangential_stress: Floats
    shear_stress: Floats
    vertical_strain: Floats
    radial_strain: Floats
    tangential_strain: Floats

    @property
    def least_horizontal_stress(self) -> Floats:
        """The most tensile horizontal stress: negative where there is tension, Pa."""
        return np.minimum(self.radial_stress, self.tangential_stress)

    @property
    def least_horizontal_strain(self) -> Floats:
        """The most tensile horizontal strain: negative where the layer stretches."""
        return np.minimum(self.radial_strain, self.tangential_strain)


@dataclass(frozen=True, slots=True)
class CartesianResponse:
    """What several loads do together at points: compression positive, deflection positive downward.

    Attributes
    ----------
    deflection, displacement_x, displacement_y : m.
    vertical_stress, stress_x, stress_y, shear_xy, shear_xz, shear_yz : Pa.
    vertical_strain, strain_x, strain_y : fraction; strain_xy is half the change of the right angle.
    """

    deflection: Floats
    displacement_x: Floats
    displacement_y: Floats
    vertical_stress: Floats
    stress_x: Floats
    stress_y: Floats
    shear_xy: Floats
    shear_xz: Floats
    shear_yz: Floats
    vertical_strain: Floats
    strain_x: Floats
    strain_y: Floats
    strain_xy: Floats

    @property
    def least_horizontal_stress(self) -> Floats:
        """The most tensile horizontal stress in any direction, Pa."""
        return _least(self.stress_x, self.stress_y, self.shear_xy)

    @property
    def least_horizontal_strain(self) -> Floats:
        """The most tensile horizontal strain in any direction."""
        return _least(self.strain_x, self.strain_y, self.strain_xy)


def _least(along_x: Floats, along_y: Floats, shear: Floats) -> Floats:
    return np.asarray(0.5 * (along_x + along_y) - np.hypot(0.5 * (along_x - along_y), shear))


@dataclass(frozen=True, slots=True)
class Integrals:
    """The six Hankel integrals of a unit pressure, in units of twice the top layer's shear modulus.

    Where a solution is e^-x (P + x B) downward and e^-y (Q + y D) upward, with P and Q shares of shear
    stress: `even` is P + Q, `odd` P - Q, `slope` B + D.

    Attributes
    ----------
    even, slope : against J1(ma) J0(mr).
    even_hoop, slope_hoop : against J1(ma) J1(mr) / (mr).
    odd : against J1(ma) J1(mr).
    sink : the vertical displacement, against J1(ma) J0(mr) / (ma).
    """

    even: Floats
    slope: Floats
    even_hoop: Floats
    slope_hoop: Floats
    odd: Floats
    sink: Floats

    @property
    def rows(self) -> tuple[Floats, ...]:
        """All six, in order."""
        return self.even, self.slope, self.even_hoop, self.slope_hoop, self.odd, self.sink


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What turns integrals into a response: the load, the material at the point and that of the top layer."""

    radius: FloatLike
    pressure: FloatLike
    offset: FloatLike
    shear_modulus: FloatLike
    poisson_ratio: FloatLike
    top_shear_modulus: FloatLike

    def response(self, integrals: Integrals) -> Response:
        """The stresses, strains and displacements that the integrals stand for."""
        unit_strain = np.asarray(self.pressure) / (2.0 * np.asarray(self.top_shear_modulus))
        twice_shear = 2.0 * np.asarray(self.shear_modulus)
        c = 1.0 - 2.0 * np.asarray(self.poisson_ratio)
        vertical_strain = unit_strain * (integrals.even + c * integrals.slope)
        areal_strain = -unit_strain * (integrals.even - c * integrals.slope)
        tangential_strain = -unit_strain * (integrals.even_hoop - c * integrals.slope_hoop)
        radial_strain = areal_strain - tangential_strain
        # Differences of strain, never Lamé's first constant: finite at a Poisson's ratio of one half.
        vertical_stress = unit_strain * twice_shear * (integrals.even + integrals.slope)
        return Response(
            deflection=unit_strain * self.radius * integrals.sink,
            radial_displacement=-tangential_strain * self.offset,
            vertical_stress=vertical_stress,
            radial_stress=vertical_stress + twice_shear * (radial_strain - vertical_strain),
            tangential_stress=vertical_stress + twice_shear * (tangential_strain - vertical_strain),
            shear_stress=unit_strain * twice_shear * integrals.odd,
            vertical_strain=vertical_strain,
            radial_strain=radial_strain,
            tangential_strain=tangential_strain,
        )
