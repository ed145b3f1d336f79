"""Several papers printed as one, each as it was kept."""

from __future__ import annotations

import importlib
import io
from collections.abc import Iterable, Sequence

from studio.pdf.binding import NotOurPaperError, bound


def bound_together(papers: Iterable[bytes]) -> bytes:
    """Return the pages of several PDFs as one, in their order."""
    kept = list(papers)
    try:
        return bound(kept)
    except NotOurPaperError:
        return _bound_by_pypdf(kept)


def _bound_by_pypdf(papers: Sequence[bytes]) -> bytes:
    pypdf = importlib.import_module("pypdf")  # slow to load, and seldom needed
    writer = pypdf.PdfWriter()
    for paper in papers:
        writer.append(io.BytesIO(paper), import_outline=False)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()
