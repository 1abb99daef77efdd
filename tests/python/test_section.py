"""scikit-fem finds the temperatures of a section that our finite elements find."""

import os
import unittest

import numpy as np


@unittest.skipUnless("LOOMWRIGHT_PEERS" in os.environ, "no section was written")
class Section(unittest.TestCase):
    def test_scikit_fem_finds_the_same_temperatures(self):
        from section import read, solve

        nodes, triangles, _ = read()
        theirs, _ = solve(nodes, triangles)
        self.assertLess(np.abs(theirs - nodes[:, 2]).max(), 1e-7)
        self.assertGreater(np.ptp(nodes[:, 2]), 20.0)


if __name__ == "__main__":
    unittest.main()
