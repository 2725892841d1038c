#!/usr/bin/env python3
"""Makes the scan of the chapel's south wall, as a scanner might give it: invented, in millimetres, Z up, binary PLY.

The wall is 5 m wide and 3.2 m high, 15 mm out of plumb, with a bulge, old patches and dents of some millimetres, a
millimetre of noise in every coordinate, a doorway, two small holes where the scanner saw nothing, and crumbs beside it.
Always the same bytes.    make_scan.py FILE.ply
"""
import math
import random
import struct
import sys

WIDTH, HEIGHT, STEP = 5.0, 3.2, 0.02  # m
DOOR = (3.4, 4.4, 2.1)  # left, right, crown, m; a round head
MISSING = ((1.15, 2.35, 0.07), (2.7, 0.9, 0.05))  # x, z, radius of what the scanner did not see, m
# Hollows (-) and bumps (+) toward the painter: x, z, height, spread; m.
UNEVEN = ((0.8, 1.1, -0.014, 0.25), (2.2, 2.2, 0.009, 0.35), (1.6, 0.5, -0.010, 0.15), (4.6, 2.7, -0.012, 0.30),
          (2.9, 1.6, 0.006, 0.12))


def depth(x, z):
    """How far the wall stands toward the painter of its own plane, m."""
    d = 0.015 * (z / HEIGHT - 0.5) + 0.008 * math.sin(math.pi * x / WIDTH)
    for cx, cz, height, spread in UNEVEN:
        d += height * math.exp(-((x - cx) ** 2 + (z - cz) ** 2) / (2 * spread**2))
    return d


def is_wall(x, z):
    left, right, crown = DOOR
    radius = 0.5 * (right - left)
    in_door = left < x < right and (z < crown - radius or math.hypot(x - left - radius, z - crown + radius) < radius)
    return not in_door and all(math.hypot(x - cx, z - cz) > r for cx, cz, r in MISSING)


def main(path):
    rng = random.Random(1426)
    columns, rows = round(WIDTH / STEP), round(HEIGHT / STEP)
    points, faces = [], []
    for j in range(rows + 1):
        for i in range(columns + 1):
            x, z = WIDTH * i / columns, HEIGHT * j / rows
            noise = [rng.gauss(0, 0.001) for _ in range(3)]
            points.append((x + noise[0], -depth(x, z) + noise[1], z + noise[2]))
    for j in range(rows):
        for i in range(columns):
            if not is_wall(WIDTH * (i + 0.5) / columns, HEIGHT * (j + 0.5) / rows):
                continue
            a = j * (columns + 1) + i
            b, c, d = a + 1, a + columns + 2, a + columns + 1
            faces += [(a, b, c), (a, c, d)] if (i + j) % 2 else [(a, b, d), (b, c, d)]
    for _ in range(3):  # crumbs that float beside the wall
        x, z = rng.uniform(0, WIDTH), rng.uniform(0, HEIGHT)
        first = len(points)
        points += [(x, -0.3, z), (x + 0.01, -0.3, z), (x, -0.3, z + 0.01)]
        faces.append((first, first + 1, first + 2))
    with open(path, "wb") as out:
        out.write(
            (
                "ply\nformat binary_little_endian 1.0\ncomment invented wall, mm\n"
                f"element vertex {len(points)}\nproperty float x\nproperty float y\nproperty float z\n"
                f"element face {len(faces)}\nproperty list uchar int vertex_indices\nend_header\n"
            ).encode()
        )
        for p in points:
            out.write(struct.pack("<3f", *(1000 * c for c in p)))
        for f in faces:
            out.write(struct.pack("<B3i", 3, *f))


if __name__ == "__main__":
    main(sys.argv[1])
