from datetime import timedelta

import pytest

from studio.links.models import LinkPurpose, PrivateLink
from studio.links.operations import (
    LASTS,
    LinkGoneError,
    LinkReplacedError,
    find_link,
    make_link,
    note_use,
    revoke_links,
    token_of,
)
from tests.make import NOON

pytestmark = pytest.mark.django_db
QUOTE, SESSION = LinkPurpose.QUOTE, LinkPurpose.SESSION


def made(object_id: int = 7) -> PrivateLink:
    return make_link(purpose=QUOTE, object_id=object_id, at=NOON)


def test_a_token_opens_its_link_and_is_nowhere_stored() -> None:
    link = made()
    token = token_of(link)

    row = PrivateLink.objects.filter(pk=link.pk).values_list().get()

    assert find_link(token=token, purpose=QUOTE, at=NOON) == link
    assert len(token) == 43  # 256 bits in URL-safe base 64
    assert all(token not in str(value) for value in row)


def test_no_two_tokens_are_alike() -> None:
    assert len({token_of(made()) for _ in range(50)}) == 50


@pytest.mark.parametrize(
    "after", [LASTS, LASTS + timedelta(days=1), -timedelta(days=1)]
)
def test_a_link_opens_nothing_when_it_has_expired_or_comes_from_the_future(
    after: timedelta,
) -> None:
    token = token_of(made())

    with pytest.raises(LinkGoneError):
        find_link(token=token, purpose=QUOTE, at=NOON + after)


def test_a_link_opens_nothing_of_another_purpose() -> None:
    with pytest.raises(LinkGoneError):
        find_link(token=token_of(made()), purpose=SESSION, at=NOON)


@pytest.mark.parametrize("token", ["", "x", "A" * 43, "Ω" * 43, "\x00"])
def test_an_unknown_token_opens_nothing(token: str) -> None:
    made()

    with pytest.raises(LinkGoneError):
        find_link(token=token, purpose=QUOTE, at=NOON)


def test_a_revoked_link_is_gone_and_a_replaced_one_says_so() -> None:
    first, second = made(1), made(2)
    revoke_links(purpose=QUOTE, object_id=1, at=NOON)
    revoke_links(purpose=QUOTE, object_id=2, at=NOON, replaced=True)

    with pytest.raises(LinkGoneError) as gone:
        find_link(token=token_of(first), purpose=QUOTE, at=NOON)
    assert not isinstance(gone.value, LinkReplacedError)
    with pytest.raises(LinkReplacedError):
        find_link(token=token_of(second), purpose=QUOTE, at=NOON)


def test_another_secret_key_opens_none_of_the_old_links(settings: object) -> None:
    link = made()
    before = token_of(link)

    settings.SECRET_KEY = "another key of the same length as the first 0123456789"  # type: ignore[attr-defined]

    assert token_of(link) != before


def test_visits_are_counted_and_the_first_is_kept() -> None:
    link = made()

    for hours in range(3):
        note_use(link, at=NOON + timedelta(hours=hours))

    link.refresh_from_db()
    assert (link.uses, link.first_used_at) == (3, NOON)
    assert link.last_used_at == NOON + timedelta(hours=2)
