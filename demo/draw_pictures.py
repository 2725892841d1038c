#!/usr/bin/python3
"""Draws the pictures of the demo chapel, and the outlines a painter would click round their figures.

The chapel of the four gardeners is invented: a barrel vault (span 4 m, length 5 m) over two painted loggias that face
each other across an ornamental band at the crown, and an apse (span 3 m, drum 2.5 m) with three figures in niches
under a sower in the half dome; the lunette over the entrance (span 4 m, rise 2 m) has a wreath about its round window.
The wall with the door has a frieze and a garden in an oval; in the vault's crown, a round opening to the sky that is
drawn as it is to be seen by someone who stands near the entrance.

Usage: draw_pictures.py FOLDER   writes vault.png, apse.png, lunette.png and outlines/*.txt, zones/*.txt;
                                 frieze.png, garden.png and garden-mask.csv, sky.png and sky-mask.csv
Each text file lists chart places `u v` in metres; its first lines say what it is. Coordinates in this script are chart
metres (u to the right, v up), as in the drawing.
"""
import math
import os
import random
import sys

import cairo

PX_PER_M = 400

SKY_TOP, SKY_LOW = (0.33, 0.52, 0.66), (0.83, 0.87, 0.82)
STONE, STONE_DARK, STONE_LIGHT = (0.80, 0.74, 0.63), (0.50, 0.43, 0.35), (0.93, 0.89, 0.80)
LINE = (0.24, 0.17, 0.13)
SKIN, SKIN_DARK = (0.86, 0.68, 0.53), (0.62, 0.42, 0.31)


def shade(colour, k):
    return tuple(max(0.0, min(1.0, c * k)) for c in colour)


def spline(points, closed=True, steps=12):
    """Catmull-Rom through the points."""
    n = len(points)
    out = []
    for i in range(n if closed else n - 1):
        p = [points[(i + k) % n] if closed else points[max(0, min(n - 1, i + k))] for k in (-1, 0, 1, 2)]
        for s in range(steps):
            t = s / steps
            a = (-t + 2 * t * t - t ** 3) / 2
            b = (2 - 5 * t * t + 3 * t ** 3) / 2
            c = (t + 4 * t * t - 3 * t ** 3) / 2
            d = (-t * t + t ** 3) / 2
            out.append(tuple(a * p[0][k] + b * p[1][k] + c * p[2][k] + d * p[3][k] for k in (0, 1)))
    if not closed:
        out.append(points[-1])
    return out


class Canvas:
    """A picture in metres, v up, with a transform for the vault's second side."""

    def __init__(self, width, height):
        self.size = (width, height)
        self.surface = cairo.ImageSurface(cairo.FORMAT_RGB24, round(width * PX_PER_M), round(height * PX_PER_M))
        self.ctx = cairo.Context(self.surface)
        self.ctx.translate(0, self.surface.get_height())
        self.ctx.scale(PX_PER_M, -PX_PER_M)
        self.turned = False
        self.outlines = []
        self.zones = []

    def turn(self):
        """From here on, draw rotated half a turn about the middle."""
        self.ctx.translate(*self.size)
        self.ctx.scale(-1, -1)
        self.turned = True

    def place(self, p):
        return (self.size[0] - p[0], self.size[1] - p[1]) if self.turned else (p[0], p[1])

    def outline(self, name, points, hug=True):
        self.outlines.append((name, hug, [self.place(p) for p in points]))

    def zone(self, name, kind, points, subject=""):
        self.zones.append((name, kind, subject, [self.place(p) for p in points]))

    def path(self, points, closed=True):
        self.ctx.new_path()
        for p in points:
            self.ctx.line_to(*p)
        if closed:
            self.ctx.close_path()

    def fill(self, points, colour, line=LINE, width=0.012):
        self.path(points)
        if isinstance(colour, cairo.Gradient):
            self.ctx.set_source(colour)
        else:
            self.ctx.set_source_rgb(*colour)
        if line:
            self.ctx.fill_preserve()
            self.stroke(None, line, width)
        else:
            self.ctx.fill()

    def stroke(self, points, colour=LINE, width=0.008):
        if points is not None:
            self.path(points, closed=False)
        self.ctx.set_source_rgb(*colour)
        self.ctx.set_line_width(width)
        self.ctx.set_line_cap(cairo.LINE_CAP_ROUND)
        self.ctx.set_line_join(cairo.LINE_JOIN_ROUND)
        self.ctx.stroke()

    def rect(self, x0, y0, x1, y1, colour, line=LINE, width=0.01):
        self.fill([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], colour, line, width)


def across(x0, x1, colour):
    g = cairo.LinearGradient(x0, 0, x1, 0)
    g.add_color_stop_rgb(0, *shade(colour, 0.70))
    g.add_color_stop_rgb(0.35, *shade(colour, 1.10))
    g.add_color_stop_rgb(1, *shade(colour, 0.62))
    return g


def up(y0, y1, low, high):
    g = cairo.LinearGradient(0, y0, 0, y1)
    g.add_color_stop_rgb(0, *low)
    g.add_color_stop_rgb(1, *high)
    return g


def ellipse(x, y, a, b, n=48, tilt=0.0):
    c, s = math.cos(tilt), math.sin(tilt)
    return [(x + a * math.cos(t) * c - b * math.sin(t) * s, y + a * math.cos(t) * s + b * math.sin(t) * c)
            for t in (2 * math.pi * i / n for i in range(n))]


