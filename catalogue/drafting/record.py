"""The record of a draft for other programs: draft.json. Lengths are in millimetres, x right and y down."""

from __future__ import annotations

from typing import Any

from catalogue.drafting.model import Draft
from catalogue.geometry import Path, signed_area
from catalogue.language.values import Quantity
from catalogue.pattern import Piece
from catalogue.pattern.measure import sewn_length
from catalogue.pattern.seamline import Sign

FORMAT = 1
"""Rises when a field changes its meaning; new fields do not raise it."""

FLATNESS = 0.05
"""mm that the listed outline may stray from the true curve."""

_UNITS = {"a length": "mm", "an angle": "degrees", "an area": "mm2"}


def _point(at: tuple[float, float]) -> list[float]:
    return [round(at[0], 4), round(at[1], 4)]


def _value(value: Quantity) -> dict[str, Any]:
    entry: dict[str, Any] = {"value": round(value.value, 6)}
    unit = _UNITS.get(value.kind)
    return {**entry, "unit": unit} if unit else entry


def _outline(path: Path) -> list[list[float]]:
    points = [_point(p) for p in path.flatten(FLATNESS)]
    return points if points[0] == points[-1] else [*points, points[0]]


def _piece(piece: Piece, cut_line: Path | None) -> dict[str, Any]:
    return {
        "title": piece.title,
        "area_mm2": round(signed_area(piece.outline), 2),
        "cut": {
            "count": piece.cut.count,
            "on_fold": piece.cut.on_fold,
            "mirrored": piece.cut.mirrored,
            "cloth": piece.cut.cloth,
        },
        "edges": {
            e.name: {
                "length": round(e.path.length, 4),
                "sewn_length": round(sewn_length(piece, e.name), 4),
                "fold": e.fold,
                "allowance": e.allowance,
            }
            for e in piece.edges
        },
        "outline": _outline(piece.outline),
        "cut_outline": _outline(cut_line) if cut_line else None,
        "grain": [_point(p) for p in piece.grain] if piece.grain else None,
        "points": {n: _point(p) for n, p in piece.points.items()},
        "darts": {
            d.name: {
                "edge": d.edge or None,
                "intake": round(d.intake, 4),
                "legs": [round(leg.distance(d.apex), 4) for leg in d.legs],
                "apex": _point(d.apex),
            }
            for d in piece.darts
        },
        "notches": [{"edge": n.edge, "at": _point(n.at), "count": n.count} for n in piece.notches],
        "operations": list(piece.operations),
    }


def _sign(sign: Sign | None) -> dict[str, Any] | None:
    """A place on one side of a seam: its edge, how far along the walk, the notch (0 where two edges meet)."""
    if sign is None:
        return None
    return {
        "edge": sign.edge,
        "along": round(sign.at, 4),
        "count": sign.count,
        "at": _point(sign.point),
    }


def draft_record(draft: Draft) -> dict[str, Any]:
    """Everything another program may want of a draft, as plain lists, texts and numbers."""
    return {
        "format": FORMAT,
        "style": draft.style.slug,
        "title": draft.style.title,
        "client": draft.client.slug,
        "name": draft.client.name,
        "ok": draft.ok,
        "choices": dict(draft.choices),
        "blocks": [block.slug for block in draft.style.chain],
        "missing": list(draft.missing),
        "fittings": [
            {
                "date": f.date.isoformat(),
                "garment": f.garment,
                "alteration": f.alteration,
                "amount": round(f.amount, 4),
                "side": f.side,
                "from": f.source,
                "pieces": list(f.pieces),
                "text": f.text,
                "seen": f.seen,
                "edges": [
                    {
                        "edge": f"{e.piece}.{e.edge}",
                        "before": round(e.before, 4),
                        "after": round(e.after, 4),
                    }
                    for e in f.edges
                ],
            }
            for f in draft.fittings
        ],
        "unaltered": list(draft.unaltered),
        "values": {n: _value(v) for n, v in draft.values.items()},
        "points": {n: _point(p) for n, p in draft.points.items()},
        "lines": {n: round(p.length, 4) for n, p in draft.paths.items()},
        "pieces": {n: _piece(p, draft.cut_lines.get(n)) for n, p in draft.pieces.items()},
        "seams": [
            {
                "edges": [s.first, s.second],
                "lengths": [round(s.first_length, 4), round(s.second_length, 4)],
                "ease": round(s.ease, 4),
                "ok": s.ok,
                "detail": s.detail,
                "notches": [
                    {
                        "first": _sign(m.first),
                        "second": _sign(m.second),
                        "miss": None if m.miss is None else round(m.miss, 4),
                        "ok": m.ok,
                    }
                    for m in s.matches
                ],
                "sections": [
                    {
                        "from": part.start,
                        "to": part.end,
                        "lengths": [round(part.first_length, 4), round(part.second_length, 4)],
                        "ease": round(part.ease, 4),
                        "ok": part.ok,
                    }
                    for part in s.sections
                ],
                "bends": [{"edges": [b.first, b.second], "degrees": round(b.degrees, 3)} for b in s.bends],
            }
            for s in draft.seams
        ],
        "checks": [{"text": c.text, "ok": c.ok, "detail": c.detail} for c in draft.checks],
        "finished": [
            {
                "name": f.name,
                "garment": round(f.garment, 4),
                "body": f.body,
                "ok": f.ok,
                "detail": f.detail,
                "measured": f.measured,
                "formula": None if f.claimed is None else round(f.claimed, 4),
            }
            for f in draft.finished
        ],
        "findings": [
            {"code": f.code, "severity": f.severity.value, "message": f.message, "place": str(f.place or "")}
            for f in draft.findings
        ],
        "steps": [
            {
                "number": s.number,
                "heading": s.heading,
                "section": s.section,
                "workings": [
                    {"name": w.name, "formula": w.formula, "numbers_put_in": w.substituted, "result": w.text}
                    for w in s.workings
                ],
                "operations": list(s.operations),
            }
            for s in draft.steps
        ],
    }
