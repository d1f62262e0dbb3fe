"""Pieces of paper: outlines with named edges, what is drawn in them, what scissors and tape do, and seams walked."""

from catalogue.pattern.piece import BUTTONHOLE, Cut, Dart, Edge, InnerLine, Mark, Notch, Piece, Pleat

__all__ = ["BUTTONHOLE", "Cut", "Dart", "Edge", "InnerLine", "Mark", "Notch", "Piece", "Pleat"]
