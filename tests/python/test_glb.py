"""Every GLB is read as the format says, and its triangles close a body with the volume we state."""

import json
import struct
import unittest

import numpy as np
from facts import FOLDER, read

TYPES = {5123: np.uint16, 5125: np.uint32, 5126: np.float32}
WIDTHS = {"SCALAR": 1, "VEC3": 3}


def chunks(data):
    """The JSON and the binary part of a binary glTF 2.0 file (its specification, section 4)."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data)), "header"
    found, at = {}, 12
    while at < length:
        size, kind = struct.unpack_from("<I4s", data, at)
        assert size % 4 == 0, "a chunk begins on four bytes"
        found[kind] = data[at + 8 : at + 8 + size]
        at += 8 + size
    assert at == length and list(found) == [b"JSON", b"BIN\0"], "chunks"
    return json.loads(found[b"JSON"]), found[b"BIN\0"]


def values(scene, binary, index):
    accessor = scene["accessors"][index]
    view = scene["bufferViews"][accessor["bufferView"]]
    assert view.get("buffer", 0) == 0 and view.get("byteStride") is None
    width, kind = WIDTHS[accessor["type"]], TYPES[accessor["componentType"]]
    start = view.get("byteOffset", 0) + accessor.get("byteOffset", 0)
    count = accessor["count"] * width
    size = np.dtype(kind).itemsize
    assert start % size == 0 and count * size <= view["byteLength"]
    assert view.get("byteOffset", 0) + view["byteLength"] <= scene["buffers"][0]["byteLength"]
    array = np.frombuffer(binary, kind, count, start).reshape(-1, width)
    if "min" in accessor:
        np.testing.assert_allclose(array.min(axis=0), accessor["min"], rtol=1e-6)
        np.testing.assert_allclose(array.max(axis=0), accessor["max"], rtol=1e-6)
    return array


def placed(node):
    """What a node does to points: scale, then rotation (a quaternion), then translation."""
    x, y, z, w = node.get("rotation", [0, 0, 0, 1])
    assert abs(x * x + y * y + z * z + w * w - 1) < 1e-6, "a unit quaternion"
    turn = np.array(
        [
            [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
            [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
            [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
        ]
    )
    assert "matrix" not in node
    scale, move = np.array(node.get("scale", [1, 1, 1])), np.array(node.get("translation", [0, 0, 0]))
    return lambda points: (points * scale) @ turn.T + move


def bodies(path):
    """Name and triangles (n, 3, 3), in metres with y up, of every mesh that the scene shows."""
    scene, binary = chunks(path.read_bytes())
    assert scene["asset"]["version"] == "2.0" and scene["buffers"][0]["byteLength"] <= len(binary)
    shown = [(n, lambda points: points) for n in scene["scenes"][scene.get("scene", 0)]["nodes"]]
    while shown:
        number, above = shown.pop()
        node = scene["nodes"][number]
        here = placed(node)
        move = lambda points, here=here, above=above: above(here(points))
        shown += [(child, move) for child in node.get("children", [])]
        if "mesh" not in node:
            continue
        for primitive in scene["meshes"][node["mesh"]]["primitives"]:
            assert primitive.get("mode", 4) == 4, "triangles"
            position = primitive["attributes"]["POSITION"]
            points = values(scene, binary, position)
            assert "min" in scene["accessors"][position], "bounds are due"
            if "NORMAL" in primitive["attributes"]:
                normals = values(scene, binary, primitive["attributes"]["NORMAL"])
                assert len(normals) == len(points)
                np.testing.assert_allclose(np.linalg.norm(normals, axis=1), 1.0, atol=1e-4)
            order = values(scene, binary, primitive["indices"]).ravel()
            assert order.max() < len(points)
            assert 0 <= primitive.get("material", 0) < max(1, len(scene.get("materials", [])))
            corners = move(points[order].astype(float))
            yield node.get("name", ""), corners.reshape(-1, 3, 3)


def volume(triangles):
    """Volume by the divergence theorem."""
    return np.einsum("ij,ij->", triangles[:, 0], np.cross(triangles[:, 1], triangles[:, 2])) / 6


class Scenes(unittest.TestCase):
    def closed(self, name, triangles):
        """Every edge is run once each way."""
        corners = np.round(triangles * 1e7).astype(np.int64).reshape(-1, 3)
        _, index = np.unique(corners, axis=0, return_inverse=True)
        ends = index.reshape(-1, 3)
        edges = np.concatenate([ends[:, [0, 1]], ends[:, [1, 2]], ends[:, [2, 0]]])
        there, back = edges[edges[:, 0] < edges[:, 1]], edges[edges[:, 0] > edges[:, 1]][:, ::-1]
        order = lambda e: e[np.lexsort((e[:, 1], e[:, 0]))]
        np.testing.assert_array_equal(order(there), order(back), f"{name} is open")

    def test_every_part(self):
        for name, part in read().items():
            with self.subTest(part=name):
                found = list(bodies(FOLDER / f"{name}.glb"))
                self.assertEqual(len(found), 1)
                triangles = found[0][1]
                self.closed(name, triangles)
                # A plate lies flat: y is up, and it is as high as it is thick.
                self.assertAlmostEqual(np.ptp(triangles[..., 1]) * 1e3, part["thickness"], delta=1e-4)
                # Arcs are chords here; a chord of a twentieth of a millimetre costs less than this.
                self.assertAlmostEqual(volume(triangles) * 1e9 / part["volume"], 1, delta=2e-3)

    def test_every_end(self):
        ends = sorted(FOLDER.glob("end-*.glb"))
        self.assertGreater(len(ends), 3)
        for path in ends:
            with self.subTest(end=path.stem):
                for name, triangles in bodies(path):
                    self.closed(name, triangles)
                    self.assertGreater(volume(triangles), 0, name)


if __name__ == "__main__":
    unittest.main()
