"""SciPy finds the temperatures of a drive that our heat network finds."""

import os
import unittest

import numpy as np


@unittest.skipUnless("LOOMWRIGHT_PEERS" in os.environ, "no drive was written")
class Network(unittest.TestCase):
    def test_scipy_finds_the_same_temperatures(self):
        from network import Run, read

        pieces, cells, _ = read()
        theirs, _ = Run(pieces, cells).solve(tolerance_k=0.003)
        off_conductor = np.abs(theirs[:, :, 0] - cells[:, :, 3]).max()
        off_surface = np.abs(theirs[:, :, -1] - cells[:, :, 4]).max()
        self.assertLess(off_conductor, 0.1)
        self.assertLess(off_surface, 0.1)
        self.assertGreater(np.ptp(cells[:, :, 3]), 10.0, "a run that is the same all along tests little")


if __name__ == "__main__":
    unittest.main()
