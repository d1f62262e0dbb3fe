"""Pieces of paper: outlines with named edges, what is drawn inside them, and what scissors and tape do."""

from catalogue.pattern.piece import BUTTONHOLE, Cut, Dart, Edge, InnerLine, Mark, Notch, Piece, Pleat

__all__ = ["BUTTONHOLE", "Cut", "Dart", "Edge", "InnerLine", "Mark", "Notch", "Piece", "Pleat"]
