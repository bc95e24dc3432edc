#!/usr/bin/env python3
"""Holds every SVG of jobs to the document type of SVG 1.1.

usage: svg.py JOBDIR [JOBDIR ...]

xmllint validates against the W3C's own DTD, from the Debian package w3c-sgml-lib;
nothing is fetched. Left out first: attributes of a foreign namespace (layer names for
drawing programs), data-* and role, which later SVG allows and the DTD does not know. Each
file is also broken on purpose once, and must then fail. Exits 1 where anything failed.
"""
import glob
import os
import re
import shutil
import subprocess
import sys

DOCTYPE = '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'
FOREIGN = re.compile(r' (?:data-[\w-]+|role|aria-\w+|xmlns:(?!xlink\b)\w+|(?!xml:|xlink:)[\w-]+:[\w-]+)="[^"]*"')


def faults(text):
    """What xmllint says against a document; nothing where it is valid."""
    p = subprocess.run(['xmllint', '--nonet', '--noout', '--valid', '-'], input=text.encode(), capture_output=True)
    return p.returncode, p.stderr.decode()


def main(jobs):
    if not jobs:
        sys.exit(__doc__)
    if not shutil.which('xmllint'):
        sys.exit('svg.py: xmllint is missing: install libxml2-utils and w3c-sgml-lib')
    passed = failed = 0
    for name in sorted(f for job in jobs for f in glob.glob(os.path.join(job, '*.svg'))):
        with open(name, encoding='utf-8') as f:
            text = re.sub(r'^<\?xml[^>]*\?>\s*', '', f.read())
        text = '<?xml version="1.0" encoding="UTF-8"?>\n' + DOCTYPE + '\n' + re.sub(r'<[^<>]*>', lambda m: FOREIGN.sub('', m.group()), text)
        code, said = faults(text)
        broken, _ = faults(text.replace('<title>', '<title colour="red">', 1))
        if code == 0 and broken != 0:
            passed += 1
        else:
            failed += 1
            print('FAIL', name, said[:2000] if code else 'a broken copy is found valid')
    print(f'{passed} passed, {failed} failed')
    sys.exit(1 if failed or not passed else 0)


if __name__ == '__main__':
    main(sys.argv[1:])
