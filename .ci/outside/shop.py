#!/usr/bin/env python3
"""Reckons the shop's sheets again in decimal arithmetic, from the tables and result.json.

Usage: shop.py JOBDIR...     (from the top of the repository)

Each JOBDIR holds shop.csv, cuts.csv, quote.pdf, shop.pdf and result.json of one job.
Beside them a few odd jobs are made here. TUBEWRIGHT names the program (else it is
built); pdftotext and pdfinfo are needed. Checked, each by rules written out here:

  sums        units, circuits, cable, mercury, minutes, money; against result.json too
  supplies    both published charts with their own pair allowance and rounding
  midpoint    the two sides, against every way to share the units out
  cuts        every stick holds its pieces; no packing of small jobs has fewer sticks
  grades      every quantity and count has a grade, or is the job's own word
  processing  volume, surface, fill pressure and its law, mercury and its cap
  quote       no rate, amount or minute of the shop's own reckoning stands on it

Exits 1 if anything differs or a tool is missing.
"""
import csv
import io
import json
import os
import re
import subprocess
import sys
import tempfile
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal as D, getcontext

getcontext().prec = 40
PI = D("3.14159265358979323846")
failures = checks = 0


def ok(good, what):
    global failures, checks
    checks += 1
    if not good:
        failures += 1
        print("FAIL", what)


def rounded(value, places):
    return value.quantize(D(1).scaleb(-places), ROUND_HALF_UP)


def run(*args, status=(0, 3)):
    made = subprocess.run(args, capture_output=True, text=True)
    if made.returncode not in status:
        sys.exit(f"{' '.join(args)}: exit status {made.returncode}\n{made.stderr}")
    return made.stdout


def table(program, name, folder=None):
    args = [program, "tables", name, "--format", "csv"] + (["--shop-tables", folder] if folder else [])
    return list(csv.DictReader(io.StringIO(run(*args))))


class Sheets:
    """shop.csv, as figures by section and name, and grids by section."""

    def __init__(self, folder):
        with open(os.path.join(folder, "shop.csv"), newline="") as f:
            self.rows = list(csv.DictReader(f))

    def text(self, section, name):
        found = [r["value"] for r in self.rows if r["section"] == section and r["name"] == name]
        return found[0] if found else None

    def number(self, section, name):
        t = self.text(section, name)
        return None if t is None else D(t)

    def sections(self, start):
        out = []
        for r in self.rows:
            if r["section"].startswith(start) and r["section"] not in out:
                out.append(r["section"])
        return out

    def grid(self, section):
        """Rows of a grid as {first cell: {head: text}}, in order; repeats keep the first."""
        out = {}
        for r in self.rows:
            if r["section"] == section and ": " in r["name"]:
                first, head = r["name"].split(": ", 1)
                out.setdefault(first, {}).setdefault(head, r["value"])
        return out


def setting(tables, name, kind="settings"):
    return D(next(r["value"] for r in tables[kind] if r["setting"] == name))


# --- loading


def electrical(chart, glass, pairs):
    return glass + D(chart["pair_allowance_m"]) * pairs


def by_limits(tables, chart, gas, tube, length, most_kv):
    """The least rating of a chart of kind limit that covers a length, or None."""
    foot = D("0.3048") if chart["unit"] == "ft" else D(1)
    rows = [r for r in tables["chart-limits"] if (r["chart"], r["gas"]) == (chart["chart"], gas) and D(r["diameter_mm"]) == tube]
    fit = [D(r["kv"]) for r in rows if length <= D(r["most"]) * foot and D(r["kv"]) <= most_kv]
    return min(fit) if fit else None


def by_factor(tables, chart, gas, tube, length, most_kv):
    """The rating of a chart of kind factor: under 0.4 goes down, 0.4 and over up (S20)."""
    rows = [D(r["kv_per_m"]) for r in tables["chart-factors"] if (r["chart"], r["gas"]) == (chart["chart"], gas) and D(r["diameter_mm"]) == tube]
    if not rows:
        return None
    exact = length * rows[0]
    whole = exact.to_integral_value(ROUND_CEILING) if exact % 1 >= D("0.4") else exact // 1
    kv = max(D(1), whole)
    return kv if kv <= most_kv else None