def mirror(points, x, way):
    return [(x + way * (px - x), py) for px, py in points]


# --- people -----------------------------------------------------------------------------------------------------------

# Right half and left half of a standing robed figure one unit high, feet at (0, 0), seen from the front.
ROBE = [(0.17, 0.0), (0.19, 0.14), (0.165, 0.34), (0.15, 0.52), (0.205, 0.60), (0.175, 0.72), (0.12, 0.805), (0.055, 0.845),
        (-0.055, 0.845), (-0.13, 0.80), (-0.18, 0.70), (-0.17, 0.55), (-0.14, 0.42), (-0.155, 0.22), (-0.20, 0.06),
        (-0.18, 0.0)]
FOLDS = [[(0.05, 0.80), (0.09, 0.62), (0.02, 0.40), (0.06, 0.03)], [(-0.03, 0.80), (-0.06, 0.60), (-0.07, 0.34), (-0.09, 0.03)],
         [(0.12, 0.70), (0.06, 0.56), (-0.10, 0.50)], [(0.13, 0.46), (0.11, 0.24), (0.13, 0.05)],
         [(-0.01, 0.47), (-0.02, 0.25), (0.00, 0.02)]]


def figure(canvas, x, y, height, robe, cloak, hair, way=1, holds="staff"):
    """A gardener in a robe and cloak. Returns the silhouette's points (head and shoulders from right to left)."""
    def at(points):
        return mirror([(x + px * height, y + py * height) for px, py in points], x, way)

    if holds == "staff":
        canvas.stroke(at([(0.27, 0.0), (0.25, 1.02)]), (0.36, 0.23, 0.12), 0.035)
        canvas.stroke(at([(0.265, 0.0), (0.245, 1.02)]), (0.58, 0.40, 0.22), 0.012)
    canvas.fill(spline(at(ROBE)), across(x - 0.2 * height, x + 0.2 * height, robe))
    for fold in FOLDS:
        canvas.stroke(spline(at(fold), closed=False), shade(robe, 0.5), 0.011)
        canvas.stroke(spline(at([(px + 0.018, py) for px, py in fold]), closed=False), shade(robe, 1.2), 0.007)
    drape = at([(0.10, 0.82), (0.17, 0.70), (0.08, 0.58), (-0.06, 0.46), (-0.165, 0.40), (-0.17, 0.56), (-0.17, 0.70),
                (-0.10, 0.81), (-0.02, 0.74), (0.04, 0.78)])
    canvas.fill(spline(drape), across(x - 0.2 * height, x + 0.15 * height, cloak))
    for k in (0.25, 0.5, 0.75):
        a, b = at([(-0.165 + 0.05 * k, 0.42 + 0.33 * k)])[0], at([(0.12 - 0.02 * k, 0.62 + 0.15 * k)])[0]
        canvas.stroke(spline([a, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2 - 0.03 * height), b], closed=False),
                      shade(cloak, 0.55), 0.010)
    hand = at([(0.215, 0.60)])[0]
    canvas.fill(ellipse(hand[0], hand[1], 0.030 * height, 0.026 * height), SKIN, SKIN_DARK)
    if holds == "basket":
        b = at([(0.20, 0.50)])[0]
        canvas.fill(ellipse(b[0], b[1], 0.11 * height, 0.065 * height), (0.62, 0.44, 0.22))
        for k in range(-3, 4):
            canvas.fill(ellipse(b[0] + 0.027 * k * height, b[1] + (0.062 - 0.006 * abs(k)) * height, 0.022 * height, 0.022 * height),
                        [(0.72, 0.20, 0.14), (0.86, 0.62, 0.20), (0.45, 0.50, 0.20)][k % 3], LINE, 0.006)
    neck = at([(0.04, 0.84), (0.035, 0.88), (-0.035, 0.88), (-0.04, 0.84)])
    canvas.fill(neck, SKIN_DARK, None)
    hx, hy = x, y + 0.925 * height
    canvas.fill(ellipse(hx - way * 0.008 * height, hy + 0.012 * height, 0.071 * height, 0.084 * height), hair)
    face = cairo.RadialGradient(hx + way * 0.02 * height, hy + 0.02 * height, 0.005, hx, hy, 0.085 * height)
    face.add_color_stop_rgb(0, *shade(SKIN, 1.12))
    face.add_color_stop_rgb(1, *shade(SKIN, 0.80))
    canvas.fill(ellipse(hx + way * 0.012 * height, hy - 0.008 * height, 0.052 * height, 0.068 * height), face, SKIN_DARK, 0.008)
    eye = 0.018 * height
    for side in (-1, 1):
        canvas.stroke([(hx + way * 0.014 * height + side * eye - 0.010 * height, hy), (hx + way * 0.014 * height + side * eye + 0.010 * height, hy)], LINE, 0.008)
    canvas.stroke([(hx + way * 0.018 * height, hy - 0.004 * height), (hx + way * 0.024 * height, hy - 0.026 * height)], SKIN_DARK, 0.007)
    canvas.stroke([(hx + way * 0.002 * height, hy - 0.044 * height), (hx + way * 0.028 * height, hy - 0.043 * height)], (0.6, 0.25, 0.2), 0.008)
    return ellipse(hx - way * 0.004 * height, hy + 0.008 * height, 0.060 * height, 0.072 * height, 20)


