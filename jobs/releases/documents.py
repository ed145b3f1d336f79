"""The printed release, to be signed on paper."""

from __future__ import annotations

from reportlab.platypus import Flowable, Spacer

from jobs.releases.printed import PrintedRelease
from studio.pdf.heads import LetterHead
from studio.pdf.paper import Imprint, print_pages
from studio.pdf.styles import SMALL, Style
from studio.pdf.tables import Boxed, facts, signature_lines
from studio.pdf.text import bold, rich, text


def print_release(printed: PrintedRelease) -> bytes:
    """Print a release as a PDF; an equal release gives equal bytes."""
    head = LetterHead(
        name=printed.studio_name,
        contact=printed.studio_lines,
        kind="Release of pictures",
        mark=f"No. {printed.number}, {printed.made}",
    )
    imprint = Imprint(
        title=f"Release of pictures, {printed.sitter}",
        author=printed.studio_name,
        subject=printed.made,
        foot=f"Release {printed.number}",
    )
    return print_pages(_story(printed), imprint=imprint, head=head)


def _story(printed: PrintedRelease) -> list[Flowable]:
    who = [("Whose pictures", printed.sitter)]
    if printed.is_child:
        who.append(("Parent or guardian", printed.signer))
    body = Style(size=11.0, leading=16.0)
    story: list[Flowable] = [facts(who), Spacer(1, 18)]
    story += [
        text(line, body) if line else Spacer(1, 7) for line in printed.words.split("\n")
    ]
    story.append(Spacer(1, 26))
    if printed.signed:
        story.append(text(printed.signed, Style(size=11.0, weight=600)))
    else:
        story.append(
            signature_lines(f"Signature of {printed.signer}", "Place and date")
        )
        story.append(Spacer(1, 16))
        story.append(signature_lines("Name in capitals", "For the studio"))
    story.append(Spacer(1, 22))
    story.append(Boxed(rich(bold("Please note. "), printed.caution, style=SMALL)))
    return story
