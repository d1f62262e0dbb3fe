"""Pictures go into the catalogue without what cameras and programs put beside the image."""

from __future__ import annotations

import io

import pytest
from PIL import Image, PngImagePlugin, features

from catalogue.building.picture_particulars import without_particulars

SECRET = "Zephyrine Oddlocke, 4 Mill Lane"
BITMAP = Image.linear_gradient("L").resize((24, 16)).convert("RGB")


def saved(kind: str, orientation: int = 1) -> bytes:
    """A picture, by an independent library, with camera data, a description and a remark."""
    exif = Image.Exif()
    exif[0x010E] = SECRET
    exif[0x0112] = orientation
    exif.get_ifd(0x8825)[29] = "2019:03:04"
    more: dict[str, object] = {"exif": exif, "xmp": f"<x>{SECRET}</x>".encode()}
    if kind == "PNG":
        text = PngImagePlugin.PngInfo()
        text.add_text("Author", SECRET)
        text.add_itxt("Title", SECRET, zip=False)
        more = {"exif": exif, "pnginfo": text}
    elif kind == "JPEG":
        more["comment"] = SECRET
        more["progressive"] = True
    elif kind == "GIF":
        more = {"comment": SECRET, "save_all": True, "append_images": [BITMAP.rotate(90)], "loop": 0}
    elif kind == "WEBP":
        more["lossless"] = True
    buffer = io.BytesIO()
    BITMAP.save(buffer, kind, **more)
    return buffer.getvalue()


KINDS = [
    kind
    for kind in ("JPEG", "PNG", "GIF", "WEBP", "AVIF")
    if kind not in ("WEBP", "AVIF") or features.check(kind.lower())
]


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize("kind", KINDS)
def test_nothing_but_the_image_is_left(kind: str) -> None:
    before = saved(kind)
    assert SECRET.encode() in before
    after = without_particulars(before, f".{kind.lower()}")
    assert b"Oddlocke" not in after and b"Mill Lane" not in after and b"2019:03" not in after
    one, other = Image.open(io.BytesIO(before)), Image.open(io.BytesIO(after))
    assert other.size == one.size and getattr(other, "n_frames", 1) == getattr(one, "n_frames", 1)
    assert other.convert("RGB").tobytes() == one.convert("RGB").tobytes()
    assert not dict(other.getexif())


@pytest.mark.parametrize("orientation", [3, 6])
def test_which_side_is_up_is_kept(orientation: int) -> None:
    after = without_particulars(saved("JPEG", orientation), ".jpg")
    assert dict(Image.open(io.BytesIO(after)).getexif()) == {0x0112: orientation}


def test_what_follows_the_image_is_left_out() -> None:
    for kind in ("JPEG", "PNG", "GIF", "WEBP"):
        data = saved(kind)
        assert b"Oddlocke" not in without_particulars(data + SECRET.encode(), f".{kind.lower()}")


def test_remarks_of_a_drawing_are_left_out() -> None:
    drawing = (
        b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><!-- for Rosa -->'
        b'<metadata id="m"><x>Rosa</x></metadata><metadata/><path d="M0 0h9"/></svg>'
    )
    after = without_particulars(drawing, ".svg")
    assert b"Rosa" not in after and b"metadata" not in after and b'<path d="M0 0h9"/></svg>' in after
    with pytest.raises(ValueError, match="can't be told"):
        without_particulars(b"<svg><![CDATA[" + b"<!--" * 9 + b"-->]]></svg>", ".svg")


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize("kind", KINDS)
def test_a_picture_cut_off_anywhere_is_refused_or_read_and_never_breaks(kind: str) -> None:
    data = saved(kind)
    for end in range(12, len(data), 7):
        try:
            after = without_particulars(data[:end], f".{kind.lower()}")
        except ValueError:
            continue
        assert kind in ("AVIF", "WEBP") and len(after) <= len(data)
