"""Pictures of what was written, for a person to look at: python look.py FILE.step|FILE.dxf ... (PNG beside each)."""

import sys
from pathlib import Path

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt


def drawing(path):
    import ezdxf
    from ezdxf.addons.drawing import Frontend, RenderContext
    from ezdxf.addons.drawing.matplotlib import MatplotlibBackend

    document = ezdxf.readfile(path)
    figure = plt.figure(figsize=(16, 7))
    axes = figure.add_axes([0, 0, 1, 1])
    Frontend(RenderContext(document), MatplotlibBackend(axes)).draw_layout(document.modelspace())
    figure.savefig(path.with_suffix(".dxf.png"), dpi=110)


def body(path):
    import numpy as np
    from mpl_toolkits.mplot3d.art3d import Poly3DCollection
    from OCP.BRep import BRep_Tool
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.TopAbs import TopAbs_FACE, TopAbs_REVERSED
    from OCP.TopLoc import TopLoc_Location
    from OCP.TopoDS import TopoDS
    from test_step import explore, load

    _, shape = load(path)
    BRepMesh_IncrementalMesh(shape, 0.1, False, 0.2, False)
    triangles = []
    for face in explore(shape, TopAbs_FACE):
        face = TopoDS.Face(face)
        mesh = BRep_Tool.Triangulation_s(face, TopLoc_Location())
        points = [mesh.Node(i + 1).Coord() for i in range(mesh.NbNodes())]
        for i in range(mesh.NbTriangles()):
            a, b, c = mesh.Triangle(i + 1).Get()
            if face.Orientation() == TopAbs_REVERSED:
                b, c = c, b
            triangles.append([points[a - 1], points[b - 1], points[c - 1]])
    triangles = np.array(triangles)
    normals = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    normals /= np.linalg.norm(normals, axis=1, keepdims=True) + 1e-12
    figure = plt.figure(figsize=(16, 7))
    for place, (tilt, light) in enumerate([(50, (0.3, -0.5, 0.8)), (-50, (0.3, -0.5, -0.8))]):
        # Only faces that look at the eye: a face turned inside out leaves a hole in the picture.
        axes = figure.add_subplot(1, 2, place + 1, projection="3d", proj_type="ortho")
        axes.view_init(elev=tilt, azim=-70)
        eye = np.array(
            [
                np.cos(np.radians(tilt)) * np.cos(np.radians(-70)),
                np.cos(np.radians(tilt)) * np.sin(np.radians(-70)),
                np.sin(np.radians(tilt)),
            ]
        )
        seen = normals @ eye > 0
        shade = 0.35 + 0.6 * np.clip(normals[seen] @ np.array(light), 0, 1)
        colours = np.stack([shade, shade, shade * 1.02], axis=1).clip(0, 1)
        axes.add_collection3d(Poly3DCollection(triangles[seen], facecolors=colours, edgecolors="none"))
        low, high = triangles.reshape(-1, 3).min(0), triangles.reshape(-1, 3).max(0)
        axes.set(xlim=(low[0], high[0]), ylim=(low[1], high[1]), zlim=(low[2], high[2]))
        axes.set_box_aspect(high - low)
        axes.set_axis_off()
    figure.savefig(path.with_suffix(".step.png"), dpi=100)


for name in map(Path, sys.argv[1:]):
    drawing(name) if name.suffix == ".dxf" else body(name)
