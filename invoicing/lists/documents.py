"""Several papers printed as one, each as it was kept."""

from __future__ import annotations

import importlib
import io
from collections.abc import Iterable


def bound_together(papers: Iterable[bytes]) -> bytes:
    """Return the pages of several PDFs as one, in their order."""
    pypdf = importlib.import_module("pypdf")  # slow to load, and seldom needed
    writer = pypdf.PdfWriter()
    for paper in papers:
        writer.append(io.BytesIO(paper), import_outline=False)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()
