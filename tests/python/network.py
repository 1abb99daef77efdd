"""The heat network of a run once more, written out plainly with NumPy and solved by SciPy.

Three cables in a row through two sections, forty cells, three nodes across; radiation between neighbours,
rising air, terminals with joints. From the same sources as ours, not from our code: only the dimensions and the
drive are read.
"""

import os
import time
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import lil_matrix

SIGMA = 5.670374419e-8
G = 9.80665
CABLES, NODES = 3, 3
AIR_C = np.array([60.0, 40.0])
INNER_MM, OUTER_MM = 12.0, 17.0


def read():
    """Drive, cells and our answer."""
    path = Path(os.environ["LOOMWRIGHT_PEERS"]) / "network.tsv"
    pieces, cells, seconds = [], [], None
    for line in path.read_text(encoding="utf-8").splitlines():
        kind, *values = line.split("\t")
        if kind == "piece":
            pieces.append([float(v) for v in values])
        elif kind == "cell":
            cells.append([float(v) for v in values])
        elif kind == "seconds":
            seconds = float(values[0])
    return np.array(pieces), np.array(cells).reshape(-1, CABLES, 6), seconds


def growth():
    """How our time grows: what, how much of it, seconds."""
    path = Path(os.environ["LOOMWRIGHT_PEERS"]) / "network.tsv"
    rows = [line.split("\t") for line in path.read_text(encoding="utf-8").splitlines()]
    return [(r[0], float(r[1]), float(r[2])) for r in rows if r[0] in ("cells", "duty", "multipole")]


def air(t_c):
    """Density, kinematic viscosity, conductivity, Prandtl number of dry air at 101 325 Pa.

    Lemmon and Jacobsen 2004 at low density, heat capacity of the ideal gas.
    """
    t = t_c + 273.15
    molar = 28.9586
    gas = 8.314472 / molar * 1000.0
    density = 101325.0 / (gas * t)
    delta = density / (10.4477 * molar)
    tau = 132.6312 / t
    ln = np.log(t / 103.3)
    omega = np.exp(
        0.431 - 0.4623 * ln + 0.08406 * ln**2 + 0.005341 * ln**3 - 0.00331 * ln**4
    )
    eta0 = 0.0266958 * np.sqrt(molar * t) / (0.36**2 * omega)
    eta = eta0 + delta * (10.72 * tau**0.2 - 8.876 * tau**0.6)
    conductivity = (
        1.308 * eta0 + 1.405 * tau**-1.1 - 1.036 * tau**-0.3 + delta * 8.743 * tau**0.1
    ) * 1e-3

    def vibration(u):
        return u * u * np.exp(-u) / (1.0 - np.exp(-u)) ** 2

    over_r = (
        3.490888032
        + 2.395525583e-6 * t
        + 7.172111248e-9 * t**2
        - 3.115413101e-13 * t**3
        + 0.223806688 * t**-1.5
        + 0.791309509 * vibration(3364.011 / t)
        + 0.212236768 * vibration(2242.45 / t)
    )
    heat = over_r * gas + 1.2 * (318.15 / t) ** 3
    viscosity = eta * 1e-6
    return density, viscosity / density, conductivity, heat * viscosity / conductivity


def convection_w_m2(surface_c, air_c, body_m):
    """Churchill and Chu 1975 on a body's diameter."""
    film = 0.5 * (surface_c + air_c)
    density, nu, conductivity, prandtl = air(film)
    rise = surface_c - air_c
    rayleigh = G * np.abs(rise) * body_m**3 / ((film + 273.15) * nu**2) * prandtl
    below = (1.0 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)
    nusselt = (0.60 + 0.387 * rayleigh ** (1 / 6) / below) ** 2
    return nusselt * conductivity / body_m * rise