def rating(tables, chart, gas, tube, glass, pairs, most):
    rule = by_factor if chart["kind"] == "factor" else by_limits
    return rule(tables, chart, gas, tube, electrical(chart, glass, pairs), min(most, D(chart["most_kv"])))


def loading(where, s, tables, result, gas, most):
    tube = s.number("job", "tube, outside diameter D")
    charts = {c["chart"]: c for c in tables["charts"]}
    named = s.text("job", "chart").split(":")[0]
    units = s.grid("units")
    glass_of = {u: D(r["glass"]) / 1000 for u, r in units.items() if u != "all"}
    wire = D(0)
    seen = []
    for n, circuit in enumerate(result["shop"]["circuits"], 1):
        sec = f"loading-C{n}"
        members = s.text(sec, "units in series").split(", ")
        seen += members
        glass = sum(glass_of[u] for u in members)
        ok(members == circuit["units"], f"{where}: circuit {n}: units")
        ok(glass == s.number(sec, "glass") and abs(glass * 1000 - D(str(circuit["developed_length"]))) < D("1e-6"), f"{where}: circuit {n}: glass")
        length = electrical(charts[named], glass, len(members))
        ok(length == s.number(sec, f"electrical length, chart {named}") and abs(length * 1000 - D(str(circuit["electrical_length"]))) < D("1e-6"), f"{where}: circuit {n}: electrical length")
        if gas is None:
            continue
        for c, chart in charts.items():
            if chart["supply"] != charts[named]["supply"]:
                continue
            want = rating(tables, chart, gas, tube, glass, len(members), most)
            name = f"least supply, chart {c}" if c == named else f"for comparison, chart {c}"
            got = s.text(sec, name)
            if got is not None:
                got = None if got in ("none", "NOT KNOWN") else D(got)
                ok(got == want, f"{where}: circuit {n}: {name} is {got}, reckoned {want}")
        kv = s.text(sec, f"least supply, chart {named}")
        ok((kv == "NOT KNOWN") == ("supply_kv" not in circuit), f"{where}: circuit {n}: rating in result.json")
        wire += midpoint(f"{where}: circuit {n}", s, f"wiring-C{n}", charts[named], glass_of)
    ok(sorted(seen) == sorted(glass_of), f"{where}: every unit hangs in one circuit")
    if gas is not None:
        ok(wire == s.number("sundries", "high-voltage cable") * 1000, f"{where}: cable {wire}")
        ok(wire == D(str(result["shop"]["cable_length"])), f"{where}: cable in result.json")


def midpoint(where, s, sec, chart, glass_of):
    """Holds the balance against every share of the units; returns the cable in mm."""
    grid = s.grid(sec)
    stops = {k: r for k, r in grid.items() if k != "all"}
    leads = sum(D(r["Lead, mm"]) for r in stops.values()) + s.number(sec, f"lead {len(stops) + 1}, back to the supply")
    mid = s.number(sec, "midpoint return")
    weights = [(D(r["Length, m"]), r["Side"]) for r in stops.values()]
    for r in stops.values():
        ok(D(r["Length, m"]) == electrical(chart, glass_of[r["Unit"]], 1), f"{where}: electrical length of {r['Unit']}")
    if mid is not None:
        leads += mid
        told = abs(sum(w if side == "1" else -w for w, side in weights))
        ok(told == s.number(sec, "side 1 and side 2 differ by"), f"{where}: sides differ by {told}")
        if len(weights) <= 16:
            total = sum(w for w, _ in weights)
            sums = {D(0)}
            for w, _ in weights:
                sums |= {x + w for x in sums}
            least = min(abs(total - 2 * x) for x in sums)
            ok(least <= told <= least + total / 50, f"{where}: sides differ by {told}, the least is {least}")
    ok(leads == D(grid["all"]["Lead, mm"]), f"{where}: leads make {leads}")
    return leads


# --- materials


def packs(pieces, capacity, kerf, sticks):
    """Whether so many sticks hold all pieces, each but the last of a stick losing a cut."""
    pieces = sorted(pieces, reverse=True)
    free = [capacity + kerf] * sticks

    def place(i):
        if i == len(pieces):
            return True
        tried = set()
        for k in range(sticks):
            if free[k] in tried or free[k] < pieces[i] + kerf:
                continue
            tried.add(free[k])
            free[k] -= pieces[i] + kerf
            if place(i + 1):
                return True
            free[k] += pieces[i] + kerf
        return False

    return place(0)


