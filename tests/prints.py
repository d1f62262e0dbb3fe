"""What is on printed pages."""

from __future__ import annotations

import pypdfium2


def texts(data: bytes) -> list[str]:
    """The words of each page of a PDF, as PDFium reads them: in a twentieth of the time of a reader in Python."""
    document = pypdfium2.PdfDocument(data)
    try:
        return [page.get_textpage().get_text_range() for page in document]
    finally:
        document.close()
