#!/usr/bin/env python3
"""Rebuilds every unit from bends.csv alone and compares it with result.json.

Usage: rebuild.py JOBDIR...

Each JOBDIR holds bends.csv and result.json of one job. A unit is walked out feed by
feed from the table, as a bender would make it: forward, roll the bend plane about
the tube, bend by the angle at the radius. It knows nothing of the program. The
walk starts where and how the unit of result.json starts, and nothing is fitted
after that: every end of a straight and every quarter of an arc must lie within
0.01 mm, and the length, the running totals and the side of the first bend must
agree. Exits 1 if one does not, or if a folder holds no unit.
"""
import csv
import json
import math
import os
import sys

LIMIT = 0.01  # mm


def add(a, b, k=1.0):
    return [x + k * y for x, y in zip(a, b)]


def dot(a, b):
    return sum(x * y for x, y in zip(a, b))


def cross(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def unit(a):
    n = math.sqrt(dot(a, a))
    return [x / n for x in a]


def turn(v, axis, angle):
    """v turned about a unit axis (Rodrigues)."""
    c, s = math.cos(angle), math.sin(angle)
    k = dot(axis, v) * (1 - c)
    return [c * x + s * y + k * z for x, y, z in zip(v, cross(axis, v), axis)]


def off(a, b):
    return math.dist(a, b)


def start_of(path):
    """Place, direction and axis of the first bend of a unit in result.json."""
    first = path[0]
    if first["kind"] == "line":
        d = unit(add(first["to"], first["from"], -1))
    else:
        d = unit(cross(first["axis"], add(first["from"], first["centre"], -1)))
    arcs = [s for s in path if s["kind"] == "arc"]
    axis = arcs[0]["axis"] if arcs else [0, 0, 1]
    return list(first["from"]), d, unit(add(axis, d, -dot(axis, d)))


def walk(rows, at, d, axis):
    """Places along the unit: the end of each feed, and the quarters of each arc."""
    out = []
    for k, r in enumerate(rows):
        feed = float(r["feed_mm"])
        at = add(at, d, feed)
        if feed > 0:
            out.append(at)
        if r["row"] == "end":
            break
        if k > 0:
            axis = turn(axis, d, math.radians(float(r["rotation_deg"])))
        radius, angle = float(r["radius_mm"]), math.radians(float(r["angle_deg"]))
        centre = add(at, cross(axis, d), radius)
        spoke = add(at, centre, -1)
        out += [add(centre, turn(spoke, axis, angle * q / 4)) for q in (1, 2, 3, 4)]
        at, d = out[-1], unit(turn(d, axis, angle))
    return out


def places(path):
    """The same places of result.json. Straights that follow each other are one feed."""
    out = []
    for i, s in enumerate(path):
        if s["kind"] == "line":
            if i + 1 == len(path) or path[i + 1]["kind"] != "line":
                out.append(s["to"])
            continue
        spoke = add(s["from"], s["centre"], -1)
        out += [add(s["centre"], turn(spoke, s["axis"], math.radians(s["angle"]) * q / 4)) for q in (1, 2, 3, 4)]
    return out


def side(path):
    """The side that the first bend takes on the bench, where (x, y, z) is (-x, y, -z)."""
    arc = next(s for s in path if s["kind"] == "arc")
    axis = arc["axis"]
    if abs(abs(axis[2]) - 1) < 1e-6:
        return "right" if axis[2] > 0 else "left"
    before = cross(axis, unit(add(arc["from"], arc["centre"], -1)))
    after = cross(axis, unit(add(arc["to"], arc["centre"], -1)))
    return "up" if after[2] < before[2] else "down"


def check(unit_, rows):
    wrong = []
    path = unit_["path"]
    got, want = walk(rows, *start_of(path)), places(path)
    if len(got) != len(want):
        return [f"{len(got)} places in the table, {len(want)} in result.json"], 0.0
    worst = max(off(a, b) for a, b in zip(got, want))
    if not worst <= LIMIT:
        wrong.append(f"{worst:.4f} mm off")
    whole = unit_["developed_length"]
    if abs(float(rows[-1]["from_a_mm"]) - whole) > LIMIT:
        wrong.append(f"the table ends at {rows[-1]['from_a_mm']} mm of {whole}")
    for r in rows[:-1]:
        arc = math.radians(float(r["angle_deg"])) * float(r["radius_mm"])
        if abs(float(r["from_a_mm"]) + arc + float(r["to_b_mm"]) - whole) > LIMIT:
            wrong.append(f"row {r['row']}: the totals from both ends and the arc are not {whole} mm")
    if len(rows) > 1 and rows[0]["side"] != side(path):
        wrong.append(f"the first bend goes {rows[0]['side']}, in result.json {side(path)}")
    return wrong, worst


def main():
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    bad = units = 0
    worst = 0.0
    for folder in sys.argv[1:]:
        with open(os.path.join(folder, "result.json")) as f:
            result = json.load(f)
        with open(os.path.join(folder, "bends.csv"), newline="") as f:
            rows = list(csv.DictReader(f))
        for u in result["units"]:
            wrong, far = check(u, [r for r in rows if r["unit"] == u["id"]])
            worst, units = max(worst, far), units + 1
            for w in wrong:
                bad += 1
                print(f"FAIL {folder} {u['id']}: {w}")
    print(f"{units} units rebuilt from their tables, at most {worst:.5f} mm off")
    sys.exit(1 if bad or not units else 0)


main()
