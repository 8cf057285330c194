"""Time steps of conduction with freezing for a block of columns and winters at once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from earthfast.estimate import Floats
from earthfast.frost.column_grid import ColumnGrid
from earthfast.frost.unfrozen_water import CellCurve

# K, between the temperature a step assumed and the one its enthalpy means. At 0.05 K thin cells under
# insulation froze 12 mm too deep; tighter costs next to nothing.
SETTLED = 0.001
MOST_ROUNDS = 40
PATIENCE = 4  # rounds before stepping part of the way back, now and then, breaks a cycle between phases
GOLDEN = 0.6180339887498949
WORTH_SHEDDING = 0.6  # of the columns in hand


class _Newton:
    """Newton rounds of one backward Euler step in enthalpy; arrays are (cells, ...columns).

    In each cell T = s (E - min(max(E, 0), latent)), with slope s = dT/dE of the phase it is in and 0 while it
    freezes. Whatever a round leaves unsettled, its flows carry exactly the enthalpy that moved.
    """

    def __init__(self, latent: Floats, slope_mean: Floats, slope_half: Floats, enthalpy: Floats) -> None:
        self.latent, self.slope_mean, self.slope_half = latent, slope_mean, slope_half
        self.enthalpy = enthalpy
        shape = enthalpy.shape
        self.cells = shape[0]
        self.melted, self.slope, self.temperature, self.assumed = (np.empty(shape) for _ in range(4))
        self.before, self.change, self.pivot, self.spare = (np.empty(shape) for _ in range(4))
        self.face = np.empty(shape)
        self.flow = np.empty((shape[0] + 1, *shape[1:]))
        self.surface = self.admittance = self.deep_pull = np.zeros(shape[1:])

    def part(self, columns: npt.NDArray[np.intp], of_latent: npt.NDArray[np.intp]) -> _Newton:
        """The chosen columns on their own."""
        latent, mean, half = (
            constant.reshape(self.cells, -1).take(of_latent, axis=1)
            for constant in (self.latent, self.slope_mean, self.slope_half)
        )
        enthalpy = self.enthalpy.reshape(self.cells, -1).take(columns, axis=1)
        chosen = self.alike((latent, mean, half, enthalpy), of_latent)
        for name in ("before", "face"):
            setattr(chosen, name, getattr(self, name).reshape(self.cells, -1).take(columns, axis=1))
        for name in ("surface", "admittance", "deep_pull"):
            whole = np.broadcast_to(getattr(self, name), self.enthalpy.shape[1:])
            setattr(chosen, name, whole.reshape(-1)[columns])
        chosen.read_phase()
        return chosen

    def alike(
        self, constants: tuple[Floats, Floats, Floats, Floats], _of_latent: npt.NDArray[np.intp]
    ) -> _Newton:
        """The same rounds on other columns."""
        return _Newton(*constants)

    def put_back(self, chosen: _Newton, places: npt.NDArray[np.intp], columns: npt.NDArray[np.intp]) -> None:
        """Take over the state at some places among the chosen, for these columns here."""
        for name in ("enthalpy", "assumed", "melted", "slope", "temperature"):
            getattr(self, name).reshape(self.cells, -1)[:, columns] = getattr(chosen, name)[:, places]

    def read_phase(self) -> None:
        """Slope and temperature of each cell from its enthalpy."""
        sensible, sign = self.temperature, self.spare
        np.minimum(self.enthalpy, self.latent, out=self.melted)
        np.maximum(self.melted, 0.0, out=self.melted)
        np.subtract(self.enthalpy, self.melted, out=sensible)
        np.sign(sensible, out=sign)
        np.multiply(sign, self.slope_mean, out=self.slope)
        self.slope += self.slope_half
        self.slope *= sign
        sensible *= self.slope

    def read_flow(self, temperature: Floats) -> None:
        """Downward heat of the step through every face, at the temperatures given."""
        flow = self.flow
        np.subtract(temperature[:-1], temperature[1:], out=flow[1:-1])
        np.subtract(self.surface, temperature[0], out=flow[0])
        flow[:-1] *= self.face
        np.multiply(temperature[-1], self.admittance, out=flow[-1])
        flow[-1] -= self.deep_pull

    def round(self) -> None:
        """Solve the step linearised at the present state and move to its answer."""
        change, slope = self.change, self.slope
        self.read_flow(self.temperature)
        np.subtract(self.before, self.enthalpy, out=change)
        change += self.flow[:-1]
        change -= self.flow[1:]
        self._eliminate()
        np.multiply(change, slope, out=self.assumed)
        self.assumed += self.temperature
        self.enthalpy += change
        self.read_phase()

    def step_back(self, share: float) -> None:
        """Undo a share of the last round; the next round must be a whole one."""
        self.enthalpy -= share * self.change
        self.read_phase()

    def _eliminate(self) -> None:
        """Tridiagonal elimination across all columns, row by row."""
        face, slope, r, m, t = self.face, self.slope, self.change, self.pivot, self.spare
        np.add(face[:-1], face[1:], out=m[:-1])
        np.add(face[-1], self.admittance, out=m[-1])
        m *= slope
        m += 1.0
        u, v = t[0], t[1]
        np.divide(1.0, m[0], out=m[0])
        for i in range(1, self.cells):
            np.multiply(slope[i - 1], m[i - 1], out=u)
            u *= face[i]
            np.multiply(u, r[i - 1], out=v)
            r[i] += v
            u *= face[i]
            u *= slope[i]
            m[i] -= u
            np.divide(1.0, m[i], out=m[i])
        r[-1] *= m[-1]
        for i in range(self.cells - 2, -1, -1):
            np.multiply(r[i + 1], slope[i + 1], out=u)
            u *= face[i + 1]
            r[i] += u
            r[i] *= m[i]

    def unsettled(self) -> npt.NDArray[np.bool_]:
        """Whether some cell's enthalpy does not mean the temperature that the round assumed, a column."""
        np.subtract(self.temperature, self.assumed, out=self.spare)
        np.abs(self.spare, out=self.spare)
        return np.asarray(self.spare.max(axis=0) > SETTLED)


