#!/usr/bin/env python3
"""Holds the routing to figures of other software and to the practice of the trade.

Usage: routing.py     (from the top of the repository)

1. The 62 letter graphs of geom/network/testdata carry the figures of the shared
   folder's check/oracles/routing_oracles.json: odd nodes, least trails, least
   doubled length, least jumps. (The Go tests hold our own answers to them.)
2. Some hundred random plane stroke graphs: odd nodes; half as many trails (Listing
   1847); the open Chinese postman by networkx's matching, run against ours by
   go test ./geom/network -run TestOutsideCases.
3. The letters built by hand in check/samples, run as the trade runs them, cost at
   least what ours cost: hidden glass, paint and heats at the weights of
   pattern/route/cost.go, where a heat counts the same whether its glass is seen or
   not (the bar of an E that is run on from its stem takes two heats more than one
   that ends there). T and K are priced against the same letter with a doubling asked
   for in the job file.

TUBEWRIGHT names the program (else it is built), TUBEWRIGHT_SHARED the shared folder
(default: ../shared). Exits 1 where a figure differs or a tool is missing.
"""
import itertools
import json
import math
import os
import random
import subprocess
import sys
import tempfile

import networkx as nx

SHARED = os.environ.get("TUBEWRIGHT_SHARED", "../shared")
WEIGHTS = {"hidden": 1.0, "paint": 0.5, "double-back": 40.0, "bend": 30.0}  # the defaults of pattern/route/cost.go


def letters():
    """Compares the figures in our test data with the shared ones."""
    with open(os.path.join(SHARED, "check", "oracles", "routing_oracles.json")) as f:
        want = json.load(f)
    bad = seen = 0
    with open("geom/network/testdata/hershey_letters.jsonl") as f:
        for line in f:
            ours = {k.lower(): v for k, v in json.loads(line).items()}
            theirs = want[ours["letter"]]
            seen += 1
            for a, b in (("odd", "odd"), ("trails", "trails"), ("parts", "comps"), ("length", "length"), ("doubled", "dup"), ("jumped", "jump")):
                x, y = ours.get(a), theirs[b]
                if (x is None) != (y is None) or x is not None and abs(x - y) > 2e-5:
                    print(f"letter {ours['letter']}: {a} {x}, the oracle has {y}")
                    bad += 1
    print(f"{seen} letter graphs against the oracles")
    return bad + (seen != len(want))


def random_graph(draw):
    """Strokes along a lattice, split at its nodes: no two overlap or cross elsewhere."""
    n = draw.randint(2, 4)
    all_edges = [((x, y), (x + dx, y + dy)) for x in range(n) for y in range(n) for dx, dy in ((1, 0), (0, 1), (1, 1)) if x + dx < n and y + dy < n]
    # The lattice is skewed, so that shortest ways are hardly ever of one length.
    place = {(x, y): (10 * x + 1.7 * y + draw.random(), 9 * y + 1.3 * x + draw.random()) for x in range(n) for y in range(n)}
    return place, draw.sample(all_edges, draw.randint(2, min(len(all_edges), 14)))


def least_doubled(g):
    """The open Chinese postman of a connected graph: least length run twice."""
    odd = [v for v in g if g.degree(v) % 2]
    if len(odd) <= 2:
        return 0.0
    far = dict(nx.all_pairs_dijkstra_path_length(g, weight="w"))
    big = 1e6
    k = nx.Graph()
    for a, b in itertools.combinations(odd, 2):
        k.add_edge(a, b, weight=big - far[a][b])
    for end in ("first", "last"):  # two odd nodes stay as the ends of the trail
        for a in odd:
            k.add_edge(a, end, weight=big)
    match = nx.max_weight_matching(k, maxcardinality=True)
    return sum(far[a][b] for a, b in match if a not in ("first", "last") and b not in ("first", "last"))


