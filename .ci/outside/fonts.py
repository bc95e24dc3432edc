#!/usr/bin/env python3
"""Compares tubewright's shaping and outlines with HarfBuzz and fontTools.

Usage: fonts.py            (from the top of the repository)

Shaping: each line of testdata/fonts/paragraphs.json, run by run as written
there, through hb-shape; glyph ids, clusters, advances and offsets must be
equal. Outlines: every glyph of every embedded outline face through fontTools;
points must agree within TOL. Order: every line of Unicode's own test of the
bidirectional algorithm that applies, through the Go test. Exits 1 if anything differs or a tool is missing.
"""
import json
import os
import shutil
import subprocess
import sys
import tempfile

try:
    from fontTools.pens.basePen import BasePen
    from fontTools.ttLib import TTFont
except ImportError:
    sys.exit("fonts.py: fontTools is missing: apt-get install python3-fonttools")

# Font units: points are whole or half units, which floats hold exactly.
TOL = 0
FACES = "fonts/faces/"
BIDI = "/usr/share/unicode/BidiCharacterTest.txt"


class Pieces(BasePen):
    """Records contours as pieces of 2, 3 or 4 points, closed by a line."""

    def __init__(self, glyphs):
        super().__init__(glyphs)
        self.contours = []

    def _moveTo(self, p):
        self.start, self.at, self.pieces = p, p, []

    def _lineTo(self, p):
        self.pieces.append((self.at, p))
        self.at = p

    def _qCurveToOne(self, c, p):
        self.pieces.append((self.at, c, p))
        self.at = p

    def _curveToOne(self, c, d, p):
        self.pieces.append((self.at, c, d, p))
        self.at = p

    def _closePath(self):
        self._lineTo(self.start)
        self.contours.append(self.pieces)

    _endPath = _closePath


def drawn(contours):
    """Drops pieces of no length, and contours of nothing else; orders the
    rest, since a contour may start at any of its points."""
    kept = []
    for c in contours:
        pieces = sorted(p for p in c if len(p) > 2 or p[0] != p[1])
        if pieces:
            kept.append(pieces)
    return sorted(kept)


def ours(contours):
    pairs = lambda p: tuple(zip(p[0::2], p[1::2]))
    closed = []
    for c in contours or []:
        pieces = [pairs(p) for p in c]
        pieces.append((pieces[-1][-1], pieces[0][0]))
        closed.append(pieces)
    return drawn(closed)


def distance(a, b):
    """Greatest distance between matching points; None if the shapes differ."""
    if [[len(p) for p in c] for c in a] != [[len(p) for p in c] for c in b]:
        return None
    worst = 0.0
    for c, d in zip(a, b):
        for p, q in zip(c, d):
            for (x, y), (u, v) in zip(p, q):
                worst = max(worst, abs(x - u), abs(y - v))
    return worst


def hb_shape(line):
    """Shapes the runs of a line, left to right, with HarfBuzz."""
    pen, out = 0, []
    for run in line["runs"]:
        end = run["at"] + len(run["text"])
        if line["text"][run["at"]:end] != run["text"]:
            sys.exit(f"fonts.py: run {run['text']!r} is not at {run['at']} of {line['text']!r}")
        cmd = ["hb-shape", FACES + line["file"], "--shapers=ot", "--output-format=json", "--no-glyph-names",
               "--direction=" + run["direction"], "--script=" + run["script"],
               "--language=" + (line.get("language") or "und"),
               "--text-before=" + line["text"][:run["at"]], "--text-after=" + line["text"][end:],
               "--features=" + ",".join(line.get("features") or []), "--text=" + run["text"]]
        if run["at"] == 0:
            cmd.append("--bot")
        if end == len(line["text"]):
            cmd.append("--eot")
        for g in json.loads(subprocess.run(cmd, check=True, capture_output=True, text=True).stdout):
            out.append((g["g"], g["cl"] + run["at"], g["ax"], pen + g["dx"], g["dy"]))
            pen += g["ax"]
    return out


