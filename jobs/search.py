"""What the one search box finds of jobs, clients, places and kit."""

from __future__ import annotations

from jobs.clients.models import Client
from jobs.jobs.models import Job
from jobs.kits.models import KitItem
from jobs.places.models import Place
from studio.finding.queries import newest_found
from studio.search import Found, searchable
from studio.wording import phone_words


@searchable(action="job.see")
def find_jobs(words: str) -> list[Found]:
    """Find jobs by number, title or client."""
    return [
        Found(
            kind="Job",
            title=job.title,
            detail=f"{job.number}, {job.client}, {job.get_stage_display().lower()}",
            url=job.get_absolute_url(),
        )
        for job in newest_found(Job.objects.select_related("client"), words)
    ]


@searchable(action="client.see")
def find_clients(words: str) -> list[Found]:
    """Find clients by name, contact, mail address or phone number."""
    return [
        Found(
            kind="Client",
            title=client.name,
            detail=", ".join(
                filter(
                    None,
                    (client.contact_name, phone_words(client.phone), client.email),
                )
            ),
            url=client.get_absolute_url(),
        )
        for client in newest_found(Client.objects.standing(), words)
    ]


@searchable(action="place.see")
def find_places(words: str) -> list[Found]:
    """Find places by name or address."""
    return [
        Found(
            kind="Place",
            title=place.name,
            detail=", ".join(place.address.split("\n")),
            url=place.get_absolute_url(),
        )
        for place in newest_found(Place.objects.all(), words)
    ]


@searchable(action="kit.edit")
def find_items(words: str) -> list[Found]:
    """Find items of kit by name, serial number or bag."""
    return [
        Found(
            kind="Kit",
            title=item.name,
            detail=", ".join(filter(None, (item.get_category_display(), item.bag))),
            url=item.get_absolute_url(),
        )
        for item in newest_found(KitItem.objects.all(), words)
    ]