def head_and_shoulders(x, y, height, way, from_v):
    """Outline places round shoulders and head, left to right, from height from_v on each side."""
    half = [(-0.175, 0.56), (-0.18, 0.70), (-0.13, 0.80), (-0.079, 0.92), (-0.058, 1.0), (-0.007, 1.022), (0.045, 0.995), (0.068, 0.92),
            (0.12, 0.80), (0.175, 0.72), (0.205, 0.60)]
    pts = mirror([(x + px * height, y + py * height) for px, py in half], x, way)
    if way < 0:
        pts.reverse()
    return [p for p in pts if p[1] >= from_v]


# --- the vault --------------------------------------------------------------------------------------------------------

def column(canvas, x, y0, y1, width):
    canvas.rect(x - width * 0.75, y0, x + width * 0.75, y0 + 0.07, STONE_LIGHT)
    canvas.rect(x - width * 0.62, y0 + 0.07, x + width * 0.62, y0 + 0.13, STONE)
    canvas.rect(x - width / 2, y0 + 0.13, x + width / 2, y1 - 0.16, across(x - width / 2, x + width / 2, STONE))
    for k in (-0.25, 0.0, 0.25):
        canvas.stroke([(x + k * width, y0 + 0.15), (x + k * width, y1 - 0.18)], shade(STONE, 0.72), 0.008)
    canvas.fill(spline([(x - width * 0.5, y1 - 0.16), (x - width * 0.72, y1 - 0.06), (x + width * 0.72, y1 - 0.06), (x + width * 0.5, y1 - 0.16)]), STONE_LIGHT)
    canvas.rect(x - width * 0.8, y1 - 0.06, x + width * 0.8, y1, STONE_LIGHT)


def arc(cx, cy, r, a0, a1, n=24):
    return [(cx + r * math.cos(a0 + (a1 - a0) * i / n), cy + r * math.sin(a0 + (a1 - a0) * i / n)) for i in range(n + 1)]


def cloud(canvas, rng, x, y, size):
    for k in range(9):
        dx, dy = rng.uniform(-1, 1), rng.uniform(-0.25, 0.35)
        r = size * rng.uniform(0.25, 0.45)
        g = cairo.RadialGradient(x + dx * size, y + dy * size, 0, x + dx * size, y + dy * size, r)
        g.add_color_stop_rgba(0, 0.97, 0.95, 0.90, 0.75)
        g.add_color_stop_rgba(1, 0.97, 0.95, 0.90, 0.0)
        canvas.ctx.set_source(g)
        canvas.ctx.arc(x + dx * size, y + dy * size, r, 0, 2 * math.pi)
        canvas.ctx.fill()


FLOOR, SPRING, RADIUS, EAVES = 0.75, 1.75, 0.95, 2.85
HILL = [(0.0, 1.50), (0.25, 1.58), (0.5, 1.54), (0.8, 1.46), (1.0, 1.42), (1.3, 1.52), (1.6, 1.60), (1.9, 1.52), (2.2, 1.50)]