def check_shaping(lines):
    glyphs, bad = 0, 0
    for line in lines:
        want = hb_shape(line)
        got = [(g["id"], g["cluster"], g["advance"], g["x"], g["y"]) for g in line["glyphs"]]
        glyphs += len(want)
        if got != want:
            bad += 1
            print(f"shaping differs: {line['face']} {line['text']!r}\n  hb-shape   {want}\n  tubewright {got}")
    print(f"shaping: {len(lines)} lines, {glyphs} glyphs in {len({l['face'] for l in lines})} faces, {bad} lines differ")
    return bad == 0


def check_placed(lines, faces):
    """The outlines on the line are those of the face, moved to their origins."""
    outlines = {f["file"]: f["glyphs"] for f in faces}
    bad = 0
    for line in lines:
        for g in line["glyphs"]:
            moved = [[[v - (g["y"] if i % 2 else g["x"]) for i, v in enumerate(p)] for p in c] for c in g.get("contours") or []]
            want = outlines[line["file"]][g["id"]] or []
            d = distance([[tuple(zip(p[0::2], p[1::2])) for p in c] for c in moved],
                         [[tuple(zip(p[0::2], p[1::2])) for p in c] for c in want])
            if d is None or d > TOL:
                bad += 1
                print(f"outline is not where its glyph is: {line['face']} {line['text']!r} glyph {g['id']}")
    return bad == 0


def check_outlines(faces):
    ok = True
    for face in faces:
        font = TTFont(FACES + face["file"])
        names, glyphs = font.getGlyphOrder(), font.getGlyphSet()
        if len(names) != len(face["glyphs"]):
            print(f"{face['file']}: {len(face['glyphs'])} glyphs, fontTools finds {len(names)}")
            ok = False
            continue
        worst, points, bad = 0.0, 0, 0
        for i, name in enumerate(names):
            pen = Pieces(glyphs)
            glyphs[name].draw(pen)
            want, got = drawn(pen.contours), ours(face["glyphs"][i])
            d = distance(want, got)
            points += sum(len(p) - 1 for c in want for p in c)
            if d is None or d > TOL:
                bad += 1
                print(f"{face['file']} glyph {i} {name}: {'other pieces' if d is None else f'{d:g} units apart'}")
            else:
                worst = max(worst, d)
        print(f"outlines: {face['file']}: {len(names)} glyphs, {points} points, {bad} differ, else within {worst:.2g} units")
        ok = ok and bad == 0 and points > 0
    return ok


def check_order():
    done = subprocess.run(["go", "test", "-count=1", "-v", "-run", "^TestBidiConformance$", "./fonts/sfnt"],
                          env=dict(os.environ, TUBEWRIGHT_BIDI=BIDI), capture_output=True, text=True)
    print("order: " + done.stdout.strip().replace("\n", "\n  "))
    return done.returncode == 0 and "PASS: TestBidiConformance" in done.stdout


def main():
    for tool in ("hb-shape", "go"):
        if shutil.which(tool) is None:
            sys.exit(f"fonts.py: {tool} is missing: apt-get install {'libharfbuzz-bin' if tool == 'hb-shape' else 'golang'}")
    if not os.path.exists(BIDI):
        sys.exit(f"fonts.py: {BIDI} is missing: apt-get install unicode-data")
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run(["go", "test", "-count=1", "-run", "^TestWriteShapingDump$", "./fonts"], check=True,
                       env=dict(os.environ, TUBEWRIGHT_DUMP=folder), stdout=subprocess.DEVNULL)
        with open(os.path.join(folder, "shaping.json"), encoding="utf-8") as f:
            dump = json.load(f)
    checks = [check_shaping(dump["lines"]), check_placed(dump["lines"], dump["faces"]), check_outlines(dump["faces"]), check_order()]
    if len(dump["faces"]) != 8:
        print(f"{len(dump['faces'])} outline faces, 8 are promised")
        checks.append(False)
    if not all(checks):
        sys.exit(1)


if __name__ == "__main__":
    main()
