"""The figure shows each measurement where the register says it is taken."""

import re

from catalogue.people import REGISTER
from catalogue.site.body import (
    CROTCH,
    ELBOW,
    FLOOR,
    HIP,
    WAIST,
    WRIST,
    body_definitions,
    measured_keys,
    tape_figure,
)


def figure(key: str) -> str:
    known = REGISTER[key]
    return str(tape_figure(key, known.name, known.how))


def drawn(svg: str, kind: str) -> list[tuple[float, float]]:
    """Points of the path data of lines of a kind, control points among them."""
    data = " ".join(re.findall(rf'class="{kind}" d="([^"]+)"', svg))
    numbers = [float(n) for n in re.findall(r"-?[0-9.]+", data)]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def test_everything_but_weight_is_drawn() -> None:
    assert set(REGISTER) - measured_keys() == {"weight"} and measured_keys() <= set(REGISTER)
    assert figure("weight") == ""


def test_each_is_drawn_on_the_view_the_register_names() -> None:
    for key in measured_keys():
        assert f'href="#body-{REGISTER[key].figure}"' in figure(key), key
        assert f'id="body-{REGISTER[key].figure}"' in body_definitions()


def test_the_tape_lies_inside_its_figure() -> None:
    for key in measured_keys():
        svg = figure(key)
        left, top, width, height = map(float, re.findall(r'viewBox="([^"]+)"', svg)[0].split())
        for x, y in drawn(svg, "tape-line") + drawn(svg, "tape-behind"):
            assert left <= x <= left + width and top <= y <= top + height, key
        assert height / width == 1.25 or abs(height / width - 1.25) < 0.01


def test_girths_go_all_the_way_round_and_lengths_have_two_ends() -> None:
    for key in measured_keys():
        svg, known = figure(key), REGISTER[key]
        if known.kind == "girth" and key != "crotch_length":
            assert drawn(svg, "tape-behind"), key
        else:
            assert svg.count('class="tape-end"') == 2 and not drawn(svg, "tape-behind"), key


def test_heights_go_straight_down_to_the_floor() -> None:
    for key in measured_keys():
        if REGISTER[key].kind == "height":
            (x0, _), (x1, y1) = drawn(figure(key), "tape-line")
            assert x0 == x1 and y1 == FLOOR, key


def test_the_figure_has_the_proportions_it_names() -> None:
    # A. Sundquist, Extension Circular 306 (1943): seven and a half heads, the hips halve the body, the elbows at the
    # waist, the wrists at the hips.
    head = 100
    assert FLOOR / head == 7.5
    assert abs(HIP - FLOOR / 2) < 0.05 * head and HIP < CROTCH
    assert abs(ELBOW[1] - WAIST) < 0.05 * head and abs(WRIST[1] - HIP) < 0.05 * head