def loggia(canvas, rng, where, names, robes):
    """One side of the vault: base, two arches with landscape, sky and two gardeners each, columns, eaves."""
    canvas.rect(0, 0, 5, EAVES, STONE, None)
    for a, (cx, people) in enumerate(((1.32, robes[:2]), (3.68, robes[2:]))):
        opening = [(cx - RADIUS, FLOOR), (cx - RADIUS, SPRING)] + list(reversed(arc(cx, SPRING, RADIUS, 0, math.pi))) + [(cx + RADIUS, FLOOR)]
        ctx = canvas.ctx
        ctx.save()
        canvas.path(opening)
        ctx.clip()
        canvas.rect(cx - 1, FLOOR, cx + 1, 2.8, up(1.4, 2.75, SKY_LOW, SKY_TOP), None)
        cloud(canvas, rng, cx - 0.35, 2.30, 0.30)
        cloud(canvas, rng, cx + 0.45, 2.12, 0.26)
        hill = [(cx - 1.1 + px, py) for px, py in HILL]
        canvas.fill([(cx - 1.1, FLOOR)] + spline(hill, closed=False) + [(cx + 1.1, FLOOR)], up(FLOOR, 1.6, (0.36, 0.40, 0.20), (0.52, 0.57, 0.34)))
        for k in range(5):
            hx = cx - 0.9 + 0.42 * k
            canvas.stroke(spline([(hx, 1.0 + 0.06 * (k % 2)), (hx + 0.2, 1.12), (hx + 0.45, 1.05)], closed=False), (0.40, 0.44, 0.24), 0.008)
        canvas.fill(spline([(cx, FLOOR + 0.02), (cx + 0.075, 1.0), (cx + 0.06, 1.4), (cx, 1.74), (cx - 0.06, 1.4), (cx - 0.075, 1.0)]),
                    across(cx - 0.08, cx + 0.08, (0.20, 0.29, 0.18)))
        ctx.restore()
        ring = arc(cx, SPRING, RADIUS + 0.13, math.pi, 0) + arc(cx, SPRING, RADIUS, 0, math.pi)
        canvas.fill(ring, STONE_LIGHT)
        for k in range(1, 10):
            t = math.pi * k / 10
            canvas.stroke([(cx + r * math.cos(t), SPRING + r * math.sin(t)) for r in (RADIUS, RADIUS + 0.13)], STONE_DARK, 0.008)
        for side, (robe, cloak, hair, holds) in zip((-1, 1), people):
            x = cx + side * 0.49
            way = side
            head = figure(canvas, x, FLOOR + 0.02, 1.42, robe, cloak, hair, way, holds)
            name = names[2 * a + (side + 1) // 2]
            canvas.zone("head of " + name, "keep-whole", head)
            canvas.zone("head of " + name, "detail", head, "faces")
        hill_at = lambda px: min(spline(hill, closed=False), key=lambda q: abs(q[0] - px))[1]
        left_x, right_x = cx - 0.49, cx + 0.49
        jl, jr = cx - RADIUS, cx + RADIUS
        hs = head_and_shoulders(left_x, FLOOR + 0.02, 1.42, -1, 1.56)
        canvas.outline(names[2 * a], [(jl, FLOOR), (jl, hill_at(jl)), ] + [(hs[0][0] - 0.02, hill_at(hs[0][0] - 0.02))] + hs +
                       [(hs[-1][0] + 0.02, hill_at(hs[-1][0] + 0.02)), (cx - 0.05, hill_at(cx - 0.05)), (cx - 0.058, 1.40), (cx, 1.74), (cx + 0.058, 1.40), (cx + 0.075, 1.0), (cx + 0.03, FLOOR)])
        hs = head_and_shoulders(right_x, FLOOR + 0.02, 1.42, 1, 1.56)
        canvas.outline(names[2 * a + 1], [(cx + 0.03, FLOOR), (cx + 0.075, 1.0), (cx + 0.056, 1.42), (hs[0][0] - 0.02, hill_at(hs[0][0] - 0.02))] + hs +
                       [(hs[-1][0] + 0.02, hill_at(hs[-1][0] + 0.02)), (jr, hill_at(jr)), (jr, FLOOR)])
        canvas.outline("%s sky" % where[a],
                       [(jl, 1.45), (jl, SPRING)] + list(reversed(arc(cx, SPRING, RADIUS, 0, math.pi, 8)))[1:-1] + [(jr, SPRING), (jr, 1.45), (right_x, 1.2), (cx, 1.3), (left_x, 1.2)])
    for x in (0.16, 2.5, 4.84):
        column(canvas, x, FLOOR, SPRING + 0.02, 0.22)
    canvas.rect(0, 2.72, 5, EAVES, STONE_LIGHT)
    for k in range(40):
        canvas.rect(0.02 + k * 0.125, 2.745, 0.09 + k * 0.125, 2.81, STONE_DARK, None)
    # base: mouldings and panels of coloured stone
    canvas.rect(0, 0, 5, FLOOR, STONE)
    canvas.rect(0, 0.66, 5, FLOOR, STONE_LIGHT)
    canvas.rect(0, 0, 5, 0.07, STONE_DARK)
    for k in range(4):
        x0 = 0.15 + 1.2 * k + (0.05 if k > 1 else 0)
        canvas.rect(x0, 0.14, x0 + 1.05, 0.59, STONE_LIGHT)
        canvas.rect(x0 + 0.05, 0.19, x0 + 1.0, 0.54, [(0.55, 0.27, 0.22), (0.30, 0.40, 0.34)][k % 2])
        for m in range(6):
            xs = x0 + 0.1 + 0.15 * m
            canvas.stroke(spline([(xs, 0.21), (xs + rng.uniform(0, 0.1), 0.33), (xs + rng.uniform(-0.05, 0.1), 0.52)], closed=False),
                          [(0.68, 0.42, 0.35), (0.42, 0.54, 0.46)][k % 2], 0.006)
    lap = 0.02  # drawn over what is there already, so that no scrap of wall is left between; the overlap stays with it
    canvas.outline("columns by the %s arch" % where[0], [(0, FLOOR), (0, EAVES + lap), (1.32, EAVES + lap), (1.32, 2.5), (0.9, 2.2), (0.6, FLOOR)], False)
    canvas.outline("columns between %s and %s" % where, [(1.32, EAVES + lap), (3.68, EAVES + lap), (3.68, 2.5), (3.1, 2.2), (3.0, FLOOR), (2.0, FLOOR), (1.9, 2.2), (1.32, 2.5)], False)
    canvas.outline("columns by the %s arch" % where[1], [(5, FLOOR), (5, EAVES + lap), (3.68, EAVES + lap), (3.68, 2.5), (4.1, 2.2), (4.4, FLOOR)], False)
    canvas.outline("base under %s" % where[0], [(0, 0), (0, FLOOR + lap), (2.5, FLOOR + lap), (2.5, 0)], False)
    canvas.outline("base under %s" % where[1], [(2.5, 0), (2.5, FLOOR + lap), (5, FLOOR + lap), (5, 0)], False)


def crown_band(canvas, height):
    lo, hi = EAVES, height - EAVES
    canvas.rect(0, lo, 5, hi, (0.27, 0.24, 0.36))
    canvas.rect(0, lo, 5, lo + 0.06, (0.80, 0.62, 0.26))
    canvas.rect(0, hi - 0.06, 5, hi, (0.80, 0.62, 0.26))
    mid = (lo + hi) / 2
    for k in range(15):
        x = 5 * (k + 0.5) / 15
        canvas.fill(spline([(x - 0.13, mid), (x, mid + 0.17), (x + 0.13, mid), (x, mid - 0.17)]), (0.72, 0.66, 0.52))
        canvas.fill(ellipse(x, mid, 0.055, 0.055), (0.62, 0.22, 0.16))
    for u in (5 / 3, 10 / 3):
        canvas.rect(u - 0.02, lo, u + 0.02, hi, (0.80, 0.62, 0.26))
    for k, name in enumerate(("crown band, front", "crown band, middle", "crown band, back")):
        u0, u1 = 5 / 3 * k, 5 / 3 * (k + 1)
        canvas.outline(name, [(u0, lo), (u1, lo), (u1, hi), (u0, hi)])


def vault():
    height = math.pi * 2
    canvas = Canvas(5.0, height)
    rng = random.Random(7)
    ochre, red, green, blue = (0.80, 0.60, 0.26), (0.66, 0.25, 0.18), (0.34, 0.44, 0.26), (0.24, 0.34, 0.52)
    rose, white, violet, umber = (0.78, 0.50, 0.44), (0.88, 0.85, 0.78), (0.42, 0.30, 0.44), (0.46, 0.32, 0.20)
    brown, black, grey = (0.30, 0.19, 0.11), (0.14, 0.11, 0.10), (0.62, 0.60, 0.56)
    canvas.ctx.save()
    loggia(canvas, rng, ("Spring", "Summer"), ["Spring with the staff", "Spring with the basket", "Summer with the basket", "Summer with the staff"],
           [(rose, green, brown, "staff"), (white, red, black, "basket"), (ochre, blue, brown, "basket"), (red, white, grey, "staff")])
    canvas.turn()
    loggia(canvas, rng, ("Autumn", "Winter"), ["Autumn with the basket", "Autumn with the staff", "Winter with the staff", "Winter with the basket"],
           [(umber, ochre, black, "basket"), (violet, rose, brown, "staff"), (blue, white, grey, "staff"), (green, umber, black, "basket")])
    canvas.ctx.restore()
    canvas.turned = False
    crown_band(canvas, height)
    # the crown first, then the two sides: the painter works from the top down
    canvas.outlines = canvas.outlines[-3:] + canvas.outlines[:-3]
    return canvas


# --- the apse ---------------------------------------------------------------------------------------------------------

def apse():
    r, drum = 1.5, 2.5
    width, height = math.pi * r, drum + r * math.pi / 2
    mid = width / 2
    canvas = Canvas(width, height)
    rng = random.Random(11)

    def edge(v, side):  # the border of the half dome in the chart
        return mid + side * (math.pi / 2) * r * math.cos(min(math.pi / 2, max(0, (v - drum) / r)))

    canvas.rect(0, 0, width, height, up(drum, height, SKY_LOW, SKY_TOP), None)
    cloud(canvas, rng, mid - 1.2, 3.1, 0.35)
    cloud(canvas, rng, mid + 1.1, 3.3, 0.30)
    # ground and the sower in the half dome
    ground = [(0, 2.72), (0.8, 2.86), (1.6, 2.80), (2.4, 2.90), (3.2, 2.82), (4.0, 2.88), (width, 2.72)]
    canvas.fill([(0, drum)] + spline(ground, closed=False) + [(width, drum)], up(drum, 2.9, (0.44, 0.33, 0.20), (0.60, 0.47, 0.28)))
    for k in range(11):
        canvas.stroke(spline([(0.2 + 0.42 * k, 2.52), (0.3 + 0.41 * k, 2.66), (0.5 + 0.39 * k, 2.78)], closed=False), (0.34, 0.24, 0.14), 0.01)
    # painted ribs on meridians of the half dome, and a gilded sun about its top
    def meridian(angle, v):
        return (mid + angle * r * math.cos((v - drum) / r), v)

    sun = 4.30
    heights = [drum + 0.06 * i for i in range(int((sun - drum) / 0.06) + 1)] + [sun]
    for side in (-1, 1):
        canvas.fill([meridian(side * 0.50, v) for v in heights] + [meridian(side * 0.57, v) for v in reversed(heights)], (0.78, 0.62, 0.34))
        canvas.stroke([meridian(side * 0.535, v) for v in heights], (0.52, 0.30, 0.16), 0.012)
    canvas.rect(0, sun, width, height, (0.90, 0.74, 0.34), LINE, 0.014)
    canvas.rect(0, sun + 0.05, width, sun + 0.08, (0.66, 0.40, 0.14), None)
    for k in range(-12, 13):
        canvas.stroke([meridian(0.13 * k, sun + 0.10), (mid, height)], (0.72, 0.46, 0.18), 0.008)
    sower = figure(canvas, mid, 2.62, 1.30, (0.78, 0.55, 0.24), (0.60, 0.22, 0.18), (0.22, 0.15, 0.10), 1, "basket")
    canvas.zone("head of the sower", "keep-whole", sower)
    canvas.zone("head of the sower", "detail", sower, "faces")
    # drum: cornice, niches with figures, curtain below
    canvas.rect(0, 0.7, width, drum, STONE, None)
    canvas.rect(0, 2.32, width, drum, STONE_LIGHT)
    for k in range(38):
        canvas.rect(0.02 + k * 0.124, 2.35, 0.09 + k * 0.124, 2.42, STONE_DARK, None)
    robes = [((0.30, 0.40, 0.56), (0.82, 0.74, 0.56), (0.30, 0.20, 0.12), "staff"), ((0.70, 0.30, 0.22), (0.34, 0.44, 0.28), (0.62, 0.60, 0.56), "basket"),
             ((0.46, 0.34, 0.46), (0.80, 0.62, 0.30), (0.16, 0.12, 0.10), "staff")]
    names = ["The keeper of the well", "The keeper of the orchard", "The keeper of the seeds"]
    niches = []
    for k, (robe, name) in enumerate(zip(robes, names)):
        cx = width * (k + 0.5) / 3
        niche = [(cx - 0.52, 0.78), (cx - 0.52, 1.75)] + list(reversed(arc(cx, 1.75, 0.52, 0, math.pi))) + [(cx + 0.52, 0.78)]
        canvas.fill(niche, up(0.8, 2.3, (0.30, 0.27, 0.30), (0.42, 0.38, 0.42)))
        head = figure(canvas, cx - 0.02, 0.80, 1.36, *robe[:3], way=1 if k != 2 else -1, holds=robe[3])
        canvas.zone("head of " + name.lower(), "keep-whole", head)
        canvas.zone("head of " + name.lower(), "detail", head, "faces")
        niches.append((name, [(cx - 0.52, 0.78), (cx - 0.52, 1.3), (cx - 0.52, 1.75)] + list(reversed(arc(cx, 1.75, 0.52, 0, math.pi, 8)))[1:-1] +
                       [(cx + 0.52, 1.75), (cx + 0.52, 1.3), (cx + 0.52, 0.78)]))
    for u in (0.0, width / 3, 2 * width / 3, width):
        canvas.rect(u - 0.12, 0.72, u + 0.12, 2.32, across(u - 0.12, u + 0.12, STONE_LIGHT))
    canvas.rect(0, 0.06, width, 0.68, (0.30, 0.22, 0.22), None)
    folds = 19
    for k in range(folds):
        x0, x1 = width * k / folds, width * (k + 1) / folds
        canvas.fill([(x0, 0.06), (x0, 0.66)] + spline([(x0, 0.66), ((x0 + x1) / 2, 0.60), (x1, 0.66)], closed=False) + [(x1, 0.06)],
                    across(x0, x1, (0.70, 0.42, 0.34)), (0.38, 0.18, 0.14))
        canvas.fill(ellipse((x0 + x1) / 2, 0.33, 0.035, 0.05), (0.84, 0.70, 0.40), (0.40, 0.22, 0.12), 0.006)
    canvas.rect(0, 0.66, width, 0.72, STONE_LIGHT)
    canvas.rect(0, 0, width, 0.06, STONE_DARK)
    # outlines, from the top down
    gy = lambda u: min(spline(ground, closed=False), key=lambda q: abs(q[0] - u))[1]
    rib_ground = [(meridian(k, gy(mid + k * r))[0], gy(mid + k * r)) for k in (-0.57, -0.50, 0.50, 0.57)]
    canvas.outline("The sun", [(edge(v, -1), v) for v in (sun, 4.4, 4.5, 4.6, 4.7, 4.8)] + [(mid, height - 0.001)] +
                   [(edge(v, 1), v) for v in (4.8, 4.7, 4.6, 4.5, 4.4, sun)])
    hs = head_and_shoulders(mid, 2.62, 1.30, 1, 2.9)
    canvas.outline("The sower", [meridian(-0.50, drum), rib_ground[1], (mid - 0.25, gy(mid - 0.25))] + hs +
                   [(mid + 0.32, gy(mid + 0.32)), rib_ground[2], meridian(0.50, drum)])
    rise = [v for v in (3.2, 3.5, 3.8, 4.1, sun)]
    canvas.outline("sky behind the sower", [rib_ground[1]] + [meridian(-0.50, v) for v in rise] + [meridian(0.50, v) for v in reversed(rise)] +
                   [rib_ground[2], (mid + 0.3, 2.75), (mid - 0.3, 2.75)])
    for side, word in ((-1, "left"), (1, "right")):
        border = [(edge(v, side), v) for v in (sun, 4.1, 3.9, 3.7, 3.5, 3.3, 3.1, 2.95)]
        gu = [mid + side * k for k in (2.2, 1.8, 1.4, 1.1)]
        canvas.outline("sky and rib, " + word, [meridian(side * 0.50, v) for v in (drum, 2.9, 3.2, 3.5, 3.8, 4.1, sun)] + border +
                       [(edge(gy(mid + side * 2.3), side), gy(mid + side * 2.3))] + [(u, gy(u)) for u in gu] +
                       [(meridian(side * 0.57, gy(mid + side * 0.85))[0], gy(mid + side * 0.85)), meridian(side * 0.57, drum)])
        canvas.outline("field, " + word, [meridian(side * 0.52, drum), meridian(side * 0.52, 2.95), (mid + side * 1.5, 3.05), (edge(2.95, side) - side * 0.002, 2.95)] +
                       [(edge(v, side) - side * 0.001, v) for v in (2.8, 2.7, 2.6, drum)])
    for name, points in niches:
        canvas.outline(name, points)
    for k in range(3):
        u0, u1 = width * k / 3, width * (k + 1) / 3
        canvas.outline("frame of the %s niche" % ("left", "middle", "right")[k], [(u0, 0.72), (u0, drum), (u1, drum), (u1, 0.72)], False)
    canvas.outline("curtain, left", [(0, 0), (0, 0.72), (mid, 0.72), (mid, 0)], False)
    canvas.outline("curtain, right", [(mid, 0), (mid, 0.72), (width, 0.72), (width, 0)], False)
    return canvas


# --- the lunette ------------------------------------------------------------------------------------------------------

WINDOW = (2.0, 0.95, 0.4)  # centre and radius of the round window, an opening of the wall


def lunette():
    canvas = Canvas(4.0, 2.0)
    rng = random.Random(5)
    cx, cy, radius = WINDOW
    foot, ring = 0.34, 0.62
    canvas.rect(0, 0, 4, 2, up(foot, 2, SKY_LOW, SKY_TOP), None)
    cloud(canvas, rng, 0.85, 0.95, 0.28)
    cloud(canvas, rng, 3.1, 1.15, 0.30)
    for x, tall in ((0.62, 0.52), (1.02, 0.66), (2.98, 0.66), (3.38, 0.52)):
        tree = [(x - 0.09, foot), (x - 0.11, foot + 0.35 * tall), (x, foot + tall), (x + 0.11, foot + 0.35 * tall), (x + 0.09, foot)]
        canvas.fill(spline(tree), across(x - 0.12, x + 0.12, (0.22, 0.34, 0.20)))
    canvas.rect(0, 0, 4, foot, STONE, None)
    for row in range(2):
        for k in range(11):
            x = 0.4 * k - 0.2 * (row % 2)
            canvas.rect(x, 0.17 * row, x + 0.4, 0.17 * row + 0.17, shade(STONE, rng.uniform(0.92, 1.06)), STONE_DARK, 0.006)
    canvas.rect(0, foot - 0.03, 4, foot, STONE_LIGHT)
    canvas.fill(ellipse(cx, cy, ring, ring), (0.80, 0.62, 0.26), LINE, 0.014)
    leaves = 36
    for k in range(leaves):
        turn = 2 * math.pi * k / leaves
        for side in (-0.045, 0.045):
            r = 0.5 * (ring + radius) + side
            canvas.fill(ellipse(cx + r * math.cos(turn), cy + r * math.sin(turn), 0.062, 0.024, 20, turn + math.pi / 2 + 6 * side),
                        (0.26, 0.40, 0.22), (0.13, 0.22, 0.12), 0.006)
    for k in range(12):
        turn = 2 * math.pi * (k + 0.5) / 12
        r = 0.5 * (ring + radius)
        canvas.fill(ellipse(cx + r * math.cos(turn), cy + r * math.sin(turn), 0.032, 0.032, 20), (0.70, 0.24, 0.18), LINE, 0.006)
    # outlines, from the top down
    canvas.outline("The wreath", ellipse(cx, cy, ring, ring, 16))
    top = (2.0, 2.0)
    left = [(2.0 - 2.0 * math.cos(a), 2.0 * math.sin(a)) for a in (0.18, 0.45, 0.75, 1.05, 1.3, 1.5)]
    way = 0.5 * (ring + radius)  # under the wreath, which is drawn first and keeps its place

    def round_window(side):
        return [(cx + side * way * math.sin(a), cy + way * math.cos(a)) for a in (0, 0.8, 1.57, 2.34, math.pi)]

    canvas.outline("sky over the garden, left", [top] + round_window(-1) + [(2.0, foot), (0.03, foot)] + left)
    canvas.outline("sky over the garden, right", [top] + round_window(1) + [(2.0, foot), (3.97, foot)] + [(4 - u, v) for u, v in left])
    canvas.outline("garden wall", [(0, 0), (4, 0), (3.97, foot), (0.03, foot)])
    return canvas


# --- more pictures for walls that have some, or none ------------------------------------------------------------------

def frieze():
    """A strip for the top of the wall with the door, 5 m by 0.4 m."""
    canvas = Canvas(5.0, 0.4)
    canvas.rect(0, 0, 5, 0.4, (0.36, 0.22, 0.20), None)
    for y0, y1 in ((0, 0.05), (0.35, 0.4)):
        canvas.rect(0, y0, 5, y1, STONE_LIGHT)
    stem = [(0.05 * k, 0.2 + 0.06 * math.sin(2 * math.pi * k / 10)) for k in range(101)]
    canvas.stroke(stem, (0.34, 0.46, 0.26), 0.022)
    for k in range(20):
        x, side = 0.125 + 0.25 * k, 1 if k % 2 == 0 else -1
        y = 0.2 + 0.06 * side
        canvas.fill(ellipse(x + 0.06, y + 0.03 * side, 0.075, 0.028, 24, 0.5 * side), (0.42, 0.54, 0.30), LINE, 0.006)
        canvas.fill(ellipse(x - 0.06, y - 0.005 * side, 0.055, 0.022, 24, -0.6 * side), (0.36, 0.48, 0.28), LINE, 0.006)
        canvas.fill(ellipse(x, y + 0.045 * side, 0.032, 0.032, 20), (0.80, 0.60, 0.26), LINE, 0.006)
    return canvas


def garden():
    """A garden in an oval, on a sheet of 2.4 m by 1.8 m; what lies beyond the oval is masked."""
    canvas = Canvas(2.4, 1.8)
    rng = random.Random(9)
    canvas.rect(0, 0, 2.4, 1.8, up(0.6, 1.8, SKY_LOW, SKY_TOP), None)
    cloud(canvas, rng, 0.7, 1.35, 0.25)
    cloud(canvas, rng, 1.75, 1.45, 0.22)
    canvas.fill([(0, 0)] + spline([(0, 0.62), (0.6, 0.72), (1.2, 0.64), (1.8, 0.74), (2.4, 0.62)], closed=False) + [(2.4, 0)],
                up(0, 0.7, (0.40, 0.46, 0.24), (0.60, 0.62, 0.36)))
    for x, tall in ((0.75, 0.62), (1.65, 0.7)):
        canvas.rect(x - 0.025, 0.55, x + 0.025, 0.75, (0.38, 0.26, 0.16))
        canvas.fill(spline(ellipse(x, 0.6 + 0.55 * tall, 0.2, 0.36 * tall, 14)), across(x - 0.2, x + 0.2, (0.24, 0.40, 0.22)))
        for k in range(9):
            a = 2.4 * k
            canvas.fill(ellipse(x + 0.13 * math.cos(a), 0.6 + 0.55 * tall + 0.17 * math.sin(a), 0.022, 0.022, 16), (0.82, 0.42, 0.18), LINE, 0.005)
    canvas.fill([(1.02, 0.1), (1.1, 0.62), (1.3, 0.62), (1.5, 0.1)], (0.80, 0.72, 0.56), (0.56, 0.46, 0.34))
    canvas.stroke(ellipse(1.2, 0.9, 1.06, 0.76, 96) + [(2.26, 0.9)], (0.60, 0.40, 0.20), 0.06)
    canvas.stroke(ellipse(1.2, 0.9, 1.06, 0.76, 96) + [(2.26, 0.9)], (0.88, 0.72, 0.40), 0.02)
    return canvas, ellipse(1.2, 0.9, 1.09, 0.79, 120)


def sky():
    """A round opening with a railing, drawn as an eye sees it: a sheet seen at an angle of 8 degrees across."""
    canvas = Canvas(3.0, 3.0)
    mid = 1.5
    canvas.rect(0, 0, 3, 3, STONE, None)
    for radius, colour in ((1.45, STONE_DARK), (1.40, STONE_LIGHT), (1.25, STONE), (1.18, STONE_DARK)):
        canvas.fill(ellipse(mid, mid, radius, radius, 120), colour, LINE, 0.008)
    heaven = cairo.RadialGradient(mid, mid, 0.1, mid, mid, 1.15)
    heaven.add_color_stop_rgb(0, *SKY_LOW)
    heaven.add_color_stop_rgb(1, *SKY_TOP)
    canvas.fill(ellipse(mid, mid, 1.12, 1.12, 120), heaven, LINE, 0.012)
    for k in range(40):
        a = 2 * math.pi * k / 40
        inner, outer = 0.92, 1.14
        c, s = math.cos(a), math.sin(a)
        canvas.stroke([(mid + inner * c, mid + inner * s), (mid + outer * c, mid + outer * s)], LINE, 0.045)
        canvas.stroke([(mid + inner * c, mid + inner * s), (mid + outer * c, mid + outer * s)], STONE_LIGHT, 0.028)
    canvas.stroke(ellipse(mid, mid, 0.92, 0.92, 120) + [(mid + 0.92, mid)], LINE, 0.07)
    canvas.stroke(ellipse(mid, mid, 0.92, 0.92, 120) + [(mid + 0.92, mid)], STONE_LIGHT, 0.05)
    cloud(canvas, random.Random(3), mid - 0.2, mid - 0.25, 0.35)
    return canvas, ellipse(mid, mid, 1.44, 1.44, 120)


def write_masked(folder, name, canvas, mask):
    """A picture and the outline of what shows of it, in pixels from the upper left."""
    canvas.surface.write_to_png(os.path.join(folder, name + ".png"))
    with open(os.path.join(folder, name + "-mask.csv"), "w", encoding="utf-8") as f:
        f.write("x_px,y_px\n")
        f.writelines("%.1f,%.1f\n" % (x * PX_PER_M, canvas.surface.get_height() - y * PX_PER_M) for x, y in mask)


def write(folder, wall, canvas):
    canvas.surface.write_to_png(os.path.join(folder, wall + ".png"))
    for kind in ("outlines", "zones"):
        os.makedirs(os.path.join(folder, kind), exist_ok=True)
    for k, (name, hug, points) in enumerate(canvas.outlines, 1):
        with open(os.path.join(folder, "outlines", "%s-%02d.txt" % (wall, k)), "w", encoding="utf-8") as f:
            f.write("# %s\n# %s\n" % (name, "hug" if hug else "straight"))
            f.writelines("%.4f %.4f\n" % p for p in points)
    for k, (name, kind, subject, points) in enumerate(canvas.zones, 1):
        with open(os.path.join(folder, "zones", "%s-%02d.txt" % (wall, k)), "w", encoding="utf-8") as f:
            f.write("# %s\n# %s %s\n" % (name, kind, subject))
            f.writelines("%.4f %.4f\n" % p for p in points)


def main():
    folder = sys.argv[1]
    os.makedirs(folder, exist_ok=True)
    write(folder, "vault", vault())
    write(folder, "apse", apse())
    write(folder, "lunette", lunette())
    frieze().surface.write_to_png(os.path.join(folder, "frieze.png"))
    write_masked(folder, "garden", *garden())
    write_masked(folder, "sky", *sky())


if __name__ == "__main__":
    main()
