#!/usr/bin/env python3
"""Count words of a job's pattern.pdf that lie over glass or over each other.

usage: labels.py JOBDIR [JOBDIR ...]

JOBDIR holds pattern.svg, pattern.pdf and result.json. The boxes of words are those
that pdftotext reports; the glass is result.json in the frame that the SVG's own
description tells. Every heat, end and unit of result.json must be among the words.
Needs pdftotext and numpy; a missing one is a failure. Exits 1 where anything failed.
"""
import collections, json, os, re, shutil, subprocess, sys
import xml.etree.ElementTree as ET

try:
    import numpy as np
except ImportError as e:
    sys.exit(f'labels.py: {e}: install python3-numpy')

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from scale import OVERLAP, Drawing, plan

PT = 25.4 / 72
XHTML = '{http://www.w3.org/1999/xhtml}'
SHRINK = 0.3    # mm off each side of a reported box, which is as high as the face's tallest letter


def words(pdf, height):
    """(text, box in mm from the top left of the sheet) of every word, once."""
    out = subprocess.run(['pdftotext', '-bbox', pdf, '-'], check=True, capture_output=True).stdout
    found = {}
    for i, page in enumerate(ET.fromstring(out).iter(XHTML + 'page')):
        wide = float(page.get('width')) * PT
        dx = i * (wide - OVERLAP)
        for w in page.iter(XHTML + 'word'):
            x0, y0, x1, y1 = (float(w.get(k)) * PT for k in ('xMin', 'yMin', 'xMax', 'yMax'))
            if y1 < 6:                      # page numbers and match marks of a cut sheet, in the margin
                continue
            if y0 > height - 6:
                continue
            if any(c >= '\u2e80' for c in w.text):
                # poppler's box of a Japanese face is 1.45 em high, from 0.4 em under the line; its
                # letters are 1 em high, from 0.12 under it.
                em = (y1 - y0) / 1.45
                y0, y1 = y0 + 0.17 * em, y1 - 0.28 * em
            key = (w.text, round((x0 + dx) * 5), round(y0 * 5))
            near = [(key[0], key[1] + a, key[2] + b) for a in (-1, 0, 1) for b in (-1, 0, 1)]
            if not any(k in found for k in near):   # a strip of overlap shows a word twice
                found[key] = (x0 + dx + SHRINK, y0 + SHRINK, x1 + dx - SHRINK, y1 - SHRINK)
    return [(k[0], b) for k, b in found.items()]


def overlapping(boxes):
    cells, hits = collections.defaultdict(list), set()
    for i, (_, b) in enumerate(boxes):
        for x in range(int(b[0] // 20), int(b[2] // 20) + 1):
            for y in range(int(b[1] // 20), int(b[3] // 20) + 1):
                for j in cells[x, y]:
                    c = boxes[j][1]
                    if b[0] < c[2] and c[0] < b[2] and b[1] < c[3] and c[1] < b[3]:
                        hits.add((j, i))
                cells[x, y].append(i)
    return hits


def check_job(job):
    with open(job + '/result.json') as f:
        result = json.load(f)
    drawing = Drawing(job + '/pattern.svg')
    desc = ET.parse(job + '/pattern.svg').getroot().find('{http://www.w3.org/2000/svg}desc').text
    x0, y0 = (float(v) for v in re.search(r'is at \(([-\d.]+) - x, ([-\d.]+) \+ y\)', desc).groups())
    boxes = words(job + '/pattern.pdf', drawing.height)
    failed = 0
    for i, j in sorted(overlapping(boxes)):
        failed += 1
        print(f'FAIL {boxes[i][0]!r} and {boxes[j][0]!r} overlap at {[round(v, 1) for v in boxes[j][1]]}')
    radius = result['tube']['outside_diameter'] / 2
    glass = np.array([(x0 - x, drawing.height - y0 - y) for u in result['units'] for s in u['path'] for x, y in plan(s, 1)] or [(-1e9, -1e9)])
    for text, b in boxes:
        near = np.clip(glass, (b[0], b[1]), (b[2], b[3]))
        gap = float(np.sqrt(((near - glass) ** 2).sum(axis=1)).min()) - radius
        if gap < 0:
            failed += 1
            print(f'FAIL {text!r} at {[round(v, 1) for v in b]} lies {-gap:.2f} mm over glass')
    have = collections.Counter(t for t, _ in boxes)
    want = collections.Counter()
    for u in result['units']:
        want.update(str(b['number']) for b in u['bends'])
        want.update([u['id']] * 4 + ['A', 'B'])     # its name, its ends, its line in the list
    for text, n in want.items():
        if have[text] < n:
            failed += 1
            print(f'FAIL {text!r} is on the sheet {have[text]} times, at least {n} wanted')
    print(f'{os.path.normpath(job)}: {len(boxes)} words, {sum(want.values())} labels looked for, {failed} failed')
    return failed


def main(jobs):
    if not jobs:
        sys.exit(__doc__)
    if not shutil.which('pdftotext'):
        sys.exit('labels.py: pdftotext is missing: install poppler-utils')
    sys.exit(1 if sum(check_job(j) for j in jobs) else 0)


if __name__ == '__main__':
    main(sys.argv[1:])
