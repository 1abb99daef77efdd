"""Ours beside general-purpose libraries, the same work, one process each, one run: a table with ratios."""

import numpy as np

import network
import section


def row(what, ours_s, theirs_s, off, library):
    print(f"{what:<46}{1e3 * ours_s:>10.2f} ms{1e3 * theirs_s:>11.1f} ms{theirs_s / ours_s:>9.0f} x   {off:<12}{library}")


def best(times, of):
    """The best of several, and its answer."""
    found, least = None, float("inf")
    for _ in range(times):
        answer, took = of()
        if took < least:
            found, least = answer, took
    return found, least


def main():
    print(f"{'':<46}{'ours':>13}{'theirs':>14}{'ratio':>11}   {'apart':<12}library")
    pieces, cells, ours_s = network.read()
    run = network.Run(pieces, cells)
    theirs, theirs_s = best(1, run.solve)
    off = np.abs(theirs[:, :, 0] - cells[:, :, 3]).max()
    row("WLTC, 1800 s, 3 cables x 40 cells x 3 nodes", ours_s, theirs_s, f"{off:.3f} K", "SciPy solve_ivp, BDF")
    nodes, triangles, ours_s = section.read()
    theirs, theirs_s = best(3, lambda: section.solve(nodes, triangles))
    off = np.abs(theirs - nodes[:, 2]).max()
    row(f"section of {len(nodes)} unknowns", ours_s, theirs_s, f"{off:.0e} K", "scikit-fem")
    for what, amount, seconds in network.growth():
        if what == "multipole":
            print(f"{'7 cables in a filled jacket, multipoles':<46}{1e6 * seconds:>10.1f} us")
        else:
            unit = "cells, 1800 s" if what == "cells" else "s of driving, 40 cells"
            print(f"{f'{amount:.0f} {unit}':<46}{1e3 * seconds:>10.2f} ms{1e6 * seconds / amount:>11.1f} us each")


if __name__ == "__main__":
    main()