def graphs(number, folder):
    draw = random.Random(20261126)
    cases = []
    for _ in range(number):
        place, edges = random_graph(draw)
        g = nx.Graph()
        for a, b in edges:
            g.add_edge(a, b, w=math.dist(place[a], place[b]))
        parts = list(nx.connected_components(g))
        odd = sum(g.degree(v) % 2 for v in g)
        trails = sum(max(1, sum(g.degree(v) % 2 for v in part) // 2) for part in parts)
        cases.append({
            "Strokes": [[*place[a], *place[b]] for a, b in edges], "Odd": odd, "Trails": trails,
            "Doubled": least_doubled(g) if len(parts) == 1 else None,
        })
    name = os.path.join(folder, "cases.json")
    with open(name, "w") as f:
        json.dump(cases, f)
    run = subprocess.run(["go", "test", "./geom/network", "-count=1", "-run", "^TestOutsideCases$", "-v"],
                         env={**os.environ, "NETWORK_CASES": name}, capture_output=True, text=True)
    connected = sum(c["Doubled"] is not None for c in cases)
    print(f"{number} random graphs, {connected} of one part, against networkx {nx.__version__}: exit status {run.returncode}")
    if run.returncode or f"{number} cases" not in run.stdout:
        print(run.stdout[-2000:], run.stderr[-2000:])
        return 1
    return 0


def points(s, step):
    """Points of a segment of result.json."""
    a, b = s["from"], s["to"]
    if s["kind"] == "line":
        n = max(1, math.ceil(math.dist(a, b) / step))
        return [[a[k] + (b[k] - a[k]) * i / n for k in range(3)] for i in range(n + 1)]
    c, u, ang = s["centre"], s["axis"], math.radians(s["angle"])
    v = [a[k] - c[k] for k in range(3)]
    w = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]]
    n = max(1, math.ceil(s["radius"] * ang / step))
    return [[c[k] + v[k] * math.cos(ang * i / n) + w[k] * math.sin(ang * i / n) for k in range(3)] for i in range(n + 1)]


def price(result):
    """What the hidden glass and the heats of a result cost, and how much there is of each."""
    d = result["tube"]["outside_diameter"]
    total = {k: 0.0 for k in WEIGHTS}
    for u in result["units"]:
        lit = [p for s in u["path"] if s["role"] == "lit" for p in points(s, 0.5)]
        for s in u["path"]:
            if s["role"] != "hidden":
                continue
            pts = points(s, 1.0)
            length = math.dist(s["from"], s["to"]) if s["kind"] == "line" else s["radius"] * math.radians(s["angle"])
            mids = [[(p[k] + q[k]) / 2 for k in range(2)] for p, q in zip(pts, pts[1:])]
            seen = sum(all(math.dist(m, q[:2]) >= d / 2 for q in lit) for m in mids)
            total["hidden"] += length
            total["paint"] += length * seen / len(mids)
        for b in u["bends"]:
            total["double-back" if b["kind"] == "double-back" else "bend"] += 1
    return sum(WEIGHTS[k] * v for k, v in total.items()), total


def made(program, folder, name, job):
    path = os.path.join(folder, name + ".toml")
    with open(path, "w") as f:
        f.write(job)
    out = os.path.join(folder, name)
    run = subprocess.run([program, "make", path, "--out", out, "--quiet"], capture_output=True, text=True)
    if run.returncode not in (0, 3):
        sys.exit(f"routing.py: {name}: exit status {run.returncode}: {run.stderr}")
    with open(os.path.join(out, "result.json")) as f:
        return json.load(f)


def practice(program, folder):
    bad = 0
    for c in "AEHX":
        with open(os.path.join(SHARED, "check", "samples", f"letter-{c.lower()}.json")) as f:
            hand, _ = price(json.load(f))
        ours, terms = price(made(program, folder, c, f'text = "{c}"\nfont = "futural"\nheight = "150mm"\ntube = "12mm"\n'))
        print(f"{c}: {ours:.0f} mm-equivalents, as the trade runs it {hand:.0f}; " + ", ".join(f"{k} {v:.0f}" for k, v in terms.items()))
        bad += ours > hand + 1e-6
    for c, strokes in (("T", (1, 2)), ("K", (1, 2, 3))):
        job = f'text = "{c}"\nfont = "futural"\nheight = "200mm"\ntube = "12mm"\n'
        ours, _ = price(made(program, folder, c, job))
        results = []
        for k in strokes:
            r = made(program, folder, f"{c}{k}", job + f"[[letter]]\nletter = 1\ndouble = [{k}]\n")
            if not any(f["code"] == "wish-not-possible" for f in r["findings"]):
                results.append(price(r)[0])
        print(f"{c}: {ours:.0f} mm-equivalents, with a stroke doubled {[round(v) for v in results]}")
        bad += not results or ours > min(results) + 1e-6
    return bad


def main():
    if not os.path.exists(os.path.join(SHARED, "check", "samples", "letter-a.json")):
        sys.exit(f"routing.py: {SHARED}/check/samples is missing; set TUBEWRIGHT_SHARED")
    with tempfile.TemporaryDirectory() as folder:
        program = os.environ.get("TUBEWRIGHT")
        if not program:
            program = os.path.join(folder, "tubewright")
            subprocess.run(["go", "build", "-o", program, "./cmd/tubewright"], check=True)
        bad = letters() + graphs(400, folder) + practice(program, folder)
    print(f"{bad} differences")
    sys.exit(1 if bad else 0)


main()
