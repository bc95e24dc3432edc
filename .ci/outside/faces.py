#!/usr/bin/env python3
"""Measures the centrelines of the embedded faces and of five others.

Usage: faces.py            (from the top of the repository)

TUBEWRIGHT names the program (else it is built). Every letter of every face has
a finding, or: swept with the pen, its strokes cover at least 97 % of the ink and
leave it by less than 3 %, by the program's own measure, and none of them leaves
the ink, by fontTools' outlines of the glyphs that HarfBuzz's hb-shape chooses.
The five others come with Debian: a copperplate and a brushed script
(fonts-ecolier-court, fonts-kristi), a bold sans (fonts-lato), a serif
(fonts-dejavu-core) and a Thai face (fonts-tlwg-loma-ttf). It prints one line a
face, and exits 1 if a letter fails or a tool or a face is missing.
"""
import concurrent.futures
import json
import math
import os
import shutil
import subprocess
import sys
import tempfile

try:
    import numpy as np
    from fontTools.pens.basePen import BasePen
    from fontTools.ttLib import TTFont
except ImportError as e:
    sys.exit(f"faces.py: {e}: apt-get install python3-fonttools python3-numpy")

LATIN = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"
ARABIC = "ءآأؤإئابةتثجحخدذرزسشصضطظعغفقكلمنهوىي٠١٢٣٤٥٦٧٨٩"
THAI = "กขคฆงจฉชซญฎฏฐฑฒณดตถทธนบปผฝพฟภมยรลวศษสหฬอฮ"
DEBIAN = "/usr/share/fonts/truetype/"
FACES = [(f"fonts/faces/{name}", LATIN) for name in (
    "Comfortaa-Light.ttf", "Quicksand-Light.ttf", "MPLUSRounded1c-Light-LatinKana.ttf", "PlaywriteDELA-Thin.ttf",
    "Vibur-Regular.ttf", "LeagueSpartan-ExtraLight.otf", "Jura-Light.otf")] + [
    ("fonts/faces/NotoKufiArabic-ExtraLight.ttf", ARABIC),
    (DEBIAN + "ecolier-court/Ecolier-court.ttf", LATIN), (DEBIAN + "kristi/Kristi.ttf", LATIN),
    (DEBIAN + "lato/Lato-Bold.ttf", LATIN), (DEBIAN + "dejavu/DejaVuSerif.ttf", LATIN),
    (DEBIAN + "tlwg/Loma.ttf", LATIN + THAI)]
HEIGHT = 100.0  # mm
LEAST_COVER, MOST_SPILL = 0.97, 0.03
# A stroke's end may lie on the outline, which both programs flatten: mm.
OUT = 0.002 * HEIGHT


class Loops(BasePen):
    """Flattens a glyph to loops of points, font units."""

    def __init__(self, glyphs):
        super().__init__(glyphs)
        self.loops = []

    def _moveTo(self, p):
        self.loops.append([p])

    def _lineTo(self, p):
        self.loops[-1].append(p)

    def _curveToOne(self, a, b, c):
        p = self.loops[-1][-1]
        for t in np.arange(1, 25) / 24:
            s = 1 - t
            self.loops[-1].append(tuple(s**3 * p[k] + 3 * s * s * t * a[k] + 3 * s * t * t * b[k] + t**3 * c[k] for k in (0, 1)))

    def _qCurveToOne(self, a, b):
        p = self.loops[-1][-1]
        for t in np.arange(1, 25) / 24:
            s = 1 - t
            self.loops[-1].append(tuple(s * s * p[k] + 2 * s * t * a[k] + t * t * b[k] for k in (0, 1)))


def outside(points, loops):
    """How far each point is outside the ink, 0 for one inside (non-zero winding)."""
    a = np.concatenate([np.array(l) for l in loops])
    b = np.concatenate([np.roll(np.array(l), -1, axis=0) for l in loops])
    p = np.array(points)[:, None, :]
    ab = b - a
    up = (a[:, 1] <= p[:, :, 1]) & (b[:, 1] > p[:, :, 1])
    down = (a[:, 1] > p[:, :, 1]) & (b[:, 1] <= p[:, :, 1])
    left = ab[:, 0] * (p[:, :, 1] - a[:, 1]) - ab[:, 1] * (p[:, :, 0] - a[:, 0])
    winding = (up & (left > 0)).sum(axis=1) - (down & (left < 0)).sum(axis=1)
    n = (ab**2).sum(axis=1)
    t = np.clip(((p - a) * ab).sum(axis=2) / np.where(n > 0, n, 1), 0, 1)
    d = np.sqrt(((a + t[:, :, None] * ab - p)**2).sum(axis=2)).min(axis=1)
    return np.where(winding != 0, 0, d)


