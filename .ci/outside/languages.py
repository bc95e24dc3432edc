#!/usr/bin/env python3
"""Holds the drawings and the bender's file to the language asked for.

usage: languages.py    (from the top of the repository)

A job with findings is made in every language of pattern/words/messages.csv. In none of
its drawings may an English sentence of that file stand where the language has its own;
no character may be one its font has no shape for; no page may have a colour that is
no grey, so that a print in black and white loses nothing. TUBEWRIGHT names the program
(else "go run"). Needs pdftotext, pdftoppm, mutool, numpy, PIL. Exits 1 at a fault.
"""
import csv
import glob
import json
import os
import re
import subprocess
import sys
import tempfile

import numpy as np
from PIL import Image

FILES = ['pattern.pdf', 'tiles.pdf', 'bender.pdf', 'mount.pdf']
JOB = ['--text', 'Salt 9', '--font', 'm-plus-rounded-1c-light', '--height', '120mm', '--tube', '12mm']
faults = []


def check(ok, text):
    if not ok:
        faults.append(text)
        print('FAULT:', text)


def run(*args):
    return subprocess.run(args, capture_output=True, text=True)


def squeezed(text):
    return re.sub(r'\s+', '', text)


def sentences(language):
    """The fixed parts of the English sentences that read otherwise in a language."""
    with open('pattern/words/messages.csv', encoding='utf-8', newline='') as f:
        for row in csv.DictReader(f):
            for part in re.split(r'%(?:\[\d\])?[sd%]', row['en']):
                if len(part) > 16 and squeezed(part) not in squeezed(row[language]):
                    yield row['key'], part


def pdf(path, language):
    text = squeezed(run('pdftotext', '-raw', path, '-').stdout)
    check(len(text) > 300, f'{path}: hardly any text')
    if language != 'en':
        for key, part in sentences(language):
            check(squeezed(part) not in text, f'{path} in {language}: {key} is in English: {part}')
        if language == 'ja':
            check(len(re.findall('[ぁ-んァ-ヴ一-龥]', text)) > 100, f'{path}: hardly any Japanese')
    check('[U+' not in text, f'{path} in {language}: a character is written as its number')
    trace = run('mutool', 'trace', path).stdout
    check(trace.count('<g ') > 300 and 'glyph="0"' not in trace, f'{path} in {language}: a blank box for a character')
    with tempfile.TemporaryDirectory() as d:
        run('pdftoppm', '-r', '40', '-l', '12', path, d + '/p')
        pages = glob.glob(d + '/p*')
        check(pages, f'{path}: no pages')
        for name in pages:
            a = np.asarray(Image.open(name).convert('RGB')).astype(int)
            check((a.max(axis=2) - a.min(axis=2)).max() < 4, f'{path}: {os.path.basename(name)} has a colour')


def findings(out, language):
    """No finding of the job, however rare, stands in English in its drawing or in the
    3-D view. The shop's sheets are in English, and so is what they find."""
    with open(out + '/result.json') as f:
        told = json.load(f)['findings']
    text = squeezed(run('pdftotext', '-raw', out + '/pattern.pdf', '-').stdout)
    with open(out + '/preview.html', encoding='utf-8') as f:
        beside = re.search(r'id="extra">(.*?)</script', f.read(), re.S)
    view = json.loads(beside[1])['findings'] if beside else []
    check(len(view) == len(told), f'{out}: {len(view)} findings in the 3-D view, {len(told)} in result.json')
    text += ' ' + squeezed(' '.join(said for f, said_of in zip(told, view) if not f['message'].startswith('shop sheet') for said in said_of))
    check(len(told) > 3, f'{out}: only {len(told)} findings')
    for f in told if language != 'en' else []:
        part = re.split(r'\d', f['message'].split('): ', 1)[-1])[0]
        check(len(part) < 12 or squeezed(part).lower() not in text.lower(), f'{language}: a finding is told in English: {f["message"]}')


def main():
    program = [os.environ['TUBEWRIGHT']] if os.environ.get('TUBEWRIGHT') else ['go', 'run', './cmd/tubewright']
    with open('pattern/words/messages.csv', encoding='utf-8', newline='') as f:
        languages = next(csv.reader(f))[1:]
    with tempfile.TemporaryDirectory() as work:
        for language in languages:
            out = os.path.join(work, language)
            p = run(*program, 'make', *JOB, '--language', language, '--out', out)
            if p.returncode not in (0, 3):
                sys.exit(p.stderr)
            for name in FILES:
                pdf(os.path.join(out, name), language)
            findings(out, language)
            print(f'{language}: {len(FILES)} files')
    sys.exit(1 if faults else 0)


main()
