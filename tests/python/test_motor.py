"""motulator's machines stand still where our operating points are, and no lesser current does the same."""

import os
import unittest
from pathlib import Path
from types import SimpleNamespace

import numpy as np


def read():
    """Our points by kind."""
    path = Path(os.environ["LOOMWRIGHT_PEERS"]) / "motor.tsv"
    found = {}
    for line in path.read_text(encoding="utf-8").splitlines():
        kind, *values = line.split("\t")
        found.setdefault(kind, []).append([float(v) for v in values])
    return found


def speed(rpm):
    return rpm * np.pi / 30.0


@unittest.skipUnless("LOOMWRIGHT_PEERS" in os.environ, "no points were written")
class PermanentMagnet(unittest.TestCase):
    CURRENT_MAX = 400.0

    def setUp(self):
        from motulator.drive.control.sm import TorqueCharacteristics
        from motulator.drive.model import SynchronousMachine

        self.par = SimpleNamespace(n_p=3, R_s=0.018, L_d=0.37e-3, L_q=1.2e-3, psi_f=0.066)
        self.machine = SynchronousMachine(self.par)
        self.torque = TorqueCharacteristics(self.par)
        self.points = read()

    def voltage(self, current, rpm):
        """By motulator's flux; amplitude of a phase."""
        omega = self.par.n_p * speed(rpm)
        return np.abs(self.par.R_s * current + 1j * omega * self.torque.flux(current))

    def test_points_are_steady_states(self):
        for torque, rpm, dc, i_d, i_q, frequency, voltage, power in self.points["pm"]:
            current = i_d + 1j * i_q
            omega = self.par.n_p * speed(rpm)
            flux = self.torque.flux(current)
            u = self.par.R_s * current + 1j * omega * flux
            machine = self.machine
            machine.state.psi_s = flux
            machine.inp = SimpleNamespace(u_ss=u, w_M=speed(rpm))
            machine.set_outputs(0.0)
            self.assertLess(abs(machine.rhs()[0]), 1e-9)
            self.assertAlmostEqual(machine.tau_M, torque, delta=1e-9 * 300.0)
            self.assertAlmostEqual(abs(u), voltage, delta=1e-9 * dc)
            self.assertAlmostEqual(1.5 * (u * np.conj(current)).real, power, delta=1e-6)
            self.assertAlmostEqual(omega / (2.0 * np.pi), frequency, delta=1e-9 * 1000.0)
            self.assertLessEqual(voltage, dc / np.sqrt(3.0) * (1.0 + 1e-9))

    def test_unweakened_points_lie_on_their_mtpa(self):
        on_it = 0
        for torque, rpm, dc, i_d, i_q, _, voltage, _ in self.points["pm"]:
            if torque == 0.0 or dc / np.sqrt(3.0) * (1.0 - 1e-6) < voltage:
                continue
            beta = self.torque.mtpa(np.hypot(i_d, i_q))
            self.assertAlmostEqual(np.angle(i_d + 1j * abs(i_q)), beta, delta=1e-6)
            on_it += 1
        self.assertGreater(on_it, 20)

    def test_no_lesser_current_does_it(self):
        """All currents of the same torque, laid out by i_d: none within the voltage is smaller."""
        weakened = 0
        for torque, rpm, dc, i_d, i_q, _, voltage, _ in self.points["pm"]:
            limit = dc / np.sqrt(3.0)
            d = np.linspace(-self.CURRENT_MAX, 0.0, 20_001)
            q = torque / (1.5 * self.par.n_p * (self.par.psi_f + (self.par.L_d - self.par.L_q) * d))
            within = self.voltage(d + 1j * q, rpm) <= limit
            self.assertTrue(within.any())
            least = np.hypot(d, q)[within].min()
            self.assertLessEqual(np.hypot(i_d, i_q), least * (1.0 + 1e-9))
            # The layout has steps of 20 mA.
            self.assertAlmostEqual(np.hypot(i_d, i_q), least, delta=0.05)
            weakened += voltage > limit * (1.0 - 1e-6)
        self.assertGreater(weakened, 20)

    def test_what_is_left_of_a_torque_is_the_most(self):
        """All currents within both limits: none makes more."""
        self.assertGreater(len(self.points["pm-left"]), 10)
        size, angle = np.meshgrid(
            np.linspace(0.0, self.CURRENT_MAX, 401), np.linspace(0.0, np.pi, 721)
        )
        grid = size * np.exp(1j * angle)
        made = self.torque.torque(self.torque.flux(grid))
        for torque, rpm, dc, left in self.points["pm-left"]:
            # Braking is driving with the speed turned round.
            sense = -1.0 if torque < 0.0 else 1.0
            within = self.voltage(grid, sense * rpm) <= dc / np.sqrt(3.0)
            most = made[within].max()
            self.assertLess(abs(left), abs(torque))
            self.assertLessEqual(most, abs(left) * (1.0 + 1e-9) + 1e-9)
            self.assertAlmostEqual(most, abs(left), delta=0.01 * abs(torque))


@unittest.skipUnless("LOOMWRIGHT_PEERS" in os.environ, "no points were written")
class Induction(unittest.TestCase):
    R_S, R_R, L_M, LEAK = 2.9338, 1.355, 0.14375, 0.00587

    def setUp(self):
        from motulator.drive.model import InductionMachine

        # Their model has all leakage on the rotor's side; the same machine with the rotor's turns counted anew.
        stator, rotor = self.L_M + self.LEAK, self.L_M + self.LEAK
        self.turns = stator / self.L_M
        leakage = self.turns**2 * rotor - stator
        self.par = SimpleNamespace(
            n_p=2, R_s=self.R_S, R_r=self.turns**2 * self.R_R, L_s=stator, L_ell=leakage
        )
        self.machine = InductionMachine(self.par)

    def test_points_are_steady_states(self):
        points = read()["im"]
        self.assertGreater(len(points), 8)
        rotor_h = self.L_M + self.LEAK
        for torque, rpm, dc, i_d, i_q, frequency, voltage, power in points:
            current, omega = i_d + 1j * i_q, 2.0 * np.pi * frequency
            # Rotor flux along the axis of i_d; rotor current from it.
            flux_r = self.L_M * i_d
            rotor = (flux_r - self.L_M * current) / rotor_h
            flux_s = (self.L_M + self.LEAK) * current + self.L_M * rotor
            slip = omega - self.par.n_p * speed(rpm)
            u = self.R_S * current + 1j * omega * flux_s
            machine = self.machine
            machine.state.psi_ss, machine.state.psi_rs = flux_s, self.turns * flux_r
            machine.inp = SimpleNamespace(u_ss=u, w_M=speed(rpm))
            machine.set_outputs(0.0)
            self.assertAlmostEqual(abs(machine.out.i_ss - current), 0.0, delta=1e-9)
            self.assertAlmostEqual(machine.out.tau_M, torque, delta=1e-8)
            # In their coordinates, which stand, steady flux turns.
            stator_rate, rotor_rate = machine.rhs()
            self.assertAlmostEqual(abs(stator_rate - 1j * omega * flux_s), 0.0, delta=1e-7)
            turning = 1j * omega * machine.state.psi_rs
            self.assertAlmostEqual(abs(rotor_rate - turning), 0.0, delta=1e-7)
            self.assertAlmostEqual(abs(u), voltage, delta=1e-7)
            self.assertAlmostEqual(1.5 * (u * np.conj(current)).real, power, delta=1e-6)
            self.assertGreaterEqual(slip * torque, 0.0)


if __name__ == "__main__":
    unittest.main()
