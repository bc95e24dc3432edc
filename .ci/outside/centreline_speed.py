#!/usr/bin/env python3
"""Times the centrelines beside two general-purpose peers on the same real faces.

Usage: centreline_speed.py     (from the top of the repository)

The peers are those of the shared folder's kit (check/strokes; TUBEWRIGHT_SHARED, by
default ../shared): the segment Voronoi diagram of Boost.Polygon, which gives the raw
axis alone, and the thinning of a raster 1000 pixels to the cap height (scikit-image).
Ours is the benchmark of geom/trace: outline to repaired and fitted strokes, the sweep
measured. All run on one core, in turn, letters and digits of every embedded outline
face that has them (the raster peer: a few letters of each, it is slow); the best of
ROUNDS runs counts. It prints a table of ms a glyph. Times are noise on a busy machine,
so it fails only where something is wrong by an order of magnitude.
"""
import glob
import json
import os
import re
import subprocess
import sys
import tempfile

TEXT = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"
FEW = "AOnu"
ROUNDS = 2
WORST = 20  # times the Boost peer: beyond that a change has broken something


def mean(path):
    """The mean of the whole time of a peer's glyphs, ms, and their number."""
    with open(path) as f:
        times = [g["ms"] for g in json.load(f)["glyphs"].values()]
    return sum(times) / len(times), len(times)


def ours():
    """ms a glyph of each stage."""
    out = subprocess.run(
        ["go", "test", "./geom/trace", "-run", "^$", "-bench", "^BenchmarkGlyph$", "-benchtime", "434x",
         "-cpu", "1", "-count", str(ROUNDS)], capture_output=True, text=True, env={**os.environ, "GOMAXPROCS": "1"})
    if out.returncode:
        sys.exit(f"the benchmark failed:\n{out.stdout}{out.stderr}")
    best = {}
    for stage, ns in re.findall(r"^BenchmarkGlyph/(\S+?)\s+\d+\s+([0-9.]+) ns/op", out.stdout, re.M):
        best[stage] = min(best.get(stage, float("inf")), float(ns) / 1e6)
    return best


def main():
    if len(sys.argv) != 1:
        sys.exit(__doc__)
    kit = os.path.join(os.environ.get("TUBEWRIGHT_SHARED", "../shared"), "check", "strokes")
    if not os.path.exists(os.path.join(kit, "peer_boost.cpp")):
        sys.exit(f"centreline_speed.py: no kit in {kit}; set TUBEWRIGHT_SHARED")
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
    with tempfile.TemporaryDirectory() as tmp:
        peer, result = os.path.join(tmp, "peer_boost"), os.path.join(tmp, "out.json")
        subprocess.run(["g++", "-O2", "-std=c++17", "-o", peer, os.path.join(kit, "peer_boost.cpp")], check=True)
        env = {**os.environ, "PEER_BOOST": peer}
        stages = ours()
        boost, raster, glyphs = 0.0, [], 0
        print(f"{'face':40} {'boost, ms':>10} {'raster, ms':>11}")
        for face in sorted(glob.glob("fonts/faces/*.[ot]tf")):
            if "Arabic" in face:
                continue  # no Latin letters
            best = float("inf")
            for _ in range(ROUNDS):
                subprocess.run([sys.executable, os.path.join(kit, "peer_boost.py"), face, TEXT, result], check=True, env=env, capture_output=True)
                ms, n = mean(result)
                best = min(best, ms)
            subprocess.run([sys.executable, os.path.join(kit, "peer_skimage.py"), face, FEW, result, "zhang"], check=True, capture_output=True)
            slow, _ = mean(result)
            print(f"{os.path.basename(face):40} {best:10.2f} {slow:11.1f}")
            boost, glyphs = boost + best * n, glyphs + n
            raster.append(slow)
    if not glyphs:
        sys.exit("centreline_speed.py: no face was measured")
    boost /= glyphs
    slow = sum(raster) / len(raster)
    whole = stages["whole"]
    print(f"\n{glyphs} glyphs, means, ms: Boost (raw axis) {boost:.2f}, raster {slow:.1f}, ours " +
          ", ".join(f"{k} {v:.2f}" for k, v in stages.items()))
    print(f"ours: {whole / boost:.2f} of the time of the Boost peer, {slow / whole:.0f} times as fast as the raster peer")
    if whole > WORST * boost or whole > slow:
        sys.exit("slower by an order of magnitude than it was: see Measuring the centrelines in DEVELOPERS.md")


if __name__ == "__main__":
    main()
