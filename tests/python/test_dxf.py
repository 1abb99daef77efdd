"""ezdxf reads every DXF without an error or a repair and finds closed loops with the areas we state."""

import math
import unittest
from collections import Counter

import ezdxf
from ezdxf import units
from facts import FOLDER, read


def area(entity):
    """Area of a closed polyline with bulges: the shoelace rule and a segment of a circle for each arc."""
    points = list(entity.get_points("xyb"))
    total = 0.0
    for (x1, y1, bulge), (x2, y2, _) in zip(points, points[1:] + points[:1]):
        total += (x1 * y2 - x2 * y1) / 2
        if bulge:
            angle = 4 * math.atan(bulge)
            radius = math.hypot(x2 - x1, y2 - y1) / (2 * math.sin(angle / 2))
            total += radius * radius * (angle - math.sin(angle)) / 2
    return abs(total)


class Drawings(unittest.TestCase):
    def test_every_drawing(self):
        for name, part in read().items():
            with self.subTest(part=name):
                document = ezdxf.readfile(FOLDER / f"{name}.dxf")
                audit = document.audit()
                self.assertEqual([e.message for e in audit.errors], [])
                self.assertEqual([f.message for f in audit.fixes], [])
                self.assertEqual(document.units, units.MM)
                space = document.modelspace()
                self.loops(space, part)
                self.circles(space, part)

    def loops(self, space, part):
        found = []
        for entity in space.query("LWPOLYLINE"):
            self.assertTrue(entity.closed, entity.dxf.layer)
            found.append((entity.dxf.layer, area(entity)))
        for circle in space.query("CIRCLE"):
            if circle.dxf.layer.split("_")[0] in ("OUTLINE", "OPENING", "GROOVE", "POCKET"):
                found.append((circle.dxf.layer, math.pi * circle.dxf.radius**2))
        expected = sorted(part["loops"])
        self.assertEqual(Counter(l for l, _ in found), Counter(l for l, _ in expected))
        for (layer, ours), (_, theirs) in zip(expected, sorted(found)):
            self.assertAlmostEqual(ours, theirs, delta=1e-3 * max(1, ours) * 1e-3, msg=layer)

    def circles(self, space, part):
        def key(place):
            return tuple(round(v, 6) for v in place)

        for layers, bores in (
            (("DRILL", "TAP"), part["bores"]),
            (("DRILL_OUTER_SIDE", "TAP_OUTER_SIDE"), part["blind"]),
        ):
            found = [
                key((c.dxf.center.x, c.dxf.center.y, 2 * c.dxf.radius))
                for layer in layers
                for c in space.query(f'CIRCLE[layer=="{layer}"]')
            ]
            self.assertEqual(sorted(found), sorted(key(b[:3]) for b in bores))


if __name__ == "__main__":
    unittest.main()
