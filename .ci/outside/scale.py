#!/usr/bin/env python3
"""Measure the drawings of a job as print would show them.

usage: scale.py JOBDIR [JOBDIR ...]

JOBDIR holds pattern.svg, pattern.pdf and result.json. For each job:

- the scale bars, rendered from the PDF by pdftoppm and from the SVG by
  rsvg-convert, measure 100 mm and 4 in (101.6 mm) within 0.2 mm on both axes;
- the centrelines in the SVG are the mirror image of the plan of result.json,
  point by point, within 0.02 mm, and no shifted copy of its front view;
- the picture of the PDF shows the edges of the lit glass where the mirror image
  has them, and not where the front view would have them.

Needs pdftoppm, pdfinfo, rsvg-convert, numpy and PIL; a missing one is a failure.
At least one unit must be no mirror image of itself. Exits 1 where anything failed.
"""
import json, math, os, re, shutil, subprocess, sys, tempfile
import xml.etree.ElementTree as ET

try:
    import numpy as np
    from PIL import Image
except ImportError as e:
    sys.exit(f'scale.py: {e}: install python3-numpy and python3-pil')

Image.MAX_IMAGE_PIXELS = None
MM_PER_INCH = 25.4
SVG = '{http://www.w3.org/2000/svg}'
TOLERANCE = 0.2     # mm, of a bar
MIRROR = 0.02       # mm, of a centreline
OVERLAP = 50        # mm, of pages
DPI = 300           # for bars
COARSE = 100        # dpi for the whole picture
WIDEST = 30000      # pixels that the SVG renderer can make


class Checks:
    def __init__(self):
        self.passed = self.failed = 0

    def __call__(self, ok, what):
        if ok:
            self.passed += 1
        else:
            self.failed += 1
            print('FAIL', what)


