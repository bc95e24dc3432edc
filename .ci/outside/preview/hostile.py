"""Writes a copy of a font whose names would like to run as a script.

usage: hostile.py FONT OUT
"""
import sys

from fontTools.ttLib import TTFont

font = TTFont(sys.argv[1])
font['name'].names = [r for r in font['name'].names if r.platformID == 3]    # Unicode: U+2028 fits
for record in list(font['name'].names):
    if record.nameID in (1, 4, 16):
        font['name'].setName('<img src=x onerror=window.pwned=3></script>\u2028', record.nameID, record.platformID, record.platEncID, record.langID)
font.save(sys.argv[2])
