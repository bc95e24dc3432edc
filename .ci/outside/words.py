#!/usr/bin/env python3
"""Makes random words in every embedded face, sizes and tubes, and holds each to the physics.

Usage: words.py [NUMBER]     (from the top of the repository; 300 words if not said)

TUBEWRIGHT names the program (else it is built), TUBEWRIGHT_SHARED the folder with
check/validate_result.py (default: ../shared). The words are drawn from a fixed seed,
so that a failure can be made again. Exits 1 if a word fails the checker, or the
program ends with another status than 0 or 3, or takes over 60 s for a word, or a
tool is missing.
"""
import concurrent.futures
import os
import random
import subprocess
import sys
import tempfile

LATIN = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789&!?'-."
# The checker takes E F H I L T Z for letters with flat tops and feet of the one
# height; in a script they are not.
SCRIPT = "".join(c for c in LATIN if c not in "EFHILTZ")
ARABIC = "ابتثجحخدذرزسشصضطظعغفقكلمنهوي"
GREEK = "ABGDEKLMNOPRSTabgdeklmnoprst"
FACES = [
    ("comfortaa-light", LATIN), ("quicksand-light", LATIN), ("m-plus-rounded-1c-light", LATIN),
    ("playwrite-de-la-thin", SCRIPT), ("vibur", SCRIPT), ("league-spartan-extralight", LATIN),
    ("jura-light", LATIN), ("noto-kufi-arabic-extralight", ARABIC),
    ("futural", LATIN), ("rowmans", LATIN), ("scripts", SCRIPT), ("cursive", SCRIPT), ("greeks", GREEK),
]


SLOW = "slow"
LIMIT = 60  # s: no word takes a tenth of that on a free machine; this one may be busy


def jobs(number):
    draw = random.Random(20261124)
    for i in range(number):
        face, letters = FACES[i % len(FACES)]
        word = "".join(draw.choice(letters) for _ in range(draw.randint(1, 6)))
        tube = draw.choice([6, 8, 10, 12, 15, 18])
        height = tube * draw.choice([9, 11, 13, 16, 20, 26])
        yield i, face, word, height, tube


def run(program, checker, folder, job):
    i, face, word, height, tube = job
    out = os.path.join(folder, str(i))
    args = ["make", "--text", word, "--font", face, "--height", f"{height}mm", "--tube", f"{tube}mm", "--out", out, "--quiet"]
    what = f"{word!r} in {face}, height {height} mm, tube {tube} mm"
    try:
        made = subprocess.run([program] + args, capture_output=True, text=True, timeout=LIMIT)
    except subprocess.TimeoutExpired:
        return what, "", SLOW
    if made.returncode not in (0, 3):
        return what, f"exit status {made.returncode}: {made.stderr.strip()[:300]}", None
    flags = ["--tube", str(tube), "--min-radius", str(0.75 * tube), "--clearance", str(0.5 * tube)]
    held = subprocess.run([sys.executable, checker, os.path.join(out, "result.json")] + flags, capture_output=True, text=True)
    return what, "" if held.returncode == 0 else held.stdout.strip()[:600], made.returncode


def main():
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    checker = os.path.join(os.environ.get("TUBEWRIGHT_SHARED", "../shared"), "check", "validate_result.py")
    if not os.path.exists(checker):
        sys.exit(f"words.py: {checker} is missing; set TUBEWRIGHT_SHARED")
    with tempfile.TemporaryDirectory() as folder:
        program = os.environ.get("TUBEWRIGHT")
        if not program:
            program = os.path.join(folder, "tubewright")
            subprocess.run(["go", "build", "-o", program, "./cmd/tubewright"], check=True)
        bad = clean = slow = 0
        with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
            for what, wrong, status in pool.map(lambda job: run(program, checker, folder, job), list(jobs(number))):
                clean += status == 0
                if status == SLOW:
                    slow += 1
                    print(f"SLOW {what}: over {LIMIT} s, not checked")
                if wrong:
                    bad += 1
                    print(f"FAIL {what}\n{wrong}")
    print(f"{clean} words without a warning")
    print(f"{number - bad - slow} passed, {bad} failed, {slow} too slow")
    sys.exit(1 if bad or slow else 0)


main()
