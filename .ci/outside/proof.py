#!/usr/bin/env python3
"""The two pictures of the lit sign, proof.png and proof.svg, show the same glass.

usage: proof.py JOBDIR [JOBDIR ...]

JOBDIR holds proof.png, proof.svg and result.json. The SVG is drawn by rsvg-convert as
wide as the PNG. In both, at places along the lit glass of result.json:

- the light lies on the centreline, edge to edge, within a pixel and a half;
- its colour is the same within 8 % of the range of a channel, and 5 degrees of hue;
- blocked-out glass, where no lit glass is near, has less than half of its brightness.

Jobs whose glass is thinner than 6 pixels are left out; one must be left. Needs
rsvg-convert, numpy, PIL. Exits 1 where anything failed.
"""
import colorsys
import json
import math
import os
import re
import subprocess
import sys
import tempfile

import numpy as np
from PIL import Image

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from scale import plan

failed = 0


def check(ok, text):
    global failed
    if not ok:
        failed += 1
        print('FAIL', text)


def drawn(svg, wide):
    with tempfile.TemporaryDirectory() as d:
        subprocess.run(['rsvg-convert', '-w', str(wide), svg, '-o', d + '/p.png'], check=True)
        return np.asarray(Image.open(d + '/p.png').convert('RGB')).astype(float)


def at(picture, x, y):
    """The colour at a place in pixels, between its four neighbours."""
    x, y = x - 0.5, y - 0.5
    i, j = int(math.floor(x)), int(math.floor(y))
    u, v = x - i, y - j
    return ((1 - v) * ((1 - u) * picture[j, i] + u * picture[j, i + 1])
            + v * ((1 - u) * picture[j + 1, i] + u * picture[j + 1, i + 1]))


def edges(picture, c, n, d):
    """Where on the line through c along n the light falls to half, on both sides, in pixels."""
    out = []
    middle = at(picture, *c).max()
    for sign in (-1, 1):
        line = [at(picture, c[0] + sign * n[0] * t, c[1] + sign * n[1] * t).max() for t in np.arange(0, 1.2 * d, 0.1)]
        half = (middle + line[-1]) / 2
        below = [k for k, v in enumerate(line) if v < half]
        out.append(0.1 * below[0] if below else math.inf)
    return out


def places(result, role):
    """Points of the glass of a role, 2 mm apart, with the direction there."""
    for u in result['units']:
        for s in u['path']:
            if s['role'] != role or s['kind'] != 'line':
                continue
            pts = plan(s, 2)
            for a, b in zip(pts, pts[1:]):
                if math.dist(a, b) > 0.5:
                    yield (a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (b[0] - a[0]) / math.dist(a, b), (b[1] - a[1]) / math.dist(a, b)


def job(folder):
    result = json.load(open(folder + '/result.json'))
    svg = open(folder + '/proof.svg').read()
    x0, y1 = (float(v) for v in re.search(r'is at \(x - (-?[\d.]+), (-?[\d.]+) - y\)', svg).groups())
    wide = float(re.search(r'viewBox="0 0 ([\d.]+) ', svg).group(1))
    png = np.asarray(Image.open(folder + '/proof.png').convert('RGB')).astype(float)
    scale = png.shape[1] / wide
    d = result['tube']['outside_diameter']
    if d * scale < 6:
        return 0
    pictures = {'png': png, 'svg': drawn(folder + '/proof.svg', png.shape[1])}
    check(abs(pictures['svg'].shape[0] - png.shape[0]) <= 1, f'{folder}: pictures of {png.shape[:2]} and {pictures["svg"].shape[:2]} pixels')
    every = np.array([p for u in result['units'] for s in u['path'] for p in plan(s, 2)])
    lit = np.array([p for u in result['units'] for s in u['path'] if s['role'] == 'lit' for p in plan(s, 2)])
    seen, light = 0, []
    for x, y, dx, dy in places(result, 'lit'):
        off = every - (x, y)
        beside = (np.abs(off @ (-dy, dx)) > 0.1) & (np.hypot(*off.T) < 3 * d)  # other glass or a bend is near
        if beside.any():
            continue
        seen += 1
        c, n = ((x - x0) * scale, (y1 - y) * scale), (dy, dx)
        tones = {}
        for name, picture in pictures.items():
            left, right = edges(picture, c, n, d * scale)
            check(abs(left - right) / 2 < 1.5 and abs(left + right - d * scale) < 3,
                  f'{folder}/proof.{name}: at ({x:.1f}, {y:.1f}) light from {-left:.1f} to {right:.1f} pixels of the line, the glass is {d * scale:.1f} wide')
            tones[name] = at(picture, *c)
        light.append(min(t.max() for t in tones.values()))
        a, b = tones['png'], tones['svg']
        check(np.abs(a - b).max() < 0.08 * 255, f'{folder}: at ({x:.1f}, {y:.1f}) the colours are {a.round()} and {b.round()}')
        turn = abs(colorsys.rgb_to_hsv(*a / 255)[0] - colorsys.rgb_to_hsv(*b / 255)[0])
        check(min(turn, 1 - turn) * 360 < 5, f'{folder}: at ({x:.1f}, {y:.1f}) the hues are {min(turn, 1 - turn) * 360:.0f} degrees apart')
    check(seen >= 10, f'{folder}: only {seen} places looked at')
    dark = 0
    for x, y, _, _ in places(result, 'hidden'):
        if np.hypot(*(lit - (x, y)).T).min() < 1.5 * d:
            continue
        dark += 1
        for name, picture in pictures.items():
            tone = at(picture, (x - x0) * scale, (y1 - y) * scale).max()
            check(tone < 0.5 * min(light), f'{folder}/proof.{name}: blocked-out glass at ({x:.1f}, {y:.1f}) is as bright as {tone:.0f} of 255')
    print(f'{folder}: {seen} places of lit glass, {dark} of blocked-out glass')
    return 1


def main(folders):
    if not folders:
        sys.exit(__doc__)
    check(sum(job(f.rstrip('/')) for f in folders) > 0, 'no job has glass wide enough to be measured')
    sys.exit(1 if failed else 0)


main(sys.argv[1:])