class Run:
    """Everything that does not change."""

    def __init__(self, pieces, cells):
        self.edges = np.concatenate([[0.0], np.cumsum(pieces[:, 0])])
        self.square = pieces[:, 1] ** 2
        self.length = cells[:, 0, 0]
        self.section = cells[:, 0, 1].astype(int)
        self.count = len(cells)
        d = np.linspace(INNER_MM, OUTER_MM, NODES) * 1e-3
        middle = 0.5 * (d[1:] + d[:-1])
        ring = lambda a, b: np.pi / 4 * (b**2 - a**2) * 2.4e6
        capacity = np.zeros(NODES)
        capacity[0] = 63.39e-6 * 3.45e6
        capacity[:-1] += ring(d[:-1], middle)
        capacity[1:] += ring(middle, d[1:])
        self.capacity = capacity
        self.shell = 2 * np.pi / (3.5 * np.log(d[1:] / d[:-1]))
        self.girth = np.pi * OUTER_MM * 1e-3
        along = 390.0 * 63.39e-6
        self.next = along / (0.5 * (self.length[1:] + self.length[:-1]))
        self.half = 2 * along / self.length[[0, -1]]
        # A touching row: neighbours see each other (crossed strings, pitch of one diameter).
        f = (np.pi / 2 - 1) / np.pi
        self.view = np.zeros((CABLES, CABLES))
        for i in range(CABLES - 1):
            self.view[i, i + 1] = self.view[i + 1, i] = f
        self.open = 1.0 - self.view.sum(axis=1)
        self.body = OUTER_MM * 1e-3 * self.open.sum()
        # Radiosity: G = F ((1 - e) G + e E) + open E_around
        e = 0.9
        self.to = np.linalg.inv(np.eye(CABLES) - (1 - e) * self.view)

    def outward(self, surface):
        """W/m from every surface."""
        emit = SIGMA * (surface + 273.15) ** 4
        out = np.empty_like(surface)
        for section in (0, 1):
            here = self.section == section
            t, e = surface[here], emit[here]
            around = SIGMA * (AIR_C[section] + 273.15) ** 4
            if section == 0:
                flow = convection_w_m2(t, AIR_C[0], OUTER_MM * 1e-3)
                out[here] = self.girth * (flow + 0.9 * (e - around))
            else:
                got = (0.9 * e @ self.view.T + self.open * around) @ self.to.T
                flow = convection_w_m2(t, AIR_C[1], self.body) * self.open
                out[here] = self.girth * (flow + 0.9 * (e - got))
        return out

    def slope(self, t, y):
        """dT/dt of every node."""
        at = min(np.searchsorted(self.edges, t, side="right") - 1, len(self.square) - 1)
        square = self.square[max(at, 0)]
        temperature = y.reshape(self.count, CABLES, NODES)
        flow = np.zeros_like(temperature)
        through = self.shell * (temperature[:, :, :-1] - temperature[:, :, 1:])
        flow[:, :, :-1] -= through
        flow[:, :, 1:] += through
        flow[:, :, 0] += square * 0.272e-3 * (234.5 + temperature[:, :, 0]) / 254.5
        flow[:, :, -1] -= self.outward(temperature[:, :, -1])
        flow *= self.length[:, None, None]
        line = temperature[:, :, 0]
        on = self.next[:, None] * (line[:-1] - line[1:])
        flow[:-1, :, 0] -= on
        flow[1:, :, 0] += on
        joint = square * 20e-6
        for cell, body, half in ((0, 90.0, self.half[0]), (-1, 65.0, self.half[1])):
            both = 1.0 + half * 0.3
            flow[cell, :, 0] += half / both * (body - line[cell]) + joint * half * 0.3 / both
        return (flow / (self.capacity * self.length[:, None, None])).ravel()

    def sparsity(self):
        """Which nodes know of which."""
        size = self.count * CABLES * NODES
        found = lil_matrix((size, size))
        for cell in range(self.count):
            for cable in range(CABLES):
                at = (cell * CABLES + cable) * NODES
                found[at : at + NODES, at : at + NODES] = 1
                for other in range(CABLES):
                    found[at + NODES - 1, (cell * CABLES + other + 1) * NODES - 1] = 1
                for beside in (cell - 1, cell + 1):
                    if 0 <= beside < self.count:
                        found[at, (beside * CABLES + cable) * NODES] = 1
        return found

    def solve(self, tolerance_k=0.02, max_step=2.0, rtol=1e-4):
        """Temperatures at the end, and how long it took."""
        start = np.repeat(AIR_C[self.section], CABLES * NODES)
        begun = time.perf_counter()
        found = solve_ivp(
            self.slope,
            (0.0, self.edges[-1]),
            start,
            method="BDF",
            rtol=rtol,
            atol=tolerance_k,
            max_step=max_step,
            jac_sparsity=self.sparsity(),
        )
        took = time.perf_counter() - begun
        return found.y[:, -1].reshape(self.count, CABLES, NODES), took