def materials(where, folder, s, result):
    units = {u: r for u, r in s.grid("units").items() if u != "all"}
    total = s.grid("units")["all"]
    shop = result["shop"]
    for head, key in {"lit": "lit_length", "hidden": "blocked_length", "legs": "leg_length", "glass": "developed_length"}.items():
        got = sum(D(r[head]) for r in units.values())
        ok(got == D(total[head]), f"{where}: {head} sums to {got}")
        ok(abs(got - D(str(shop[key]))) < D("1e-6"), f"{where}: {head} in result.json is {shop[key]}")
        exact = sum(D(str(u[key])) for u in result["units"])
        ok(abs(exact - got) <= D("0.1") * 2 * len(units), f"{where}: {head} {got}, the glass itself {exact}")
    for r in units.values():
        ok(D(r["lit"]) + D(r["hidden"]) + D(r["legs"]) == D(r["glass"]), f"{where}: a unit's lengths")
    for head in ("bends", "welds", "supports"):
        ok(sum(D(r[head]) for r in units.values()) == D(total[head]) == shop[head], f"{where}: {head}")
    ok(sum(len(u["bends"]) for u in result["units"]) == shop["bends"], f"{where}: bends of the glass")
    with open(os.path.join(folder, "cuts.csv"), newline="") as f:
        cuts = list(csv.DictReader(f))
    bought = 0
    for sec in s.sections("sticks-"):
        kind = [c for c in cuts if f"sticks-{c['colour']}-{c['glass']}" == sec]
        long, kerf = s.number(sec, "stick as bought"), s.number(sec, "lost at a cut")
        sticks = {}
        for c in kind:
            sticks.setdefault(c["stick"], []).append(c)
        for pieces in sticks.values():
            lengths = [D(c["length_mm"]) for c in pieces]
            ok(sum(lengths) + kerf * (len(lengths) - 1) <= long, f"{where}: a stick is over-filled: {lengths}")
            ok(D(pieces[0]["off_cut_mm"]) == max(D(0), long - sum(lengths) - kerf * len(lengths)), f"{where}: off-cut of {lengths}")
        ok(len(sticks) == s.number(sec, "sticks"), f"{where}: {sec}: sticks")
        bought += len(sticks)
        lengths = [D(c["length_mm"]) for c in kind]
        if 1 < len(lengths) <= 12:
            ok(not packs(lengths, long, kerf, len(sticks) - 1), f"{where}: {sec}: {len(sticks) - 1} sticks would do")
    ok(bought == shop["sticks"], f"{where}: sticks in result.json")
    for u, r in units.items():
        ok(D(r["welds"]) == D(r["sticks"]) + 1, f"{where}: welds of {u}")


# --- processing


def processing(where, s, tables, result, outdoors):
    tube, wall = s.number("job", "tube, outside diameter D"), s.number("job", "wall")
    bore = tube - 2 * wall
    law = setting(tables, "pressure-law")
    printed = {D(r["diameter_mm"]): D(r["torr"]) for r in tables["pressures"]}
    torr = printed.get(tube, law / tube)
    place = "outdoor" if outdoors else "indoor"
    pair, length = setting(tables, f"mercury-{place}-pair"), setting(tables, f"mercury-{place}-length")
    dose = D(0)
    for card in s.sections("card-"):
        glass = s.number(card, "glass")
        ok(s.number(card, "FILL, cold") == rounded(torr, 1), f"{where}: {card}: fill")
        ok(s.number(card, "volume") == rounded(PI / 4 * bore * bore * glass / 1000, 1), f"{where}: {card}: volume")
        ok(s.number(card, "inside surface") == rounded(PI * bore * glass / 100, 0), f"{where}: {card}: surface")
        mg = s.number(card, "CONTAINS Hg, at most")
        if mg is not None:
            want = rounded(min(setting(tables, "mercury-cap"), pair + length * glass / 10), 1)
            ok(mg == want, f"{where}: {card}: mercury {mg}, reckoned {want}")
            dose += want
    ok(D(str(result["shop"]["mercury_mg"])) == dose, f"{where}: mercury in result.json")
    if dose:
        ok(s.number("manifold", "mercury, all units, at most") == dose, f"{where}: mercury of the job")