class _CurvedNewton(_Newton):
    """The same rounds where some water stays liquid below 0 °C: T and what has melted follow straight pieces of a curve."""

    def __init__(
        self, latent: Floats, slope_mean: Floats, slope_half: Floats, enthalpy: Floats, curve: CellCurve
    ) -> None:
        super().__init__(latent, slope_mean, slope_half, enthalpy)
        self.curve = curve

    def alike(
        self, constants: tuple[Floats, Floats, Floats, Floats], of_latent: npt.NDArray[np.intp]
    ) -> _Newton:
        """The same rounds on other columns."""
        return _CurvedNewton(*constants, self.curve.take(of_latent))

    def read_phase(self) -> None:
        """Slope, temperature and water of each cell from its enthalpy."""
        self.temperature[...], self.slope[...], self.melted[...] = self.curve.read(self.enthalpy)


@dataclass(frozen=True, slots=True)
class StepView:
    """State at the end of a step; the arrays are overwritten by the next step.

    Attributes
    ----------
    temperature : of the cells that may freeze, cells by winters by columns, °C.
    deep_temperature : of the cells below them, °C.
    enthalpy : of the same cells, J/m², 0 where frozen at 0 °C.
    flow : downward heat in the step through the faces above, between and below them, J/m².
    """

    temperature: Floats
    deep_temperature: Floats
    enthalpy: Floats
    flow: Floats