def run(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


class Drawing:
    """The SVG read as data: paths by group, in mm from the top left corner."""

    def __init__(self, name):
        root = ET.parse(name).getroot()
        size = [float(re.fullmatch(r'([\d.]+)mm', root.get(k)).group(1)) for k in ('width', 'height')]
        box = [float(v) for v in root.get('viewBox').split()]
        if box != [0, 0] + size:
            raise ValueError(f'{name}: viewBox {box} is not 0 0 {size}: one unit must be one mm')
        self.frame = root.get('data-frame')
        self.width, self.height = size
        self.groups = {g.get('id'): [p.get('d') for p in g.iter(SVG + 'path')] for g in root.iter(SVG + 'g')}

    def points(self, group, step):
        return [q for d in self.groups[group] for q in sample(d, step)]


def sample(d, step):
    """Points along path data of M, L, A and Z at most step apart."""
    out, at, start = [], None, None
    for cmd, args in re.findall(r'([MLAZ])([^MLAZ]*)', d):
        v = [float(x) for x in args.split()]
        if cmd == 'M':
            at = start = (v[0], v[1])
            out.append(at)
        elif cmd in 'LZ':
            to = (v[0], v[1]) if cmd == 'L' else start
            n = max(1, math.ceil(math.dist(at, to) / step))
            out += [(at[0] + (to[0] - at[0]) * k / n, at[1] + (to[1] - at[1]) * k / n) for k in range(1, n + 1)]
            at = to
        else:
            r, large, sweep, to = v[0], v[3], v[4], (v[5], v[6])
            if large:
                raise ValueError('an arc of more than half a turn')
            out += arc(at, to, r, sweep, step)
            at = to
    return out


def arc(a, b, r, sweep, step):
    chord = math.dist(a, b)
    if chord == 0:
        return []
    h = math.sqrt(max(0.0, r * r - chord * chord / 4))
    ux, uy = (b[0] - a[0]) / chord, (b[1] - a[1]) / chord
    side = 1 if sweep else -1              # y down: sweep 1 turns clockwise on paper
    cx, cy = (a[0] + b[0]) / 2 - side * uy * h, (a[1] + b[1]) / 2 + side * ux * h
    t0 = math.atan2(a[1] - cy, a[0] - cx)
    turn = side * 2 * math.asin(min(1.0, chord / (2 * r)))
    n = max(1, math.ceil(abs(turn) * r / step))
    return [(cx + r * math.cos(t0 + turn * k / n), cy + r * math.sin(t0 + turn * k / n)) for k in range(1, n + 1)]


# ---- the pattern, from result.json alone

def rotate(v, axis, t):
    c, s = math.cos(t), math.sin(t)
    x = [axis[1] * v[2] - axis[2] * v[1], axis[2] * v[0] - axis[0] * v[2], axis[0] * v[1] - axis[1] * v[0]]
    dot = sum(a * b for a, b in zip(axis, v))
    return [v[i] * c + x[i] * s + axis[i] * dot * (1 - c) for i in range(3)]


def plan(seg, step):
    """Front-view points (x, y) of a segment."""
    a, b = seg['from'], seg['to']
    if seg['kind'] == 'line':
        n = max(1, math.ceil(math.dist(a, b) / step))
        return [tuple(a[i] + (b[i] - a[i]) * k / n for i in (0, 1)) for k in range(n + 1)]
    turn, c = math.radians(seg['angle']), seg['centre']
    n = max(1, math.ceil(turn * seg['radius'] / step))
    v = [a[i] - c[i] for i in range(3)]
    return [tuple(c[i] + w[i] for i in (0, 1)) for w in (rotate(v, seg['axis'], turn * k / n) for k in range(n + 1))]


def resampled(pts, count):
    """Points at equal distances along a line, and its length."""
    p = np.array(pts)
    at = np.concatenate([[0], np.cumsum(np.sqrt((np.diff(p, axis=0) ** 2).sum(axis=1)))])
    where = np.linspace(0, at[-1], count)
    return np.stack([np.interp(where, at, p[:, k]) for k in (0, 1)], axis=1), at[-1]


def check_mirror(ck, drawing, result):
    """Walk both lines side by side, from electrode A to B. Return where front (0, 0)
    stands on the sheet, mm from its top left corner."""
    ck(drawing.frame == 'bench', f'the SVG says frame {drawing.frame}')
    first = result['units'][0]
    start, front = drawing.points('centreline-' + first['id'], 1)[0], first['path'][0]['from']
    x0, y0 = start[0] + front[0], start[1] + front[1]
    unlike = 0.0                             # how far the drawing is from an unmirrored copy
    for u in result['units']:
        pts = [q for s in u['path'] for q in plan(s, 0.1)]
        drawn = drawing.points('centreline-' + u['id'], 0.1)
        count = max(2, len(pts) // 5)
        want, long = resampled([(x0 - x, y0 - y) for x, y in pts], count)
        got, drawn_long = resampled(drawn, count)
        off = float(np.sqrt(((want - got) ** 2).sum(axis=1)).max())
        ck(off < MIRROR, f"unit {u['id']}: the centreline is {off:.3f} mm off the mirror image")
        ck(abs(long - drawn_long) < MIRROR, f"unit {u['id']}: the centreline is {drawn_long:.3f} mm long, its plan {long:.3f} mm")
        copy = want * (-1, 1)
        copy += want.mean(axis=0) - copy.mean(axis=0)
        unlike = max(unlike, float(np.sqrt(((copy - got) ** 2).sum(axis=1)).max()))
    print(f"  mirror: {len(result['units'])} centrelines walked; a front view would be off by up to {unlike:.1f} mm")
    ck(unlike > 1, 'the drawing cannot be told from a front view')
    return x0, y0


# ---- pictures

def dark(image):
    return 1 - np.asarray(image.convert('L'), dtype=np.float32) / 255


def pdf_picture(name, dpi, tmp, page, crop=()):
    """A page, or the box crop = (x, y, width, height) of it in pixels."""
    box = [v for k, n in zip(('-x', '-y', '-W', '-H'), crop) for v in (k, str(n))]
    run('pdftoppm', '-r', str(dpi), '-f', str(page), '-l', str(page), *box, '-gray', '-singlefile', name, tmp + '/pdf')
    return dark(Image.open(tmp + '/pdf.pgm'))


def whole_picture(pdf, pages, dpi, tmp, drawing):
    """All pages laid together as the match marks say."""
    px = dpi / MM_PER_INCH
    out = np.zeros((int(drawing.height * px) + 2, int(drawing.width * px) + 2), dtype=np.float32)
    for i in range(pages):
        p = pdf_picture(pdf, dpi, tmp, i + 1)
        x = round(i * (p.shape[1] / px - OVERLAP) * px)
        h, w = min(p.shape[0], out.shape[0]), min(p.shape[1], out.shape[1] - x)
        out[:h, x:x + w] = np.maximum(out[:h, x:x + w], p[:h, :w])
    return out


def svg_picture(name, dpi, tmp):
    run('rsvg-convert', '-d', str(dpi), '-p', str(dpi), name, '-o', tmp + '/svg.png')
    return dark(Image.open(tmp + '/svg.png'))


def bars(drawing):
    """The four beams of the first set of bars: (length, vertical, box in mm)."""
    found = []
    for d in drawing.groups['scale-1']:
        for sub in re.findall(r'M[^M]*', d):
            pts = sample(sub, 1000)
            xs, ys = [p[0] for p in pts], [p[1] for p in pts]
            w, h = max(xs) - min(xs), max(ys) - min(ys)
            for length in (100.0, 101.6):
                if abs(w - length) < 0.01 or abs(h - length) < 0.01:
                    found.append((length, h > w, (min(xs), min(ys), max(xs), max(ys))))
    return found


def measured(picture, dpi, box, upright, corner=(0, 0)):
    """Length of a beam in mm: the darkness along it, summed, over its full darkness.
    The picture's own corner lies at pixel corner of the sheet."""
    px = dpi / MM_PER_INCH
    x0, y0, x1, y1 = (v - c / px for v, c in zip(box, corner * 2))
    margin = 1.5                             # mm of white before and after
    if upright:
        middle = int((x0 + x1) / 2 * px)
        line = picture[int((y0 - margin) * px):int((y1 + margin) * px) + 1, middle]
    else:
        middle = int((y0 + y1) / 2 * px)
        line = picture[middle, int((x0 - margin) * px):int((x1 + margin) * px) + 1]
    return float(line.sum() / np.median(line)) / px


def check_bars(ck, what, picture, dpi, drawing, corner=(0, 0)):
    found = bars(drawing)
    ck(sorted((b[0], b[1]) for b in found) == [(100.0, False), (100.0, True), (101.6, False), (101.6, True)],
       f'{what}: the scale bars are {[(b[0], b[1]) for b in found]}')
    for length, upright, box in found:
        got = measured(picture, dpi, box, upright, corner)
        print(f"  {what}: {length:g} mm {'up' if upright else 'across'} measures {got:.2f} mm")
        ck(abs(got - length) < TOLERANCE, f'{what}: the bar of {length} mm measures {got:.3f} mm')


def check_picture(ck, picture, dpi, drawing, result, x0, y0):
    """Count edges of straight lit glass that are dark in the picture: mirrored, and
    where a front view in the same box would have them."""
    px, half = dpi / MM_PER_INCH, result['tube']['outside_diameter'] / 2
    xs = [q[0] for u in result['units'] for s in u['path'] for q in plan(s, 5)]
    flip = x0 - min(xs) + x0 - max(xs)       # mirrored x and front x of one place sum to this
    hits = [0, 0, 0]

    def is_dark(x, y):
        i, j, r = int(y * px), int(x * px), max(1, round(0.25 * px))
        return bool((picture[max(0, i - r):i + r + 1, max(0, j - r):j + r + 1] > 0.4).any())

    for u in result['units']:
        for s in u['path']:
            pts = plan(s, 1)
            if s['role'] != 'lit' or s['kind'] != 'line' or math.dist(pts[0], pts[-1]) < 2 * half:
                continue
            n = math.dist(pts[0], pts[-1])
            ox, oy = (pts[-1][1] - pts[0][1]) / n * half, -(pts[-1][0] - pts[0][0]) / n * half
            for x, y in pts:
                for k in (1, -1):
                    ex, ey = x0 - (x + k * ox), y0 - (y + k * oy)
                    hits[0] += 1
                    hits[1] += is_dark(ex, ey)
                    hits[2] += is_dark(flip - ex, ey)
    if not hits[0]:
        print('  note: no straight lit glass to look at in the picture')
        return
    mirror, front = hits[1] / hits[0], hits[2] / hits[0]
    print(f'  picture: {mirror:.1%} of {hits[0]} places on edges are drawn in the mirror image, {front:.1%} in the front view')
    ck(mirror > 0.9, f'the picture shows only {mirror:.1%} of the edges of lit glass')
    if front > 0.85 * mirror:
        print('  note: the word is nearly its own mirror image; the picture cannot tell the frame')


def check_job(ck, job):
    svg, pdf = job + '/pattern.svg', job + '/pattern.pdf'
    drawing = Drawing(svg)
    with open(job + '/result.json') as f:
        result = json.load(f)
    pages = int(re.search(r'Pages:\s+(\d+)', run('pdfinfo', pdf)).group(1))
    size = re.search(r'Page size:\s+([\d.]+) x ([\d.]+) pts', run('pdfinfo', pdf))
    if pages == 1:
        for got, want in zip(size.groups(), (drawing.width, drawing.height)):
            ck(abs(float(got) * MM_PER_INCH / 72 - want) < 0.02, f'a side of the page is {got} pt, of the SVG {want} mm')
    with tempfile.TemporaryDirectory() as tmp:
        px, boxes = DPI / MM_PER_INCH, [b[2] for b in bars(drawing)]
        corner = tuple(int((min(b[k] for b in boxes) - 5) * px) for k in (0, 1))
        size = tuple(int((max(b[k + 2] for b in boxes) + 5) * px) - corner[k] for k in (0, 1))
        check_bars(ck, 'PDF', pdf_picture(pdf, DPI, tmp, 1, corner + size), DPI, drawing, corner)
        dpi = min(DPI, int(WIDEST * MM_PER_INCH / max(drawing.width, drawing.height)))
        check_bars(ck, 'SVG', svg_picture(svg, dpi, tmp), dpi, drawing)
        if result['units']:
            x0, y0 = check_mirror(ck, drawing, result)
            check_picture(ck, whole_picture(pdf, pages, COARSE, tmp, drawing), COARSE, drawing, result, x0, y0)


def main(jobs):
    if not jobs:
        sys.exit(__doc__)
    for tool in ('pdftoppm', 'pdfinfo', 'rsvg-convert'):
        if not shutil.which(tool):
            sys.exit(f'scale.py: {tool} is missing: install poppler-utils and librsvg2-bin')
    ck = Checks()
    for job in jobs:
        print(os.path.normpath(job))
        try:
            check_job(ck, job)
        except (OSError, ValueError, KeyError, AttributeError, subprocess.CalledProcessError, ET.ParseError) as e:
            ck(False, f'{job}: {type(e).__name__}: {e}')
    print(f'{ck.passed} passed, {ck.failed} failed')
    sys.exit(1 if ck.failed else 0)


if __name__ == '__main__':
    main(sys.argv[1:])
