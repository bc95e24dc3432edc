#!/usr/bin/env python3
"""Holds the printed files of jobs to paper: scale, tiles, drill table, DXF, words.

Usage: paper.py JOBDIR...     folders made by "tubewright make" (from the top of the repository)

Other programs are the judges: qpdf, poppler, mupdf, ezdxf, Python's XML parser. What a
page says of itself is compared with what they measure on it. The jobs are made again
as one page, corrected and in other languages, and a sign of 12 m besides.
TUBEWRIGHT names the program (else "go run"). Exits 1 at the first job that fails, with
all its faults told.
"""
import glob
import hashlib
import json
import math
import os
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET

import ezdxf.recover
import numpy as np
from PIL import Image, ImageFilter

Image.MAX_IMAGE_PIXELS = None
MM = 25.4
faults = []


def check(ok, text):
    if not ok:
        faults.append(text)
        print("FAULT:", text)


def run(*args):
    p = subprocess.run(args, capture_output=True, text=True)
    return p.returncode, p.stdout, p.stderr


def program():
    name = os.environ.get("TUBEWRIGHT")
    return [name] if name else ["go", "run", "./cmd/tubewright"]


def make(out, *args):
    code, _, err = run(*program(), "make", *args, "--out", out)
    if code not in (0, 3):
        sys.exit(f"make {' '.join(args)} failed:\n{err}")


def pages_of(pdf):
    """Sizes of all pages in mm."""
    _, out, _ = run("pdfinfo", "-f", "1", "-l", "9999", pdf)
    return [(float(a) * MM / 72, float(b) * MM / 72) for a, b in re.findall(r"Page +(?:\d+ )?size: +([\d.]+) x ([\d.]+) pts", out)]


def raster(pdf, page, dpi, box=None):
    """Grey pixels of a page, or of a box of it: x, y, width, height in pixels."""
    with tempfile.TemporaryDirectory() as d:
        crop = [v for k, n in zip("xyWH", box) for v in (f"-{k}", str(n))] if box else []
        code, _, err = run("pdftoppm", "-r", str(dpi), "-f", str(page), "-l", str(page), *crop, "-gray", pdf, d + "/p")
        if code:
            sys.exit(err)
        return np.asarray(Image.open(glob.glob(d + "/p*")[0])).astype(int)


def sound(pdf):
    """The file is well formed, all fonts are in it, it asks not to be scaled."""
    code, out, err = run("qpdf", "--check", pdf)
    check(code == 0 and "WARNING" not in out + err, f"{pdf}: qpdf: {out}{err}")
    _, out, _ = run("pdffonts", pdf)
    rows = out.splitlines()[2:]
    check(rows and all(re.search(r" yes +(yes|no) +yes +\d+ +\d+$", r) for r in rows), f"{pdf}: a font is not embedded or has no characters:\n{out}")
    _, out, _ = run("mutool", "show", pdf, "trailer/Root/ViewerPreferences")
    check("/PrintScaling /None" in out, f"{pdf}: no print scaling asked: {out}")
    code, _, err = run("mutool", "draw", "-r", "20", "-o", os.devnull, "-F", "pnm", pdf, "1")
    check(code == 0 and "error" not in err, f"{pdf}: mupdf: {err}")


# The rulers of a page (pattern/sheet/paper): their beams start 10 + 13 mm from the left
# and 10 + 6 mm from the lower edge, and 10 + 6 and 10 + 17 mm for the upright one.
def rulers(pdf, page, factor=(1, 1)):
    """The beams of 4 in measure 101.6 mm times the factor on both axes, to a pixel."""
    dpi = 600
    px = raster(pdf, page, dpi)
    high = px.shape[0]
    fx, fy = factor
    for axis, (x, y) in enumerate([(10 + 13 * fx, 10 + 6 * fy), (10 + 6 * fx, 10 + 17 * fy)]):
        col, row = round(x * dpi / MM), high - round(y * dpi / MM)
        line = px[row, :] if axis == 0 else px[::-1, col]
        start = col if axis == 0 else high - row
        dark = line < 128
        s = start + 20
        a = s
        while dark[a]:
            a -= 1
        b = s
        while dark[b]:
            b += 1
        got = (b - a - 1) * MM / dpi
        want = 101.6 * factor[axis]
        check(abs(got - want) < 0.06, f"{pdf} page {page}: ruler on axis {axis} is {got:.3f} mm, want {want:.3f}")


