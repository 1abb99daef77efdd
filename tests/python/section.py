"""A section of cables once more, on the same triangles, by scikit-fem."""

import os
import time
from pathlib import Path

import numpy as np
import skfem
from skfem.helpers import dot, grad


def read():
    """Mesh, materials and our answer."""
    path = Path(os.environ["LOOMWRIGHT_PEERS"]) / "section.tsv"
    nodes, triangles, seconds = [], [], None
    for line in path.read_text(encoding="utf-8").splitlines():
        kind, *values = line.split("\t")
        if kind == "node":
            nodes.append([float(v) for v in values])
        elif kind == "triangle":
            triangles.append([float(v) for v in values])
        else:
            seconds = float(values[0])
    return np.array(nodes), np.array(triangles), seconds


def solve(nodes, triangles):
    """Temperatures in degC at every node, and how long assembly and solution took."""
    corners = triangles[:, :3].astype(np.int64)
    mesh = skfem.MeshTri(nodes[:, :2].T.copy(), corners.T.copy())
    begun = time.perf_counter()
    basis = skfem.CellBasis(mesh, skfem.ElementTriP1())
    rim = skfem.FacetBasis(mesh, skfem.ElementTriP1(), facets=mesh.boundary_facets())
    conductivity = basis.with_element(skfem.ElementTriP0()).interpolate(triangles[:, 3])
    p = nodes[corners, :2]
    a, b = p[:, 1] - p[:, 0], p[:, 2] - p[:, 0]
    area = 0.5 * np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])
    region = triangles[:, 5].astype(np.int64)
    whole = np.bincount(region, weights=area)
    heat = basis.with_element(skfem.ElementTriP0()).interpolate(triangles[:, 4] / whole[region])

    @skfem.BilinearForm
    def conduct(u, v, w):
        return w.k * dot(grad(u), grad(v))

    @skfem.BilinearForm
    def film(u, v, _):
        return 12e-3 * u * v

    @skfem.LinearForm
    def source(v, w):
        return w.q * v

    @skfem.LinearForm
    def ambient(v, _):
        return 12e-3 * 30.0 * v

    matrix = conduct.assemble(basis, k=conductivity) + film.assemble(rim)
    right = source.assemble(basis, q=heat) + ambient.assemble(rim)
    found = skfem.solve(matrix, right)
    return found, time.perf_counter() - begun
