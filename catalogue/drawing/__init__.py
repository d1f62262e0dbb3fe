"""Draws pieces and garments: one drawing vocabulary (`canvas`), the one painter of a piece (`paint`), and its files.

SVG (`svg`, `overview`, `piece_svg`), DXF (`dxf`) and the flat drawing of a garment (`flat`); `sheets` makes the PDFs.
"""
