#!/usr/bin/python3
"""Makes an old photograph of the demo's apse out of a view of it, and the points that set it.

Usage: photograph.py VIEW.png PHOTO.png POINTS.csv EYE LOOK ANGLE   EYE and LOOK are X,Y,Z in metres

The view is what `render --view eye` drew with that eye; grain, yellowing and dark corners are laid over it. The points
are features of the drawn design: where each appears in the photograph, marked no better than a hand does (0.6 px), and
its place on the wall. Where they appear is worked out here from the apse's own measures (span 3 m, drum 2.5 m, at
5.3, 0, 0.7, turned by -90 degrees) and a pinhole, X right, Y down.
"""
import math
import random
import sys

import cairo

SPAN, DRUM, AT = 3.0, 2.5, (5.3, 0.0, 0.7)
RADIUS, WIDTH = SPAN / 2, math.pi * SPAN / 2


def on_apse(u, v):
    """The place in the building of a chart place."""
    if v <= DRUM:
        ring, z, phi = RADIUS, v, u / RADIUS
    else:
        theta = (v - DRUM) / RADIUS
        ring, z = RADIUS * math.cos(theta), DRUM + RADIUS * math.sin(theta)
        phi = math.pi / 2 + (u - RADIUS * math.pi / 2) / ring
    x, y = -ring * math.cos(phi), ring * math.sin(phi)
    return (AT[0] + y, AT[1] - x, AT[2] + z)


def minus(a, b):
    return tuple(p - q for p, q in zip(a, b))


def dot(a, b):
    return sum(p * q for p, q in zip(a, b))


def cross(a, b):
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def unit(a):
    length = math.sqrt(dot(a, a))
    return tuple(p / length for p in a)


def pixel(place, eye, look, angle, size):
    ahead = unit(minus(look, eye))
    right = unit(cross(ahead, (0, 0, 1)))
    down = cross(ahead, right)
    d, focal = minus(place, eye), size[0] / 2 / math.tan(math.radians(angle) / 2)
    depth = dot(d, ahead)
    return (size[0] / 2 + focal * dot(d, right) / depth, size[1] / 2 + focal * dot(d, down) / depth)


def features():
    """Corners of the niches, ends of the ribs, the basket's middle: chart places one finds again in the picture."""
    mid = WIDTH / 2
    out = []
    for k in range(3):
        cx = WIDTH * (k + 0.5) / 3
        out += [(cx - 0.52, 1.75), (cx + 0.52, 1.75), (cx, 2.27), (cx - 0.52, 0.78)]
    rib = RADIUS * math.cos((4.30 - DRUM) / RADIUS)
    return out + [(mid - 0.5 * rib, 4.30), (mid + 0.5 * rib, 4.30)]


def aged(view, path):
    surface = cairo.ImageSurface.create_from_png(view)
    size = (surface.get_width(), surface.get_height())
    ctx = cairo.Context(surface)
    rng = random.Random(1)
    side = 256
    grain = cairo.ImageSurface.create_for_data(bytearray(v for _ in range(side * side) for v in [rng.randrange(256)] * 3 + [255]),
                                               cairo.FORMAT_RGB24, side, side)
    pattern = cairo.SurfacePattern(grain)
    pattern.set_extend(cairo.EXTEND_REPEAT)
    ctx.set_source(pattern)
    ctx.paint_with_alpha(0.10)
    ctx.set_source_rgba(0.72, 0.56, 0.30, 0.16)
    ctx.paint()
    corners = cairo.RadialGradient(size[0] / 2, size[1] / 2, 0.35 * size[0], size[0] / 2, size[1] / 2, 0.65 * size[0])
    corners.add_color_stop_rgba(0, 0.1, 0.07, 0.04, 0)
    corners.add_color_stop_rgba(1, 0.1, 0.07, 0.04, 0.5)
    ctx.set_source(corners)
    ctx.paint()
    surface.write_to_png(path)
    return size


def main():
    view, photo, points = sys.argv[1:4]
    eye, look = (tuple(float(c) for c in text.split(",")) for text in sys.argv[4:6])
    size = aged(view, photo)
    rng = random.Random(2)
    with open(points, "w", encoding="utf-8") as f:
        f.write("x_px,y_px,u,v\n")
        for u, v in features():
            x, y = pixel(on_apse(u, v), eye, look, float(sys.argv[6]), size)
            f.write("%.2f,%.2f,%.4f,%.4f\n" % (x + rng.gauss(0, 0.6), y + rng.gauss(0, 0.6), u, v))


if __name__ == "__main__":
    main()