# --- price and quote


def price(where, s, tables, result):
    minutes = D(0)
    for name, r in s.grid("price").items():
        if name != "bench time":
            each = D(r["Count"]) * D(r["Each"])
            ok(each == D(r["Time"]), f"{where}: minutes of {name}")
            minutes += each
    ok(minutes == D(s.grid("price")["bench time"]["Time"]), f"{where}: bench time")
    rows = [r for r in s.rows if r["section"] == "price" and ": " not in r["name"] and re.fullmatch(r"[0-9.]+", r["value"])]
    names = [r["name"] for r in rows]
    cost = names.index("cost of one set")
    parts = [D(r["value"]) for r in rows]
    hour = setting(tables, "hour", "prices")
    ok(parts[0] == rounded(minutes / 60 * hour, 2), f"{where}: price of the bench time")
    ok(sum(parts[:cost]) == parts[cost], f"{where}: cost {parts[cost]}")
    fudge = rounded(parts[cost] * setting(tables, "fudge", "prices") / 100, 2)
    margin = rounded((parts[cost] + fudge) * setting(tables, "margin", "prices") / 100, 2)
    ok(s.number("price", "for intricate or rush work") == fudge and s.number("price", "margin") == margin, f"{where}: fudge or margin")
    for r in rows[1:cost]:
        product = re.match(r"([0-9.]+)(?: m)? × ([0-9.]+)", r["rule"])
        if product:
            rate = D(product[2])
            ok(rounded(D(product[1]) * rate, 2) == D(r["value"]), f"{where}: price of {r['name']}")
            ok(any(D(p["value"]) == rate for p in tables["prices"]), f"{where}: rate of {r['name']}")
    kv = sum(D(str(c["supply_kv"])) for c in result["shop"]["circuits"] if "supply_kv" in c)
    rated = sum("supply_kv" in c for c in result["shop"]["circuits"])
    supplies = s.number("price", "supplies")
    want = setting(tables, "supply-base", "prices") * rated + setting(tables, "supply-kv", "prices") * kv
    ok((supplies or D(0)) == rounded(want, 2), f"{where}: price of the supplies {supplies}, reckoned {want}")
    one = parts[cost] + fudge + margin
    ok(s.number("price", "price of one set") == one, f"{where}: price of one set, reckoned {one}")
    sets = s.number("job", "sets of this sign")
    total = one * sets
    if sets >= setting(tables, "discount-from", "prices"):
        total -= rounded(total * setting(tables, "discount", "prices") / 100, 2)
    quoted = [D(r["value"]) for r in s.rows if r["section"] == "quote" and r["name"].startswith("price")]
    ok(quoted == [total], f"{where}: the quote says {quoted}, reckoned {total}")


def secrets(where, folder, s, tables):
    """No number of the shop's reckoning stands on the quote, but those the customer is told."""
    text = run("pdftotext", "-layout", os.path.join(folder, "quote.pdf"), "-")
    numbers = {D(n) for n in re.findall(r"[0-9]+(?:\.[0-9]+)?", text)}
    told = set()
    for r in s.rows:
        if r["section"] == "quote":
            told |= {D(n) for n in re.findall(r"[0-9]+(?:\.[0-9]+)?", r["name"] + " " + r["value"])}
    told |= {D(2), D(3), D(1)}  # "2 to 3 mm", page 1 of 1
    hidden = {D(n) for r in s.rows if r["section"] == "price" for n in re.findall(r"[0-9]+(?:\.[0-9]+)?", r["value"] + " " + r["rule"])}
    hidden |= {D(r["value"]) for r in tables["prices"]}
    ok(numbers <= told, f"{where}: the quote shows {sorted(numbers - told)}, which its section does not have")
    leak = {n for n in numbers & hidden - told}
    ok(not leak, f"{where}: the quote shows {sorted(leak)}")
    for word in ("margin", "hour", "minutes", "discount", "cost", "scrap", "fudge", "intricate", "sticks", "welds"):
        ok(not re.search(rf"\b{word}\b", text.lower()), f"{where}: the quote speaks of {word}")
    ok(len(text) > 300, f"{where}: the quote is all but empty")