class EnthalpyBlock:
    """A block of columns, each under each winter; columns lie along the contiguous axis.

    Deep cells never freeze: eliminated from the bottom up once a step, they are a fixed admittance below
    the cells that may.
    """

    def __init__(self, grid: ColumnGrid, temperature: Floats, winters: int, step: float) -> None:
        n = grid.freezing_cells
        row = (slice(None), None, slice(None))
        self.winters, self.columns = winters, grid.latent.shape[1]
        resistance = grid.frozen_resistance[:n][row] / step
        self.between_frozen = np.concatenate([resistance[:1], resistance[1:] + resistance[:-1]])
        self.by_thaw = grid.unfrozen_resistance[:n][row] / step - resistance
        wet = grid.latent[:n] > 0.0
        self.per_latent = np.divide(1.0, grid.latent[:n], out=np.zeros(wet.shape), where=wet)[row]
        self.mixed = np.empty((n, winters, self.columns), bool)
        frozen, unfrozen = 1.0 / grid.frozen_capacity[:n], 1.0 / grid.unfrozen_capacity[:n]
        start = temperature[:n]
        enthalpy = np.where(start >= 0.0, start / unfrozen + grid.latent[:n], start / frozen)
        whole = np.broadcast_to(enthalpy[row], (n, winters, self.columns)).copy()
        latent, mean, half = (
            grid.latent[:n][row],
            0.5 * (unfrozen + frozen)[row],
            0.5 * (unfrozen - frozen)[row],
        )
        self.newton = _Newton(latent, mean, half, whole)
        if grid.curve is not None:
            whole[...] = grid.curve.enthalpy_of(start)[row]
            self.newton = _CurvedNewton(latent, mean, half, whole, grid.curve.by_winter())
        self.deep_capacity = grid.unfrozen_capacity[n:][row]
        deep = np.broadcast_to(temperature[n:][row], (temperature.shape[0] - n, winters, self.columns))
        self.deep_temperature: Floats = deep.copy()
        self.deep_offset: Floats = np.zeros_like(self.deep_temperature)
        self._eliminate_deep(grid.unfrozen_resistance[n - 1 :][row] / step)
        self.newton.read_phase()

    def _eliminate_deep(self, half: Floats) -> None:
        """Factors of the bottom-up elimination; `half` starts with the last cell above."""
        face = 1.0 / (half[:-1] + half[1:])
        self.deep_passing, self.deep_own, self.deep_below = (np.zeros_like(face) for _ in range(3))
        under = kept = np.zeros_like(face[0])
        for j in range(face.shape[0] - 1, -1, -1):
            total = self.deep_capacity[j] + face[j] + under * (1.0 - kept)
            self.deep_passing[j], self.deep_own[j] = face[j] / total, self.deep_capacity[j] / total
            self.deep_below[j] = under / total
            under, kept = face[j], self.deep_passing[j]
        self.deep_face = face[0]
        self.newton.admittance = self.deep_face * (1.0 - self.deep_passing[0])

    def _begin(self) -> None:
        """Conductances from the ice at the start of the step, and the pull of the deep ground.

        Half of a cell that is freezing or thawing conducts as the phase of the neighbour it faces.
        """
        newton, water, half = self.newton, self.newton.spare, self.newton.change
        np.multiply(newton.melted, self.per_latent, out=water)
        np.equal(newton.slope, 0.0, out=self.mixed)
        np.copyto(half, water)
        np.copyto(half[0], newton.surface >= 0.0, where=self.mixed[0])
        np.copyto(half[1:], water[:-1], where=self.mixed[1:])
        np.multiply(half, self.by_thaw, out=newton.face)
        np.copyto(half[:-1], water[:-1])
        np.copyto(half[:-1], water[1:], where=self.mixed[:-1])
        half *= self.by_thaw
        newton.face[1:] += half[:-1]
        newton.face += self.between_frozen
        np.divide(1.0, newton.face, out=newton.face)
        np.copyto(newton.before, newton.enthalpy)
        below = np.zeros(self.deep_offset.shape[1:])
        for j in range(len(self.deep_offset) - 1, -1, -1):
            below *= self.deep_below[j]
            np.multiply(self.deep_temperature[j], self.deep_own[j], out=self.deep_offset[j])
            self.deep_offset[j] += below
            np.copyto(below, self.deep_offset[j])
        newton.deep_pull = self.deep_face * below

    def _end(self) -> None:
        """Flows that the step really carried, and the deep ground that goes with them."""
        newton = self.newton
        newton.read_flow(newton.assumed)
        above = newton.assumed[-1]
        for j in range(len(self.deep_offset)):
            np.multiply(above, self.deep_passing[j], out=self.deep_temperature[j])
            self.deep_temperature[j] += self.deep_offset[j]
            above = self.deep_temperature[j]

    def _settle(self, columns: npt.NDArray[np.intp]) -> None:
        """Go on with the unsettled columns alone.

        Each is put back in the round that settles it, whatever its neighbours do, so that the answer does
        not depend on how columns are put into blocks.
        """
        part, going = self.newton, np.zeros(0, bool)
        for number in range(1, MOST_ROUNDS + 1):
            if not columns.size:
                return
            if part is self.newton:
                part, going = part.part(columns, columns % self.columns), np.ones(columns.size, bool)
            elif going.sum() < WORTH_SHEDDING * going.size:
                places = np.flatnonzero(going)
                part, columns, going = part.part(places, places), columns[places], going[places]
            part.round()
            open_still = going & part.unsettled()
            settled = np.flatnonzero(going & ~open_still)
            self.newton.put_back(part, settled, columns[settled])
            going = open_still
            if not going.any():
                return
            if number >= PATIENCE and number % 2 == 0 and number < MOST_ROUNDS:
                part.step_back(0.15 + 0.7 * (number * GOLDEN % 1.0))  # never the same share twice
        left = np.flatnonzero(going)
        self.newton.put_back(part, left, columns[left])

    def steps(self, surface_temperatures: Floats) -> Iterator[StepView]:
        """Step through surface temperatures of shape (steps, winters)."""
        newton = self.newton
        for surface in surface_temperatures[:, :, None]:
            newton.surface = surface
            self._begin()
            newton.round()
            self._settle(np.flatnonzero(newton.unsettled()))
            self._end()
            yield StepView(newton.temperature, self.deep_temperature, newton.enthalpy, newton.flow)

    @property
    def heat_stored(self) -> Floats:
        """Heat in each column, J/m², counted from ice at 0 °C; shape (winters, columns)."""
        deep = (self.deep_capacity * self.deep_temperature).sum(axis=0)
        return np.asarray(self.newton.enthalpy.sum(axis=0) + deep)
