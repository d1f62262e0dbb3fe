"""Pictures without what a camera or a program put beside the image: place, time, owner, remarks, small copies.

Each kind of file is gone through by its own specification, and only the parts that an image is shown by are kept:
JPEG (ITU-T T.81, annex B; Exif 2.3, 4.5.4, for the one that says which side is up), PNG (W3C, third edition, 11),
GIF89a, WebP (RFC 9649), AVIF (ISO/IEC 14496-12, 8.11), SVG (W3C, 1.1, 21).
"""

from __future__ import annotations

import re
import struct
from collections.abc import Callable, Iterator

_PNG_KEPT = frozenset(
    b"IHDR PLTE IDAT IEND tRNS gAMA cHRM sRGB iCCP cICP sBIT bKGD pHYs acTL fcTL fdAT hIST sPLT".split()
)
_GIF_KEPT = frozenset({b"NETSCAPE2.0", b"ANIMEXTS1.0"})
_SVG_LEFT_OUT = re.compile(
    rb"<!--.*?-->|<(?P<name>(?:[\w.-]+:)?metadata)\b[^<>]*(?:/>|(?<!/)>.*?</(?P=name)\s*>)", re.DOTALL
)
_ORIENTATION = 0x0112


def without_particulars(data: bytes, suffix: str) -> bytes:
    """The picture's data without them; `suffix` is the end of its name. Raises ValueError where it can't be read."""
    try:
        return _KINDS[suffix.lower()](data)
    except (struct.error, IndexError) as error:
        raise ValueError("it ends in the middle") from error


def _jpeg(data: bytes) -> bytes:
    kept = [data[:2]]
    at = 2
    while True:
        while data[at] == 0xFF and data[at + 1] == 0xFF:
            at += 1
        if data[at] != 0xFF:
            raise ValueError("its parts do not follow on each other")
        marker = data[at + 1]
        if marker == 0xD9:
            return b"".join((*kept, b"\xff\xd9"))
        (length,) = struct.unpack_from(">H", data, at + 2)
        end = at + 2 + length
        part = data[at:end]
        if len(part) < length + 2 or length < 2:
            raise ValueError("it ends in the middle")
        if marker == 0xE1 and part[4:10] == b"Exif\0\0":
            kept.append(_upright(part[10:]))
        elif not _is_particular(marker, part):
            kept.append(part)
        at = end
        if marker == 0xDA:
            found = re.compile(rb"\xff(?![\x00\xd0-\xd7\xff])").search(data, at)
            if found is None:
                raise ValueError("it ends in the middle")
            kept.append(data[at : found.start()])
            at = found.start()


def _is_particular(marker: int, part: bytes) -> bool:
    if marker == 0xE2:
        return not part.startswith(b"ICC_PROFILE\0", 4)
    return marker == 0xFE or (0xE1 <= marker <= 0xEF and marker != 0xEE)


def _upright(exif: bytes) -> bytes:
    """A part that says no more than which side of the picture is up; nothing where that is as usual."""
    order = {b"II": "<", b"MM": ">"}.get(exif[:2])
    if order is None:
        return b""
    (at,) = struct.unpack_from(f"{order}I", exif, 4)
    (count,) = struct.unpack_from(f"{order}H", exif, at)
    for number in range(min(count, 200)):
        tag, _, _, value, _ = struct.unpack_from(f"{order}HHIHH", exif, at + 2 + 12 * number)
        if tag == _ORIENTATION and 2 <= value <= 8:
            told = b"MM\0*\0\0\0\x08\0\x01" + struct.pack(">HHIHHI", _ORIENTATION, 3, 1, value, 0, 0)
            return b"\xff\xe1" + struct.pack(">H", 8 + len(told)) + b"Exif\0\0" + told
    return b""


def _png(data: bytes) -> bytes:
    kept = [data[:8]]
    at = 8
    while True:
        length, name = struct.unpack_from(">I4s", data, at)
        part = data[at : at + 12 + length]
        if len(part) < 12 + length:
            raise ValueError("it ends in the middle")
        if name in _PNG_KEPT:
            kept.append(part)
        if name == b"IEND":
            return b"".join(kept)
        at += len(part)


def _gif(data: bytes) -> bytes:
    def table(flags: int) -> int:
        return 3 << ((flags & 7) + 1) if flags & 0x80 else 0

    def blocks(start: int) -> int:
        while data[start]:
            start += data[start] + 1
        return start + 1

    at = 13 + table(data[10])
    kept = [data[:at]]
    while True:
        sign, start = data[at], at
        if sign == 0x3B:
            return b"".join((*kept, b";"))
        if sign == 0x2C:
            at = blocks(at + 11 + table(data[at + 9]))
            kept.append(data[start:at])
        elif sign == 0x21:
            label = data[at + 1]
            at = blocks(at + 2)
            if label == 0xF9 or (label == 0xFF and data[start + 3 : start + 14] in _GIF_KEPT):
                kept.append(data[start:at])
        else:
            raise ValueError("its parts do not follow on each other")