# --- all of one job


COUNTS = {"bends", "sticks", "welds", "supports", "Count", "pairs of electrodes", "electrodes", "spare for scrap"}


def graded(where, s):
    """Every quantity and every count has a grade, or is the job's own word."""
    looked = 0
    for r in s.rows:
        is_number = re.fullmatch(r"-?[0-9.]+( to -?[0-9.]+)?", r["value"])
        if r["sheet"] == "quote" or not is_number or not (r["measure"] or r["name"].split(": ")[-1] in COUNTS):
            continue
        looked += 1
        ok(r["grade"] or r["source"] == "job", f"{where}: {r['section']}, {r['name']}: {r['value']} has no grade")
    ok(looked > 60, f"{where}: {looked} numbers looked at for their grade")


def job(where, folder, program, gas, outdoors=True, most=D(15), tables_folder=None, pages=None):
    names = ("charts", "chart-limits", "chart-factors", "pressures", "settings", "prices")
    tables = {n: table(program, n, tables_folder) for n in names}
    s = Sheets(folder)
    with open(os.path.join(folder, "result.json")) as f:
        result = json.load(f)
    loading(where, s, tables, result, gas, most)
    materials(where, folder, s, result)
    processing(where, s, tables, result, outdoors)
    price(where, s, tables, result)
    secrets(where, folder, s, tables)
    graded(where, s)
    if pages:
        n = int(re.search(r"Pages:\s+(\d+)", run("pdfinfo", os.path.join(folder, "shop.pdf")))[1])
        ok(n <= pages, f"{where}: shop.pdf has {n} pages, an ordinary job {pages} at most")


ELECTRONIC = {
    "charts.csv": "chart,name,kind,unit,pair_allowance_m,applied,supply,most_kv,note,source,grade\nE,invented electronic chart,limit,ft,0.3048,load,electronic,9,,,own\n",
    "chart-limits.csv": "chart,gas,diameter_mm,kv,most,least,source,grade\nE,neon,12,4,9,3,,own\nE,neon,12,9,20,8,,own\n",
    "prices.csv": "setting,value,unit,meaning,source,grade\nhour,77.7,money/h,invented,,own\nmargin,33,%,invented,,own\n",
}


def odd_jobs(program, folder):
    own = os.path.join(folder, "own")
    os.mkdir(own)
    for name, text in ELECTRONIC.items():
        with open(os.path.join(own, name), "w") as f:
            f.write(text)
    for name, gas, outdoors, most, tables_folder, args in [
        ("blue in the cold, 7 sets, chart B", "argon", True, D(15), None, ["--text", "SNOW", "--colour", "blue", "--place", "HR", "--ambient", "-20", "--sets", "7"]),
        ("green indoors, end grounded", "argon", False, D("7.5"), None, ["--text", "ICE", "--colour", "green", "--place", "FR", "--exposure", "indoors", "--ambient", "21", "--supply", "end-grounded"]),
        ("electronic by the shop's own chart", "neon", True, D(15), own, ["--text", "HI", "--supply", "electronic", "--chart", "E", "--shop-tables", own]),
        ("tube of 20 mm, by the law of pressure", "neon", True, D(15), None, ["--text", "O", "--tube", "20mm", "--height", "400mm", "--chart", "B"]),
        ("one letter of helium", None, True, D(15), None, ["--text", "I", "--colour", "clear-white"]),
    ]:
        out = os.path.join(folder, re.sub("[^a-z0-9]+", "-", name))
        run(program, "make", "--font", "futural", "--height", "200mm", *args, "--out", out, "--quiet")
        job(name, out, program, gas, outdoors, most, tables_folder)


def main():
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    with tempfile.TemporaryDirectory() as folder:
        program = os.environ.get("TUBEWRIGHT")
        if not program:
            program = os.path.join(folder, "tubewright")
            run("go", "build", "-o", program, "./cmd/tubewright", status=(0,))
        for d in sys.argv[1:]:
            name = os.path.basename(os.path.normpath(d))
            job(name, d, program, "neon", pages={"rye": 3, "salt": 3}.get(name))
        odd_jobs(program, folder)
    print(f"{checks} checks, {failures} failed")
    sys.exit(1 if failures else 0)


if __name__ == "__main__":
    main()
