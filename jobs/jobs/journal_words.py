"""What the journal holds of a job and its sessions, in the words of its page."""

from typing import Final

from studio.history.models import ActorKind, JournalEntry

TOLD: Final = {
    ("jobs.job", "opened"): "took the enquiry",
    ("jobs.job", "changed"): "changed the job",
    ("jobs.job", "promised"): "said who answers, and by when",
    ("jobs.job", "answered"): "answered the enquiry",
    ("jobs.job", "enquiry"): "took the job up again",
    ("jobs.job", "quoted"): "sent the quote",
    ("jobs.job", "booked"): "recorded the yes",
    ("jobs.job", "shot"): "marked it shot",
    ("jobs.job", "delivered"): "delivered the pictures",
    ("jobs.job", "paid"): "closed it as paid",
    ("jobs.job", "lost"): "closed it as not taken",
    ("jobs.job", "cancelled"): "called the job off",
    ("jobs.job", "showing"): "said whether pictures may be shown",
    ("jobs.job", "clock started"): "started a clock",
    ("jobs.job", "clock stopped"): "stopped the clock",
    ("jobs.job", "time noted"): "noted time",
    ("jobs.job", "time dropped"): "took noted time back",
    ("jobs.booking", "proposed"): "wrote the session down",
    ("jobs.booking", "changed"): "changed the session",
    ("jobs.booking", "pencilled"): "pencilled the session in",
    ("jobs.booking", "confirmed"): "confirmed the session",
    ("jobs.booking", "hold lapsed"): "let the session’s hold lapse",
    ("jobs.booking", "hold given up"): "gave the session’s hold up",
    ("jobs.booking", "completed"): "noted that the session happened",
    ("jobs.booking", "cancelled"): "called the session off",
    ("jobs.booking", "moved"): "moved the session",
    ("jobs.booking", "taken up again"): "took the session up again",
    ("jobs.booking", "spare date kept"): "kept a spare date for the session",
    ("jobs.booking", "invited"): "sent the session to calendars",
    ("jobs.booking", "attendees listed"): "listed who comes",
    ("jobs.booking", "answers kept"): "told who is coming",
    ("jobs.booking", "answers erased"): "erased what was told of who comes",
    ("jobs.booking", "asked who is coming"): "asked the client who is coming",
    ("jobs.booking", "private page opened"): "made the client’s page of the session",
    ("jobs.booking", "private page closed"): "closed the client’s page of the session",
    ("jobs.booking", "offered in sittings"): "offered the session in sittings",
    ("jobs.booking", "sittings changed"): "changed what a sitting is",
    ("jobs.booking", "sittings opened"): "opened the page of its times",
    ("jobs.booking", "sittings closed"): "closed the page of its times",
    ("jobs.booking", "sitting added"): "added a time",
    ("jobs.booking", "sitting removed"): "took a time out",
    ("jobs.booking", "sitting kept back"): "kept a time back",
    ("jobs.booking", "sitting offered again"): "offered a time again",
    ("jobs.booking", "sitting taken"): "took a time",
    ("jobs.booking", "sitting changed"): "changed to another time",
    ("jobs.booking", "sitting given back"): "gave a time back",
    ("jobs.booking", "sitters written to"): "wrote to all who have a time",
    ("jobs.booking", "sittings moved along"): "took the times along",
    ("jobs.booking", "groups suggested"): "took up suggested groups",
}


def told(entry: JournalEntry) -> str:
    """Return what an entry of the journal says, as the job's page puts it."""
    if entry.actor_kind == ActorKind.CLIENT and entry.verb == "booked":
        return "said yes"
    if entry.actor_kind == ActorKind.CLIENT and entry.verb == "opened":
        return "wrote by the form"
    return TOLD.get((entry.object_type, entry.verb), entry.verb)