def _webp(data: bytes) -> bytes:
    kept = []
    (size,) = struct.unpack_from("<I", data, 4)
    at = 12
    while at < min(8 + size, len(data)):
        name, length = struct.unpack_from("<4sI", data, at)
        part = data[at : at + 8 + length + length % 2]
        if len(part) < 8 + length:
            raise ValueError("it ends in the middle")
        if name == b"VP8X":
            part = part[:8] + bytes([part[8] & ~0x0C]) + part[9:]
        if name in (b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF", b"ICCP"):
            kept.append(part)
        at += len(part)
    body = b"WEBP" + b"".join(kept)
    return b"RIFF" + struct.pack("<I", len(body)) + body


def _boxes(data: bytes, at: int, end: int) -> Iterator[tuple[bytes, int, int]]:
    """The boxes between two places: name, and where what they hold begins and ends."""
    while at + 8 <= end:
        length, name = struct.unpack_from(">I4s", data, at)
        start = at + 8
        if length == 1:
            (length,) = struct.unpack_from(">Q", data, start)
            start += 8
        length = length or end - at
        if length < start - at or at + length > end:
            raise ValueError("its parts do not follow on each other")
        yield name, start, at + length
        at += length


def _avif(data: bytes) -> bytes:
    """With noughts in place of them, since other parts are found by where they lie in the file."""
    shown = bytearray(data)
    for name, start, end in _boxes(data, 0, len(data)):
        if name not in (b"meta", b"ftyp", b"mdat", b"moov", b"free", b"skip"):
            shown[start:end] = bytes(end - start)
        if name != b"meta":
            continue
        inside = {name: (at, stop) for name, at, stop in _boxes(data, start + 4, end)}
        left_out = dict(_items(data, *inside[b"iinf"])) if b"iinf" in inside else {}
        idat = inside.get(b"idat", (0, 0))[0]
        for item, at, length in _extents(data, inside[b"iloc"][0], idat) if left_out else ():
            if item in left_out:
                room = len(shown[at : at + length])
                shown[at : at + length] = left_out[item].ljust(room, b"\0")[:room]
    return bytes(shown)


def _items(data: bytes, start: int, end: int) -> Iterator[tuple[int, bytes]]:
    """Numbers of the items that hold particulars, each with what says that there are none."""
    for name, at, _ in _boxes(data, start + (6 if data[start] == 0 else 8), end):
        version = data[at]
        if name == b"infe" and version >= 2:
            item, _, kind = struct.unpack_from(">HH4s" if version == 2 else ">IH4s", data, at + 4)
            if kind in (b"Exif", b"mime", b"uri "):
                yield item, b"\0\0\0\0MM\0*\0\0\0\x08\0\0" if kind == b"Exif" else b""


def _extents(data: bytes, at: int, idat: int) -> Iterator[tuple[int, int, int]]:
    """Where each item lies: its number, beginning and length."""
    version, sizes, more = data[at], data[at + 4], data[at + 5]
    offset_size, length_size, base_size, index_size = sizes >> 4, sizes & 15, more >> 4, more & 15
    wide = ">I" if version == 2 else ">H"
    at += 6

    def take(size: int) -> int:
        nonlocal at
        at += size
        if at > len(data):
            raise ValueError("it ends in the middle")
        return int.from_bytes(data[at - size : at], "big")

    for _ in range(take(struct.calcsize(wide))):
        item = take(struct.calcsize(wide))
        method = take(2) & 15 if version else 0
        take(2)
        base = take(base_size)
        for _ in range(take(2)):
            take(index_size if version else 0)
            offset, length = take(offset_size), take(length_size)
            yield item, base + offset + (idat if method == 1 else 0), length or len(data)


def _svg(data: bytes) -> bytes:
    # Where one end serves many beginnings, looking for the end of each would take too long.
    if data.count(b"<!--") > data.count(b"-->") or data.count(b"metadata") > 1000:
        raise ValueError("its comments or particulars can't be told from the drawing")
    return _SVG_LEFT_OUT.sub(b"", data)


_KINDS: dict[str, Callable[[bytes], bytes]] = {
    ".jpg": _jpeg,
    ".jpeg": _jpeg,
    ".png": _png,
    ".gif": _gif,
    ".webp": _webp,
    ".avif": _avif,
    ".svg": _svg,
}
