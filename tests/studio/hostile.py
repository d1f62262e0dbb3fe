"""Style files made to exhaust the reader: for each a label and its text."""

from collections.abc import Iterator

FRONT = "---\ntitle: Hostile\n---\n\n"


def block(text: str, front: str = FRONT) -> str:
    return f"{front}```draft\n{text}\n```\n"


def _nested(word: str, depth: int, inner: str) -> str:
    return "\n".join(" " * i + word for i in range(depth)) + "\n" + " " * depth + inner


def _wave(count: int) -> str:
    """A named curve through `count` points."""
    points = [f"p{i} = {i % 97} mm right and {(i * 37) % 89} mm down from start" for i in range(count)]
    return "\n".join([*points, "c = curve " + ", ".join(f"p{i}" for i in range(count))])


def _smooth_wave(count: int) -> str:
    points = [f"p{i} = {i * 5} mm right and {(i % 2) * 3} mm down from start" for i in range(count)]
    return "\n".join([*points, "c = curve " + ", ".join(f"p{i}" for i in range(count))])


def styles() -> Iterator[tuple[str, str]]:
    yield "a sum of 10,000 terms", block("a = " + " + ".join(["1 cm"] * 10_000))
    yield "a sum of 500 terms", block("a = " + " + ".join(["1 cm"] * 500))
    yield "1,000 brackets", block("a = " + "(" * 1000 + "1 cm" + ")" * 1000)
    yield "60,000 brackets in prose", FRONT + "{" + "(" * 30_000 + "1" + ")" * 30_000 + "}"
    yield "1,000 minus signs", block("a = " + "-" * 1000 + "1 cm")
    yield "halves of halves", block("a = " + "half of (" * 300 + "1 cm" + ")" * 300)
    yield (
        "find in find",
        block(
            "find a between 1 cm and 9 cm so that b = 5 cm\n  find b between 1 cm and 9 cm so that b = a\n    c = b"
        ),
    )
    yield (
        "find under when under find",
        block(
            "find a between 1 cm and 9 cm so that a = 5 cm\n  when 1 = 1\n"
            "    find b between 1 cm and 9 cm so that b = a"
        ),
    )
    lines = "\n".join(f"  x{i} = a + {i} mm" for i in range(400))
    yield "find with 400 lines", block(f"find a between 1 cm and 90 cm so that x399 = 50 cm\n{lines}")
    yield "find without a root", block(f"find a between 1 cm and 90 cm so that x399 = -5 cm\n{lines}")
    yield (
        "90 finds of 40 lines",
        block(
            "\n".join(
                f"find a{k} between 1 cm and 90 cm so that x{k}_39 * x{k}_39 = 900 cm * 1 cm\n"
                + "\n".join(f"  x{k}_{i} = a{k} + {i} mm + 1 mm + 1 mm - 1 mm - 1 mm" for i in range(40))
                for k in range(90)
            )
        ),
    )
    yield "huge numbers", block("\n".join(f"a{i} = {'9' * n} cm" for i, n in enumerate((20, 60, 300, 3900))))
    yield "powers of powers", block("a0 = 99999\n" + "\n".join(f"a{i + 1} = a{i} * a{i}" for i in range(50)))
    yield "tiny divisors", block("a = 1 cm / 0.000000000000000000001\nb = a / 0.0000001\nc = b * b")
    yield "50 deep whens", block(_nested("when 1 = 1", 50, "a = 1 cm"))
    yield "1,300 deep whens", block(_nested("when 1 = 1", 1300, "a = 1 cm"))
    yield "outlines in outlines", block("piece a, cut 1\n" + _nested("outline", 900, "b: a to c"))
    yield "4,001 lines", block("\n".join(f"a{i} = {i} mm" for i in range(4001)))
    yield "4,000 lines", block("\n".join(f"a{i} = {i} mm" for i in range(4000)))
    yield "4,000 bad lines", block("\n".join("a b c d" for _ in range(4000)))
    yield "4,000 lines each wrong in drafting", block("\n".join(f"a{i} = b + 3" for i in range(4000)))
    yield (
        "100,000 lines under a find",
        block("find a between 1 cm and 2 cm so that a = a\n" + "\n".join(f"  a{i}=1" for i in range(80_000))),
    )
    yield "one line of 100,000 rows", block("a = 1\n" + "\n".join("  +1" for _ in range(100_000)))
    yield "a curve of 500 knots", block(_wave(500))
    yield "a curve of 2,000 knots", block(_wave(2000))
    yield (
        "a chain of curves",
        block(
            "\n".join(f"p{i} = {i * 5} mm right and {(i % 2) * 3} mm down from start" for i in range(600))
            + "".join(
                f"\nc{k} = curve " + ", ".join(f"p{i}" for i in range(k * 99, k * 99 + 100)) for k in range(6)
            )
            + "\nc = c0 then c1 then c2 then c3 then c4 then c5"
        ),
    )
    yield (
        "a gigantic curve with itself",
        block(_smooth_wave(100) + "\n" + "\n".join(f"q{i} = where c crosses c, first" for i in range(50))),
    )
    yield (
        "gigantic curves crossing",
        block(
            _smooth_wave(100)
            + "\nd = c moved 1 mm down\n"
            + "\n".join(f"q{i} = where c crosses d, first" for i in range(200))
        ),
    )
    yield (
        "gigantic parallels",
        block(
            _smooth_wave(100) + "\n" + "\n".join(f"q{i} = parallel to c, {i + 1} mm up" for i in range(200))
        ),
    )
    yield (
        "parallels of parallels",
        block(
            _smooth_wave(60)
            + "\nq0 = c\n"
            + "\n".join(f"q{i + 1} = parallel to q{i}, 1 mm up" for i in range(200))
        ),
    )
    yield (
        "a find over parallels",
        block(
            _smooth_wave(60)
            + "\nfind a between 1 mm and 9 cm so that length of q = 1 m"
            + "\n  q = parallel to c, a up"
            + "".join(f"\n  q{i} = parallel to c, a up" for i in range(200))
        ),
    )
    yield (
        "measuring a long curve",
        block(_smooth_wave(100) + "\n" + "\n".join(f"q{i} = halfway along c" for i in range(2000))),
    )
    yield (
        "points along a long curve",
        block(_smooth_wave(100) + "\n" + "\n".join(f"q{i} = {i} mm along c from p0" for i in range(2000))),
    )
    yield (
        "doubling chains",
        block(
            "p = 1 cm right from start\nc0 = line start to p\n"
            + "\n".join(f"d{i} = c{i} moved {2**i} cm right\nc{i + 1} = c{i} then d{i}" for i in range(30))
        ),
    )
    yield (
        "a table of 400 rows",
        block("a = by bust_girth: " + ", ".join(f"up to {i} mm {i} mm" for i in range(180)) + ", above 1 cm"),
    )
    yield (
        "80 pieces",
        block(
            "b = 5 cm right from start\nc = 5 cm down from b\n"
            + "\n".join(
                f"piece p{i}, cut 1\n  outline x: start to b\n    y: b to c\n    z: c to start"
                for i in range(120)
            )
        ),
    )
    yield (
        "1,000 darts",
        block(
            "b = 90 cm right from start\nc = 50 cm down from b\nd = 50 cm down from start\n"
            "piece p, cut 1\n  outline x: start to b\n    y: b to c\n    z: c to d\n    w: d to start\n"
            + "\n".join(
                f"dart d{i} on p.x, middle at {i * 0.8 + 0.5} mm along p.x from start, intake 0.5 mm, length 10 cm"
                for i in range(1000)
            )
        ),
    )
    yield (
        "a crowded piece",
        block(
            _smooth_wave(100)
            + "\ne = 60 cm down from p99\nf = 60 cm down from start\npiece p, cut 1\n  outline x: p0 to p99 along c\n"
            + "    y: p99 to e\n    z: e to f\n    w: f to p0\n"
            + "\n".join(f"mark {i + 1} mm right and 5 cm down from start on p" for i in range(200))
            + "\n"
            + "\n".join(f"grain of p {'down' if i % 2 else 'up'}" for i in range(100))
        ),
    )
    yield (
        "many seams",
        block(
            "b = 5 cm right from start\nc = 5 cm down from b\n"
            "piece p, cut 1\n  outline x: start to b\n    y: b to c\n    z: c to start\n"
            + "\n".join(
                "sew p.x to p.y and p.z and p.x and p.y and p.z, ease 0 cm to 9 cm" for _ in range(3000)
            )
        ),
    )
    box = (
        "b = 60 cm right from start\nc = 50 cm down from b\nd = 50 cm down from start\n"
        "piece p, cut 1\n  outline x: start to b\n    y: b to c\n    z: c to d\n    w: d to start\n"
    )
    curved = (
        _smooth_wave(100)
        + "\ne = 60 cm down from p99\nf = 60 cm down from start\npiece p, cut 1\n  outline x: p0 to p99 along c\n"
        + "    y: p99 to e\n    z: e to f\n    w: f to p0\n"
    )
    for label, piece in (("a plain piece", box), ("a wavy piece", curved)):
        yield (
            f"60 slashes, 60 times, in {label}",
            block(piece + "spread p, 60 lines from x to z, nothing at x, 1 cm at z\n" * 60),
        )
        yield (
            f"10 slashes, 200 times, in {label}",
            block(piece + "spread p, 10 lines from x to z, 1 mm at x, 1 mm at z\n" * 200),
        )
        yield (
            f"200 facings of {label}",
            block(piece + "".join(f"trace t{i} from p, {i % 50 + 1} mm from x and w\n" for i in range(200))),
        )
        yield (
            f"{label} smoothed again and again",
            block(piece + "redraw p.x smooth\nredraw p.z smooth\n" * 900),
        )
        yield f"{label} squared again and again", block(piece + "square p.x to w\nsquare p.x to y\n" * 900)
        yield (
            f"{label} cut to shreds",
            block(
                piece
                + "".join(
                    f"cut {'p' if i == 0 else f'r{i - 1}'} from ({i + 1} mm down and 5 cm up from start) to "
                    f"({i + 1} mm right from c) into l{i}, r{i}\n"
                    for i in range(150)
                )
            ),
        )
        yield (
            f"{label} lengthened 500 times",
            block(
                piece
                + "m = line from (10 cm down and 9 cm left from start) right 90 cm\n"
                + "lengthen p at m by 1 mm\n" * 500
            ),
        )
        yield (
            f"pleats without end in {label}",
            block(
                piece
                + "".join(
                    f"pleat p along (line from ({i * 2 + 5} mm right and 9 cm up from start) down 90 cm), "
                    "knife, depth 1 mm\n"
                    for i in range(150)
                )
            ),
        )
        yield f"{label} unfolded again and again", block(piece + "unfold p on w\n" * 40)
        yield (
            f"{label} with many notches",
            block(piece + "".join(f"notch p.y at {i} mm along p.y from b\n" for i in range(1, 400))),
        )
    yield (
        "a dart moved 400 times",
        block(
            box
            + "dart k on p.x, middle at halfway, intake 3 cm, length 20 cm\n"
            + "".join(
                f"close p.{'k' if i == 0 else f'k{i - 1}'}, pivoting on p.{'k' if i == 0 else f'k{i - 1}'}, "
                f"opening {'z' if i % 2 == 0 else 'x'} at ({(i * 7) % 40 + 10} cm along p.{'z' if i % 2 == 0 else 'x'} "
                f"from p.{'c' if i % 2 == 0 else 'start'}) named k{i}\n"
                for i in range(400)
            )
        ),
    )
    for name, run in (
        ("blanks", " "), ("tabs", "\t"), ("quotes", '"'), ("curly quotes", "“"), ("digits", "1"),
        ("underscores", "_"), ("letters", "a"), ("dashes", "-"), ("equals", "="), ("backticks", "`"),
        ("hashes", "#"), ("tildes", "~"), ("opening braces", "{"), ("closing braces", "}"), ("commas", ","),
        ("backslashes", "\\"), ("marks", "a\u0301\u0323"), ("no-break spaces", "\xa0"), ("digit pairs", "1 "),
        ("fractions", "1/2 "), ("names", "a "), ("bracket pairs", "() "), ("ticks apart", "` "), ("tos", " to "),
    ):  # fmt: skip
        long = run * (300_000 // len(run.encode()))
        short = run * (3_900 // len(run))
        yield f"300 KB of {name} in prose", FRONT + "a " + long + " b"
        yield f"300 KB of {name} in a heading", FRONT + "# a" + long + "b"
        yield f"300 KB of {name} in braces", FRONT + "{a" + long + "b}"
        yield f"300 KB of {name} in a draft line", block("a = b" + long + "c")
        yield (
            f"{name} in 200 draft lines",
            "\n".join((FRONT, "```draft", *[f"a = b{short}c" for _ in range(200)], "```")),
        )
        yield (
            f"{name} after every first word",
            "\n".join(
                (
                    FRONT,
                    "```draft",
                    *(
                        f"{w} x{short}y"
                        for w in (
                            "finished",
                            "check",
                            "find",
                            "piece",
                            "dart",
                            "sew",
                            "when",
                            "note",
                            "new paper",
                        )
                    ),
                    "```",
                )
            ),
        )
        choice = run.replace("\t", " ").replace("\\", "").replace('"', "'").strip() or "x "
        yield f"{name} in a choice", f"---\ntitle: x\nchoices:\n  a: 5 cm ({choice * 3000}\n---\n"
    ticks = " ".join("`" * n for n in range(1, 1300))
    yield "backticks of every length", FRONT + ticks
    yield "50,000 braces", FRONT + "{a} " * 50_000
    yield "300 long formulas", FRONT + "\n".join("{" + "1+" * 1500 + "1}" for _ in range(300))
    yield "1 MB of short paragraphs", FRONT + "a\n\n" * 300_000
    yield "200,000 headings", FRONT + "# a\n" * 200_000
    yield "60,000 draft blocks", FRONT + "```draft\n```\n" * 60_000
    yield "60,000 code blocks", FRONT + "```x\n```\n" * 60_000
    yield (
        "20,000 choices",
        "---\ntitle: x\nchoices:\n" + "".join(f"  a{i}: 5 cm\n" for i in range(20_000)) + "---\n",
    )
    yield "20,000 keys", "---\ntitle: x\n" + "".join(f"a{i}: 5\n" for i in range(20_000)) + "---\n"