def samples(path):
    """Points along a path of trace.json, at most HEIGHT/200 apart."""
    out = []
    for s in path:
        (x0, y0, _), (x1, y1, _) = s["from"], s["to"]
        if s["kind"] == "line":
            n = max(1, math.ceil(math.hypot(x1 - x0, y1 - y0) / (HEIGHT / 200)))
            out += [(x0 + (x1 - x0) * k / n, y0 + (y1 - y0) * k / n) for k in range(n + 1)]
            continue
        cx, cy, _ = s["centre"]
        first, sweep = math.atan2(y0 - cy, x0 - cx), math.radians(s["angle"]) * s["axis"][2]
        n = max(2, math.ceil(abs(sweep) * s["radius"] / (HEIGHT / 200)))
        out += [(cx + s["radius"] * math.cos(first + sweep * k / n), cy + s["radius"] * math.sin(first + sweep * k / n)) for k in range(n + 1)]
    return out


def run(*args):
    p = subprocess.run(args, capture_output=True, text=True)
    if p.returncode not in (0, 3):  # 3: with warnings
        sys.exit(f"faces.py: {' '.join(args)}: {p.stderr.strip()}")
    return p.stdout


def measure(program, path, letters):
    """Returns the face's line, and what is wrong, one line each."""
    text = " ".join(letters)
    got = json.loads(run(program, "trace", "--quiet", "--font", path, "--text", text, "--height", f"{HEIGHT}mm"))
    font = TTFont(path)
    glyphs, order = font.getGlyphSet(), font.getGlyphOrder()
    shaped = json.loads(run("hb-shape", "--output-format=json", "--no-glyph-names", "--font-file", path, "--text", text))
    drawn = []
    for g in shaped:
        pen = Loops(glyphs)
        glyphs[order[g["g"]]].draw(pen)
        if any(len(l) > 2 for l in pen.loops):
            drawn.append(pen.loops)
    if len(drawn) != len(got["glyphs"]):
        return os.path.basename(path), [f"{path}: {len(got['glyphs'])} glyphs drawn, HarfBuzz has {len(drawn)}"]
    wrong, cover, spill, noted, out = [], 1.0, 0.0, 0, 0.0
    scale = got["mm_per_em_unit"]
    for g, loops in zip(got["glyphs"], drawn):
        ox, oy = g["origin"]
        loops = [[(ox + scale * x, oy + scale * y) for x, y in l] for l in loops if len(l) > 2]
        points = [p for s in g["strokes"] for p in samples(s["path"])]
        if not points:
            wrong.append(f"{path}: {g['text']!r} has no strokes")
            continue
        far = outside(points, loops).max()
        if far > OUT and not g["findings"]:
            wrong.append(f"{path}: a stroke of {g['text']!r} leaves the ink by {far:.2f} mm")
        if g["findings"]:
            noted += 1
            continue
        out = max(out, far)
        cover, spill = min(cover, g["coverage"]), max(spill, g["spill"])
        if g["coverage"] < LEAST_COVER or g["spill"] >= MOST_SPILL:
            wrong.append(f"{path}: {g['text']!r} is covered to {g['coverage']:.3f} with {g['spill']:.3f} outside, and has no finding")
    line = (f"{os.path.basename(path):36s} {len(drawn):3d} glyphs, {noted:2d} with a finding; the others cover {100 * cover:.1f} % or more, "
            f"leave the ink by {100 * spill:.1f} % or less; their strokes leave it by {out:.3f} mm at most")
    return (line if noted < len(drawn) else f"{os.path.basename(path):36s} {len(drawn):3d} glyphs, all with a finding"), wrong


def main():
    if not shutil.which("hb-shape"):
        sys.exit("faces.py: hb-shape is missing: apt-get install libharfbuzz-bin")
    missing = [path for path, _ in FACES if not os.path.exists(path)]
    if missing:
        sys.exit(f"faces.py: missing {', '.join(missing)}: apt-get install fonts-ecolier-court fonts-kristi fonts-lato fonts-dejavu-core fonts-tlwg-loma-ttf")
    with tempfile.TemporaryDirectory() as made:
        program = os.environ.get("TUBEWRIGHT")
        if not program:
            program = os.path.join(made, "tubewright")
            subprocess.run(["go", "build", "-o", program, "./cmd/tubewright"], check=True)
        with concurrent.futures.ThreadPoolExecutor(2) as pool:
            measured = list(pool.map(lambda face: measure(program, *face), FACES))
    for line, _ in measured:
        print(line)
    wrong = [w for _, ws in measured for w in ws]
    for w in wrong:
        print(w)
    print(f"{len(FACES)} faces, {len(wrong)} letters wrong")
    sys.exit(1 if wrong else 0)


main()
