"""Looking for words in every byte of a folder: in names, in plain files, inside compressed streams of PDFs and in
what a PDF shows once it is read, however the words may be written down.
"""

from __future__ import annotations

import base64
import html
import json
import re
import zlib
from collections.abc import Iterable, Iterator
from pathlib import Path
from urllib.parse import quote

import pypdfium2


def found_in(folder: Path, words: Iterable[str]) -> dict[str, list[str]]:
    """For each word that is somewhere in the folder: the files it is in."""
    spellings = {word: [s.lower() for s in ways_to_write(word)] for word in words}
    found: dict[str, list[str]] = {}
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        parts = [name.encode(), *(contents(path) if path.is_file() else ())]
        everything = b"\0".join(parts).lower()
        for word, ways in spellings.items():
            if any(way in everything for way in ways):
                found.setdefault(word, []).append(name)
    return found


def ways_to_write(word: str) -> set[bytes]:
    """The word as bytes in the encodings and escapes that pages, data, drawings and PDFs use."""
    plain = word.encode()
    ways = {plain, word.encode("utf-16-be"), word.encode("utf-16-le"), plain.hex().encode()}
    ways |= {word.encode("utf-16-be").hex().encode(), quote(word).encode()}
    ways |= {html.escape(word).encode(), json.dumps(word)[1:-1].encode()}
    ways |= {"".join(f"&#{ord(c)};" for c in word).encode()}
    # In base64 the same letters look different after 0, 1 or 2 bytes; both ends hang on what stands beside.
    for before in range(3):
        coded = base64.b64encode(b"\0" * before + plain + b"\0\0")
        ways.add(coded[4 if before else 0 : -4])
    return {way for way in ways if len(way) > 3}


def contents(path: Path) -> list[bytes]:
    """A file's bytes, and what is packed in them."""
    data = path.read_bytes()
    parts = [data]
    if path.suffix == ".z":
        parts.append(zlib.decompress(data))
    if data.startswith(b"%PDF"):
        parts += list(inflated(data))
        document = pypdfium2.PdfDocument(data)
        parts += [str(document.get_metadata_dict()).encode()]
        parts += [page.get_textpage().get_text_range().encode() for page in document]
    return parts


def inflated(data: bytes) -> Iterator[bytes]:
    """Every stream of a PDF, unpacked. One that is packed in another way than is known here fails the test."""
    for match in re.finditer(rb"<<((?:(?!endobj).)*?)>>\s*stream\r?\n(.*?)endstream", data, re.DOTALL):
        if b"/Filter" in match[1]:
            assert b"/FlateDecode" in match[1] and b"/ASCII85Decode" not in match[1], match[1]
            unpacking = zlib.decompressobj()
            yield unpacking.decompress(match[2])
            assert unpacking.eof, "a stream that is cut short"
        else:
            yield match[2]
