#!/usr/bin/env python3
"""Makes every example with the built program and holds it to the physics.

Usage: examples.py FOLDER     (from the top of the repository)

Each example's files go into a folder of its name within FOLDER.

TUBEWRIGHT names the program (else it is run with "go run"), TUBEWRIGHT_SHARED the
folder with check/validate_result.py (default: ../shared). The tube, the least
radius and the clearance that the checker holds a result to are read here from
the job file, not from the result. Exits 1 if an example fails, has an error among
its findings, or a tool is missing.
"""
import glob
import json
import os
import re
import subprocess
import sys
import tomllib

UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}


def length(text):
    """A length such as '12mm' or '1/2in', in mm."""
    m = re.fullmatch(r"\s*([0-9.]+)(?:/([0-9]+))?\s*(mm|cm|m|in|ft)\s*", text)
    if not m:
        sys.exit(f"examples.py cannot read the length {text!r}")
    return float(m[1]) / float(m[2] or 1) * UNITS[m[3]]


def limits(job):
    """Tube, least radius and clearance of a job, with the documented defaults."""
    tube = length(job.get("tube", "12mm"))
    radius = length(job["least-radius"]) if "least-radius" in job else 0.75 * tube
    gap = length(job["clearance"]) if "clearance" in job else 0.5 * tube
    return tube, radius, gap


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    checker = os.path.join(os.environ.get("TUBEWRIGHT_SHARED", "../shared"), "check", "validate_result.py")
    if not os.path.exists(checker):
        sys.exit(f"examples.py: {checker} is missing; set TUBEWRIGHT_SHARED")
    program = [os.environ["TUBEWRIGHT"]] if "TUBEWRIGHT" in os.environ else ["go", "run", "./cmd/tubewright"]
    jobs = sorted(glob.glob("examples/*/job.toml"))
    if len(jobs) < 4:
        sys.exit(f"examples.py: {len(jobs)} examples, at least 4 are wanted")
    bad = 0
    for path in jobs:
        out = os.path.join(sys.argv[1], os.path.basename(os.path.dirname(path)))
        with open(path, "rb") as f:
            tube, radius, gap = limits(tomllib.load(f))
        made = subprocess.run(program + ["make", path, "--out", out], capture_output=True, text=True)
        if made.returncode not in (0, 3):  # 3: made, with warnings or errors among the findings
            print(f"{path}: exit status {made.returncode}\n{made.stderr}")
            bad += 1
            continue
        with open(os.path.join(out, "result.json")) as f:
            errors = [g["message"] for g in json.load(f)["findings"] if g["severity"] == "error"]
        for message in errors:
            print(f"{path}: error: {message}")
        check = subprocess.run(
            [sys.executable, checker, os.path.join(out, "result.json"),
             "--tube", str(tube), "--min-radius", str(radius), "--clearance", str(gap)],
            capture_output=True, text=True)
        print(f"{path}: {(check.stdout + check.stderr).strip()}")
        bad += check.returncode != 0 or bool(errors)
    sys.exit(1 if bad else 0)


if __name__ == "__main__":
    main()