def photocopy(pdf, page):
    """A photocopier that blurs by 0.15 mm and knows only black and white, black below 60 %
    of white, keeps all that is drawn, lines of 0.2 mm too."""
    dpi, fine = 200, 3
    page_is = raster(pdf, page, fine * dpi)
    h, w = (n // fine for n in page_is.shape)
    page_is = page_is[:fine * h, :fine * w]
    seen = page_is.reshape(h, fine, w, fine).mean(axis=(1, 3))
    blurred = Image.fromarray(seen.astype(np.uint8)).filter(ImageFilter.GaussianBlur(0.15 / MM * dpi))
    copy = np.where(np.asarray(blurred) < 0.6 * 255, 0, 255).repeat(fine, 0).repeat(fine, 1)
    for _ in range(5):  # 0.2 mm
        copy = near(copy)
    sharp = page_is < 200
    lost = sharp & (copy > 0)
    share = lost.sum() / sharp.sum()
    check(share < 0.02, f"{pdf} page {page}: a photocopy loses {100 * share:.1f} % of what is drawn")


def near(a):
    """The least of each pixel and its eight neighbours."""
    p = np.pad(a, 1, mode="edge")
    h, w = a.shape
    return np.min([p[i:i + h, j:j + w] for i in range(3) for j in range(3)], axis=0)


def tiles(folder, whole):
    """The tiles show what the single sheet shows, pixel for pixel within one at 150 dpi."""
    pdf, single = folder + "/tiles.pdf", whole + "/pattern.pdf"
    dpi = 150
    scale = dpi / MM
    sizes, (_, height) = pages_of(pdf), pages_of(single)[0]
    seen = 0
    numbers = []
    for n in range(1, len(sizes) + 1):
        _, text, _ = run("pdftotext", "-f", str(n), "-l", str(n), "-raw", pdf, "-")
        m = re.search(r"x ([−\d.-]+) … ([−\d.-]+); y ([−\d.-]+) … ([−\d.-]+) mm", text)
        if m:
            numbers.append((n, [float(v.replace("−", "-")) for v in m.groups()]))
    check(numbers, f"{pdf}: no tiles")
    step = max(1, len(numbers) // 12)
    for n, (x0, x1, y0, y1) in numbers[::step]:
        page = raster(pdf, n, dpi)
        left, low = 10 + 13 + 6, 10 + 17 + 6  # margin, ruler strip, room for crop marks
        px, py = left * scale, page.shape[0] - (low + y1 - y0) * scale
        a = page[round(py):round(py + (y1 - y0) * scale), round(px):round(px + (x1 - x0) * scale)]
        sx, sy = round(x0 * scale), round((height - y1) * scale)
        h, w = a.shape
        b = np.full((h, w), 255)
        ox, oy = max(0, -sx), max(0, -sy)
        got = raster(single, 1, dpi, (max(sx, 0), max(sy, 0), w - ox, h - oy))
        b[oy:oy + got.shape[0], ox:ox + got.shape[1]] = got[:h - oy, :w - ox]
        # The single sheet has border and words besides, the tile marks: leave out where
        # either may stand.
        mask = np.ones((h, w), bool)
        mask[:3] = mask[-3:] = False
        mask[:, :3] = mask[:, -3:] = False
        _, words, _ = run("pdftotext", "-f", str(n), "-l", str(n), "-bbox", pdf, "-")
        for k in re.finditer(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(\d+[ab]|D[1-4])<', words):
            v = [float(t) * dpi / 72 for t in k.groups()[:4]]
            middle = ((v[0] + v[2]) / 2 - px, (v[1] + v[3]) / 2 - py)
            # A name beyond the strip, where glass covers that, has its mark farther off.
            beyond = all(abs(middle[axis] - edge) > 15 * scale for axis, edge in ((0, 0), (0, w), (1, 0), (1, h)))
            r = (31 if beyond and k.group(5)[0] != "D" else 11) * scale
            mask[max(0, round(v[1] - py - r)):max(0, round(v[3] - py + r)), max(0, round(v[0] - px - r)):max(0, round(v[2] - px + r))] = False
        lost = mask & inside(folder, x0, y1, scale, h, w) & (b < 100) & (near(a) > 200)
        new = mask & (a < 100) & (near(b) > 200)
        seen += int((mask & (a < 100)).sum())
        check(lost.sum() == 0, f"{pdf} page {n}: {lost.sum()} pixels of the single sheet are not on the tile")
        check(new.sum() == 0, f"{pdf} page {n}: {new.sum()} pixels are not on the single sheet")
        check((a < 100).sum() > 0, f"{pdf} page {n}: a blank tile is printed")
    check(seen > 2000, f"{pdf}: only {seen} dark pixels compared")
    joints(pdf, numbers)
    return len(numbers)


def joints(pdf, tiles):
    """The page map counts the tiles, every joint has two marks, and the name of each stands
    on the two pages it joins and on no other."""
    _, text, _ = run("pdftotext", "-l", "2", pdf, "-")
    m = re.search(r"(\d+) of (\d+) pages are needed", " ".join(text.split()))
    check(m and int(m.group(1)) == len(tiles) <= int(m.group(2)), f"{pdf}: {len(tiles)} tiles, the page map says {m and m.group()}")
    on = {}
    for n, (x0, x1, y0, y1) in tiles:
        _, text, _ = run("pdftotext", "-f", str(n), "-l", str(n), "-bbox", pdf, "-")
        high = float(re.search(r'<page width="[\d.]+" height="([\d.]+)"', text).group(1))
        for k in re.finditer(r'<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(\d+[ab])</word>', text):
            v = [float(t) * MM / 72 for t in k.groups()[:4]]
            x, y = (v[0] + v[2]) / 2 - 29, high * MM / 72 - (v[1] + v[3]) / 2 - 33  # in the window
            if 0 < x < x1 - x0 and 0 < y < y1 - y0:
                on.setdefault(k.group(5), []).append(n)
    check(len(tiles) < 2 or len(on) >= len(tiles) - 1, f"{pdf}: {len(on)} match marks on {len(tiles)} tiles")
    for name, pages in on.items():
        check(len(pages) == 2, f"{pdf}: match mark {name} on pages {pages}")
        other = name[:-1] + {"a": "b", "b": "a"}[name[-1]]
        check(other in on, f"{pdf}: match mark {name} has no fellow {other}")


def inside(folder, x0, y1, scale, h, w):
    """Where on a tile the drawing is, by the box of its glass in pattern.svg: words and
    border of the single sheet lie outside it."""
    svg = ET.parse(folder + "/pattern.svg").getroot()
    high = float(svg.get("viewBox").split()[3])
    xs, ys = [], []
    for g in svg.iter("{http://www.w3.org/2000/svg}g"):
        if (g.get("id") or "").startswith("centreline-"):
            for p in g.iter("{http://www.w3.org/2000/svg}path"):
                for a, b in re.findall(r"[ML]([\d.-]+) ([\d.-]+)", p.get("d")):
                    xs.append(float(a))
                    ys.append(high - float(b))
    out = np.zeros((h, w), bool)
    left, right = (min(xs) - x0) * scale, (max(xs) - x0) * scale
    top, low = (y1 - max(ys)) * scale, (y1 - min(ys)) * scale
    out[max(0, round(top)):max(0, round(low)), max(0, round(left)):max(0, round(right))] = True
    return out


def drill(folder):
    """The drill table and the circles of the DXF are the electrodes of result.json."""
    result = json.load(open(folder + "/result.json"))
    _, text, _ = run("pdftotext", "-layout", folder + "/mount.pdf", "-")
    m = re.search(r"front \(([−\d.-]+), ([−\d.-]+)\) of\s+result", text) or re.search(r"front \(([−\d.-]+), ([−\d.-]+)\)", text)
    check(m, f"{folder}: no datum in mount.pdf")
    if not m:
        return
    dx, dy = (float(v.replace("−", "-")) for v in m.groups())
    table = {f"{u}{e}": (float(x) + dx, float(y) + dy) for u, e, x, y in re.findall(r"\b(U\d+) ([AB]) +([\d.]+) +([\d.]+) +[\d.]+", text)}
    doc, audit = ezdxf.recover.readfile(folder + "/mount.dxf")
    check(not audit.errors and not audit.fixes, f"{folder}/mount.dxf: {len(audit.errors)} errors, {len(audit.fixes)} fixes")
    check(doc.units == 4, f"{folder}/mount.dxf: units {doc.units}, not millimetres")
    kinds = {e.dxftype() for e in doc.modelspace()}
    check(kinds <= {"LINE", "ARC", "CIRCLE", "TEXT"}, f"{folder}/mount.dxf holds {kinds}")
    svg = ET.parse(folder + "/mount.svg").getroot()
    x0, y0 = map(float, re.search(r"\(([\d.-]+) \+ x, ([\d.-]+) \+ y\)", svg[1].text).groups())
    holes = [e.dxf.center for e in doc.modelspace().query("CIRCLE[layer=='HOLES']")]
    for u in result["units"]:
        for e in u["electrodes"]:
            x, y = e["at"][:2]
            got = table.get(u["id"] + e["end"])
            check(got and math.dist(got, (x, y)) < 0.0101, f"{folder}: {u['id']} {e['end']} is at ({x}, {y}), the drill table says {got}")
            check(any(math.hypot(h.x - x - x0, h.y - y - y0) < 0.001 for h in holes), f"{folder}: no circle in the DXF for {u['id']} {e['end']}")
    check(len(holes) == 2 * len(result["units"]), f"{folder}: {len(holes)} holes")


def mirror(folder):
    """The bench's centrelines are the mount's, turned over about an upright line."""
    def lines(name, sign):
        svg = ET.parse(f"{folder}/{name}").getroot()
        high = float(svg.get("viewBox").split()[3])
        x0, y0 = map(float, re.search(r"\(([\d.-]+) [-+] x, ([\d.-]+) \+ y\)", svg[1].text).groups())
        out = {}
        for g in svg.iter("{http://www.w3.org/2000/svg}g"):
            if (g.get("id") or "").startswith("centreline-U"):
                d = " ".join(p.get("d") for p in g.iter("{http://www.w3.org/2000/svg}path"))
                pts = re.findall(r"[ML]([\d.-]+) ([\d.-]+)", d)
                out[g.get("id")] = [(sign * (float(a) - x0), high - float(b) - y0) for a, b in pts]
        return out
    bench, front = lines("pattern.svg", -1), lines("mount.svg", 1)
    check(bench.keys() == front.keys() and bench, f"{folder}: units {bench.keys()} and {front.keys()}")
    for k, pts in bench.items():
        worst = max(math.dist(p, q) for p, q in zip(pts, front.get(k, [])))
        check(len(pts) == len(front[k]) and worst < 0.002, f"{folder}: {k} is {worst:.4f} mm off its mirror image")


def svgs(folder):
    for f in (folder + "/pattern.svg", folder + "/mount.svg"):
        ids = [e.get("id") for e in ET.parse(f).getroot().iter() if e.get("id")]
        check(len(ids) == len(set(ids)) and len(ids) > 10, f"{f}: ids stand twice or lack")


def book(folder):
    """bender.pdf has a table of contents, page labels, links and text to search."""
    pdf = folder + "/bender.pdf"
    units = [u["id"] for u in json.load(open(folder + "/result.json"))["units"]]
    _, out, _ = run("mutool", "show", pdf, "outline")
    check(all(u + " " in out for u in units), f"{pdf}: no bookmark for a unit:\n{out}")
    code, out, err = run("qpdf", "--json", "--json-key=pagelabels", pdf)
    check(len(json.loads(out)["pagelabels"]) == len(pages_of(pdf)), f"{pdf}: page labels {err}")
    _, text, _ = run("pdftotext", pdf, "-")
    for n in range(1, 46):
        check(f"{n}. " in text, f"{pdf}: field {n} is not in its text")
    raw = open(pdf, "rb").read()
    check(raw.count(b"/Subtype /Link") >= len(units), f"{pdf}: {raw.count(b'/Subtype /Link')} links")
    check(b"/Lang (en)" in raw, f"{pdf}: no language")
    _, info, _ = run("pdfinfo", pdf)
    for k in ("Title", "Subject", "Creator"):
        check(re.search(rf"^{k}: +\S", info, re.M), f"{pdf}: its document information has no {k}")


def hashes(folder):
    return {os.path.basename(f): hashlib.sha256(open(f, "rb").read()).hexdigest() for f in glob.glob(folder + "/*")}


def job(folder, work):
    toml = os.path.join("examples", os.path.basename(folder), "job.toml")
    for f in ("pattern.pdf", "tiles.pdf", "bender.pdf", "mount.pdf"):
        sound(os.path.join(folder, f))
    one = work + "/one"
    make(one, toml, "--one-page", "yes")
    n = tiles(folder, one)
    rulers(folder + "/tiles.pdf", 1)
    rulers(folder + "/bender.pdf", len(pages_of(folder + "/bender.pdf")))
    for w, h in pages_of(folder + "/tiles.pdf"):
        check(abs(min(w, h) - 210) < 0.01 and abs(max(w, h) - 297) < 0.01, f"{folder}/tiles.pdf: a page of {w} by {h} mm")
    drill(folder)
    mirror(folder)
    svgs(folder)
    book(folder)
    if os.path.basename(folder) == "rye":  # all that is drawn anywhere; each page takes seconds
        photocopy(folder + "/mount.pdf", 1)
        photocopy(folder + "/tiles.pdf", 3)
        for page in (2, 3, 5, 6, len(pages_of(folder + "/bender.pdf"))):
            photocopy(folder + "/bender.pdf", page)
    print(f"{folder}: {n} tiles")


def others(work):
    toml = "examples/rye/job.toml"
    a, b = work + "/a", work + "/b"
    make(a, toml, "--paper", "Letter", "--measured-x", "99.6mm", "--measured-y", "100.3mm", "--language", "ja")
    make(b, toml, "--paper", "Letter", "--measured-x", "99.6mm", "--measured-y", "100.3mm", "--language", "ja")
    check(hashes(a) == hashes(b), "two runs differ")
    rulers(a + "/tiles.pdf", 2, (100 / 99.6, 100 / 100.3))
    # The corrected SVG is stretched as the pages are, and says so.
    for name in ("pattern.svg", "mount.svg"):
        svg = ET.parse(f"{a}/{name}").getroot()
        w, h = (float(svg.get(k)[:-2]) for k in ("width", "height"))
        bw, bh = map(float, svg.get("viewBox").split()[2:])
        check(abs(w / bw - 100 / 99.6) < 1e-5 and abs(h / bh - 100 / 100.3) < 1e-5 and svg.get("preserveAspectRatio") == "none", f"{name} is not corrected: {w / bw}, {h / bh}")
        check("1.00402" in "".join(svg.itertext()), f"{name} does not say that it is corrected")
    for name in ("pattern.pdf", "mount.pdf"):
        svg = ET.parse(f"{a}/{name[:-3]}svg").getroot()
        check(math.dist(pages_of(f"{a}/{name}")[0], [float(svg.get(k)[:-2]) for k in ("width", "height")]) < 0.02, f"{name} is not corrected")
    check(all(abs(min(p) - 215.9) < 0.01 and abs(max(p) - 279.4) < 0.01 for p in pages_of(a + "/tiles.pdf")), "corrected pages are not Letter")
    for language, word in (("de", "Biegekarte"), ("es", "Ficha de curvado"), ("ja", "曲げカード")):
        d = work + "/" + language
        make(d, toml, "--language", language, "--unit-pages", "tiles")
        sound(d + "/bender.pdf")
        sound(d + "/tiles.pdf")
        _, text, _ = run("pdftotext", d + "/bender.pdf", "-")
        check(word in text, f"{language}: {word} cannot be found in bender.pdf")


def metres(folder):
    """Electrodes, which are drawn as filled discs, are as far apart on the long page as in
    result.json: within 0.1 mm a metre across and 0.02 % up."""
    result = json.load(open(folder + "/result.json"))
    svg = ET.parse(folder + "/pattern.svg").getroot()
    x0, y0 = map(float, re.search(r"\(([\d.-]+) - x, ([\d.-]+) \+ y\)", svg[1].text).groups())
    high = pages_of(folder + "/pattern.pdf")[0][1]
    radius = result["tube"]["outside_diameter"] / 2
    dpi, seen = 400, []
    px = dpi / MM
    for u in result["units"]:
        for e, path in zip(u["electrodes"], (u["path"], u["path"][::-1])):
            ends = [q for s in path for q in (s["from"], s["to"])]
            away = next(q for q in ends if math.dist(q[:2], e["at"][:2]) > radius / 2)
            aside = [abs(v - w) for v, w in zip(away[:2], e["at"][:2])]
            x, y = x0 - e["at"][0], high - y0 - e["at"][1]
            half = radius + 1
            left, top = round((x - half) * px), round((y - half) * px)
            n = round(2 * half * px)
            a = raster(folder + "/pattern.pdf", 1, dpi, (left, top, n, n)) < 128
            jj, ii = np.mgrid[0:a.shape[0], 0:a.shape[1]]
            a &= np.hypot(ii + 0.5 - (x * px - left), jj + 0.5 - (y * px - top)) < (radius + 0.2) * px
            seen.append((*aside, x, y, (left + (ii[a] + 0.5).mean()) / px, (top + (jj[a] + 0.5).mean()) / px))
    for axis, name in ((0, "across"), (1, "up")):
        # The outline round the end of the glass draws the middle of a disc a tenth of a mm
        # along it: those that end at right angles to the axis tell.
        k = np.array([row[2:] for row in seen if row[axis] < 0.02 * row[1 - axis]])
        a, b = k[:, axis].argmin(), k[:, axis].argmax()
        want, got = k[b, axis] - k[a, axis], k[b, axis + 2] - k[a, axis + 2]
        check(want > 500, f"{folder}: electrodes only {want:.0f} mm apart {name}")
        check(abs(got - want) < min(0.1 * max(want / 1000, 0.5), 0.0002 * want), f"{folder}: {want:.2f} mm {name} measure {got:.2f} mm")
        print(f"12 m: {want:.2f} mm {name} measure {got:.2f} mm")


def long(work):
    """A sign of 12 m: as sheets of at most 5 m, and as one page that warns."""
    text = ["--text", "RYE & SALT BAKERY", "--height", "960mm", "--tube", "15mm", "--font", "m-plus-rounded-1c-light"]
    a, b = work + "/sheets", work + "/page"
    make(a, *text)
    make(b, *text, "--one-page", "yes", "--paper", "A3")
    sheets, page = pages_of(a + "/pattern.pdf"), pages_of(b + "/pattern.pdf")
    check(len(sheets) >= 3 and all(max(p) <= 5000.01 for p in sheets), f"sheets {sheets}")
    check(len(page) == 1 and page[0][0] > 12000, f"one page: {page}")
    whole = sum(w for w, _ in sheets) - 50 * (len(sheets) - 1)
    check(abs(whole - page[0][0]) < 0.1, f"the sheets make {whole} mm, the page {page[0][0]}")
    _, out, _ = run("pdftotext", b + "/pattern.pdf", "-")
    check("WARNING: a page of" in out, "the long page does not warn")
    for d in (a, b):
        sound(d + "/pattern.pdf")
        sound(d + "/mount.pdf")
    metres(b)
    # Scale over metres: the crosses of the first joint stand 50 mm overlap apart, so the
    # drawing on sheet 2 is that of the page, shifted by a sheet less the overlap.
    dpi = 50
    shift = sheets[0][0] - 50
    w = round(1000 * dpi / MM)
    h = round(sheets[1][1] * dpi / MM)
    x = 500
    one = raster(b + "/pattern.pdf", 1, dpi, (round((shift + x) * dpi / MM), 0, w, h))
    two = raster(a + "/pattern.pdf", 2, dpi, (round(x * dpi / MM), 0, w, h))
    k = (slice(10, min(one.shape[0], two.shape[0]) - 10), slice(3, -3))
    off = ((one[k] < 100) & (near(two)[k] > 200)).sum()
    check((one[k] < 100).sum() > 500 and off == 0, f"sheet 2 is not the page's second part: {off} pixels")
    print(f"12 m: {len(sheets)} sheets, one page of {page[0][0]:.0f} mm")


def main():
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    with tempfile.TemporaryDirectory() as work:
        for i, folder in enumerate(sys.argv[1:]):
            w = f"{work}/{i}"
            os.mkdir(w)
            job(folder.rstrip("/"), w)
        others(work)
        long(work)
    if faults:
        sys.exit(f"{len(faults)} faults")
    print("paper: all hold")


main()
