#!/usr/bin/env python3
"""Scores the traced strokes of the shared truth faces against their bars.

Usage: strokes.py     (from the top of the repository)

TUBEWRIGHT names the program (else it is built), TUBEWRIGHT_SHARED the folder with
check/strokes (default: ../shared): faces built from known strokes, and the scorer whose
columns these are. Lengths are % of the cap height, angles degrees. Each bar holds for all
letters of its faces together. "topo_bad" may be no more than the truth has when it is
scored against itself. Exits 1 if a bar is missed or a tool is missing.

With names of truth faces (files.ttf beside files.truth.json) as arguments those are
scored and no bar is held to them.
"""
import concurrent.futures
import json
import math
import os
import subprocess
import sys
import tempfile

SHARED = os.environ.get("TUBEWRIGHT_SHARED", "../shared")
KIT = os.path.join(SHARED, "check", "strokes")
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"
SANS = ["futural-round-8", "futural-round-12", "futural-round-18"]
SCRIPT = ["scripts-round-8", "scripts-round-12", "scripts-round-18"]
# name, faces, largest value of each column, junctions that may be off
BARS = [
    ("sans, round pen", SANS, dict(mean=0.03, haus_mean=0.6, d_in_J=0.08, d_out_J=0.01, tan_in=1.2, tan_out=0.1,
                                   len_abs=0.3, spur=0, lost_end=0), 0),
    ("sans, flat pen", ["futural-flat-12"], dict(mean=0.05, haus_mean=0.8, d_in_J=0.12, d_out_J=0.02, tan_in=1.5, tan_out=0.15,
                                                 len_abs=0.5, spur=0, lost_end=0), 0),
    ("script, round pen", SCRIPT, dict(mean=0.15, haus_mean=2, d_in_J=0.3, d_out_J=0.1, tan_in=3, tan_out=0.6,
                                       len_abs=2, spur=10, lost_end=5), 9),
]


def scorer():
    """The functions of the kit's eval.py, without its command line."""
    path = os.path.join(KIT, "eval.py")
    with open(path) as f:
        source = f.read()
    tools = {}
    exec(compile(source[:source.rindex("\nmain()")], path, "exec"), tools)
    return tools


def points(segment, step):
    """Points along a segment of a trace."""
    if segment["kind"] == "line":
        return [segment["from"][:2], segment["to"][:2]]
    (x, y), r = segment["centre"][:2], segment["radius"]
    turn = math.radians(segment["angle"]) * (1 if segment["axis"][2] > 0 else -1)
    first = math.atan2(segment["from"][1] - y, segment["from"][0] - x)
    n = max(4, math.ceil(r * abs(turn) / step))
    return [[x + r * math.cos(first + turn * k / n), y + r * math.sin(first + turn * k / n)] for k in range(n + 1)]


def lines_of(glyph, per_unit, step):
    """The strokes of a traced glyph as polylines in the font's own units."""
    out = []
    for stroke in glyph["strokes"]:
        line = []
        for segment in stroke["path"]:
            more = points(segment, step)
            line += more[1:] if line else more
        out.append([[(x - glyph["origin"][0]) / per_unit, (y - glyph["origin"][1]) / per_unit] for x, y in line])
    return out


def score(job):
    """Scores one face: a row a letter, and how many truths have a topology the scorer misreads."""
    program, base = job
    tools = scorer()
    with open(base + ".truth.json") as f:
        truth = json.load(f)
    made = subprocess.run([program, "trace", "--font", base + ".ttf", "--text", LETTERS], capture_output=True, text=True)
    if made.returncode not in (0, 3):
        sys.exit(f"{base}: exit status {made.returncode}: {made.stderr.strip()[:300]}")
    trace = json.loads(made.stdout)
    unit = trace["mm_per_em_unit"]
    glyphs = {g["text"]: g for g in trace["glyphs"]}
    rows, misread = [], 0
    for char, true in truth["glyphs"].items():
        if not true["recoverable"]:
            continue
        row = tools["one"](true, lines_of(glyphs[char], unit, truth["cap"] * unit / 2000), truth["cap"], truth["width"])
        if row is None:
            sys.exit(f"{base}: {char!r} has no strokes")
        rows.append(row)
        misread += tools["topo"](true["edges"], truth["cap"]) != (true["b0"], true["b1"])
    return rows, misread


def pooled(rows):
    """The columns of all letters together, as eval.py has them of one face."""
    def mean(key, f=lambda v: v):
        return sum(f(r[key]) for r in rows) / len(rows)

    def weighted(key):
        return sum(r[key][0] for r in rows) / max(1, sum(r[key][1] for r in rows))

    def total(key):
        return sum(r[key] for r in rows)

    return dict(mean=mean("mean"), haus_mean=mean("haus"), d_in_J=weighted("in"), d_out_J=weighted("out"), tan_in=weighted("tan_in"),
                tan_out=weighted("tan_out"), len_abs=mean("len", abs), spur=total("spur"), lost_end=total("lost_end"), jn=total("jn"),
                jn_true=total("jn_true"), topo_bad=total("topo_bad"))


def show(name, rows, misread):
    got = pooled(rows)
    print(f"{name}: {len(rows)} letters: " + ", ".join(f"{k} {v:.3f}" if isinstance(v, float) else f"{k} {v}" for k, v in got.items()) +
          f" (the truth itself {misread})")
    return got


def main():
    if not os.path.exists(os.path.join(KIT, "eval.py")):
        sys.exit(f"strokes.py: {KIT}/eval.py is missing; set TUBEWRIGHT_SHARED")
    with tempfile.TemporaryDirectory() as folder:
        program = os.environ.get("TUBEWRIGHT")
        if not program:
            program = os.path.join(folder, "tubewright")
            subprocess.run(["go", "build", "-o", program, "./cmd/tubewright"], check=True)
        others = [a.removesuffix(".ttf") for a in sys.argv[1:]]
        bases = others or [os.path.join(KIT, "truth", f) for _, faces, _, _ in BARS for f in faces]
        with concurrent.futures.ProcessPoolExecutor(os.cpu_count()) as pool:
            scores = dict(zip(bases, pool.map(score, [(program, b) for b in bases])))
    for base in others:
        show(os.path.basename(base), *scores[base])
    bad = 0
    for name, faces, bars, off in [] if others else BARS:
        part = [scores[os.path.join(KIT, "truth", f)] for f in faces]
        misread = sum(m for _, m in part)
        got = show(name, [r for rows, _ in part for r in rows], misread)
        bars = dict(bars, topo_bad=misread)
        for key, most in bars.items():
            if round(got[key], 3) > most:  # eval.py gives three decimals
                print(f"  missed: {key} {got[key]:.3f}, at most {most}")
                bad += 1
        if abs(got["jn"] - got["jn_true"]) > off:
            print(f"  missed: {got['jn']} junctions, {got['jn_true']} are true")
            bad += 1
    print(f"{bad} bars missed")
    sys.exit(1 if bad else 0)


if __name__ == "__main__":
    main()
