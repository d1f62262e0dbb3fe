"""Make the fonts of the printed sheets from the published Noto families.

Each family is fixed at one weight, cut down to the characters that names and labels are written in, stripped of
what a PDF never uses, and written beside this file. Run it again after a new release of a family:

    python site_template/fonts/make_fonts.py FOLDER_WITH_THE_TTF_FILES

The folder (searched with its sub-folders) holds the unpacked packages fontpkg-noto-sans, fontpkg-noto-sans-arabic
and fontpkg-noto-sans-devanagari (PyPI) and @expo-google-fonts/noto-sans-hebrew and -sc (npm). Needs fonttools.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

TARGET = Path(__file__).resolve().parent

# Latin with the African and Vietnamese letters, Greek, Cyrillic, signs a tape measure needs.
LATIN = (
    (0x20, 0x7E), (0xA0, 0x2FF), (0x300, 0x36F), (0x370, 0x3FF), (0x400, 0x52F), (0x1E00, 0x1EFF),
    (0x1F00, 0x1FFF), (0x2010, 0x2044), (0x2070, 0x209C), (0x20A0, 0x20C0), (0x2100, 0x2122), (0x2150, 0x215F),
    (0x2190, 0x2193), (0x2202, 0x2202), (0x2206, 0x2206), (0x2211, 0x2212), (0x221A, 0x221A), (0x221E, 0x221E),
    (0x2248, 0x2248), (0x2260, 0x2265), (0x25CC, 0x25CC), (0x2C60, 0x2C7F), (0xA720, 0xA7FF), (0xAB30, 0xAB6F),
    (0xFB00, 0xFB06), (0xFFFD, 0xFFFD),
)  # fmt: skip
COMMON = ((0x20, 0x7E), (0xA0, 0xA0), (0x200C, 0x200F), (0x2010, 0x2014), (0x25CC, 0x25CC))
ARABIC = (*COMMON, (0x600, 0x6FF), (0x750, 0x77F), (0x8A0, 0x8AC), (0xFB50, 0xFBB1), (0xFEF5, 0xFEFC))
DEVANAGARI = (*COMMON, (0x900, 0x97F), (0x1CD0, 0x1CD9), (0xA8E0, 0xA8F7))
HEBREW = (*COMMON, (0x591, 0x5F4), (0xFB1D, 0xFB4F), (0x20AA, 0x20AA))


class Font(NamedTuple):
    """One file to make: `source` is a part of the published file's name; `axes` fixes a variable font."""

    target: str
    source: str
    characters: tuple[tuple[int, int], ...]
    axes: dict[str, float] | None = None


UPRIGHT = {"wght": 400.0, "wdth": 100.0}
FONTS = (
    Font("sans.ttf", "NotoSans[", LATIN, UPRIGHT),
    Font("sans-bold.ttf", "NotoSans[", LATIN, {"wght": 650.0, "wdth": 100.0}),
    Font("arabic.ttf", "NotoSansArabic[", ARABIC, UPRIGHT),
    Font("devanagari.ttf", "NotoSansDevanagari[", DEVANAGARI, UPRIGHT),
    Font("hebrew.ttf", "NotoSansHebrew_400Regular.ttf", HEBREW),
    Font("han.ttf", "NotoSansSC_400Regular.ttf", ()),
)


# Characters of names that are not in the first level, simplified and traditional (from memory).
NAMES = (
    "婷妍琪瑶雯倩馨瑾璐嫣妮娅婕嫒媛嫦娟姗姣娴婉婵璇璟琦琬瑛瑄瑗瑜瑞珺珊珞玥玮玥琰琛珂珏钰钏铭铮锦镕鑫淼焱垚昊昕旻昱晗晔晟暄暻曦睿皓祺祎禧"
    "骁骅骐骞骏骥麒麟麓黛黎岚岑嵘峥嵩崧崴彤彧彬怡恺恬悦愫懿戎昀栩桐梓楠榕槿樱沁沅泓泠洵洛涵淇淳渝湉溪滢漪潇澜澍濛炜烨煊煜熠熙燊"
    "芃芊芙芮苒茗茜茹荟荻莎莘莹菁菡萱葳蓓蓉蔓蔚蕊蕙薇蘅虹蝶裴覃訾谌谧豫贇轩辰逸邈邱邵郗郜郝鄢酉闫闵隋雍霏霖霆韬韵颀颖飒魏鲍"
    "陳張黃劉楊趙吳孫馬鄭謝許鄧馮蕭葉蔣蘇盧鍾陸賴顏韓羅賀龔嚴萬龍葛錢湯藍歐陽莊連鄒麗靜鳳蘭華國鳴龍東鳳寶惠貞瓊瑩潔穎偉傑強義軍勝"
)


def common_han() -> Iterator[int]:
    """Kana, the 3,755 characters of GB/T 2312's first level, in daily use, and more that names are made of."""
    yield from map(ord, NAMES)
    yield from range(0x3041, 0x3100)
    yield from (0x3001, 0x3002, 0xFF0C, 0xFF1A, 0x00B7, 0x30FB)
    for row in range(0xB0, 0xD8):
        for cell in range(0xA1, 0xFF):
            try:
                yield ord(bytes((row, cell)).decode("gb2312"))
            except UnicodeDecodeError:
                continue


def characters(ranges: Iterable[tuple[int, int]]) -> Iterator[int]:
    for first, last in ranges:
        yield from range(first, last + 1)


def make(font: Font, folder: Path) -> int:
    """Write one font and return its size in bytes."""
    source = next(p for p in sorted(folder.rglob("*.ttf")) if p.name.startswith(font.source))
    ttf = TTFont(source, recalcTimestamp=False)
    if font.axes and "fvar" in ttf:
        ttf = instantiateVariableFont(ttf, font.axes, inplace=True)
    options = Options()
    options.hinting = False
    options.layout_features = ["ccmp", "locl", "kern", "mark", "mkmk", "liga", "rlig", "calt", "init", "medi", "fina",
                               "isol", "nukt", "akhn", "rphf", "rkrf", "blwf", "half", "vatu", "cjct", "pres", "abvs",
                               "blws", "psts", "haln", "abvm", "blwm", "dist", "cswh"]  # fmt: skip
    options.name_IDs = [0, 1, 2, 4, 6, 13, 14]
    options.drop_tables += [
        "STAT",
        "MVAR",
        "HVAR",
        "avar",
        "meta",
        "DSIG",
        "vhea",
        "vmtx",
        "VORG",
        "BASE",
        "gasp",
    ]
    options.glyph_names = False
    options.notdef_outline = True
    options.recalc_timestamp = False
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=list(characters(font.characters) if font.characters else common_han()))
    subsetter.subset(ttf)
    path = TARGET / font.target
    ttf.save(path)
    return path.stat().st_size


def main() -> None:
    TARGET.mkdir(parents=True, exist_ok=True)
    for font in FONTS:
        print(f"{font.target}: {make(font, Path(sys.argv[1])) / 1024:.0f} KB")


if __name__ == "__main__":
    main()
