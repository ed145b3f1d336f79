from datetime import date, timedelta

from studio.backups.keeping import kept

LAST = date(2026, 6, 21)


def test_after_two_years_there_are_seven_days_four_weeks_and_twelve_months() -> None:
    # 21 June 2026 is a Sunday (any calendar): its week's newest copy is its own, the
    # three weeks before end on 14 and 7 June and 31 May.
    nights = [LAST - timedelta(days=back) for back in range(730)]

    stay = kept(nights)

    assert {LAST - timedelta(days=back) for back in range(7)} <= stay
    assert {date(2026, 6, 14), date(2026, 6, 7), date(2026, 5, 31)} <= stay
    assert {date(2026, 4, 30), date(2025, 7, 31)} <= stay
    assert date(2025, 6, 30) not in stay
    assert len(stay) <= 7 + 4 + 12


def test_dropping_every_night_keeps_the_same_as_dropping_once() -> None:
    stay: set[date] = set()
    nights = [LAST + timedelta(days=on) for on in range(400)]
    for night in nights:
        stay = kept(stay | {night})

    assert stay == kept(nights)


def test_nothing_is_dropped_in_the_first_week() -> None:
    nights = {LAST + timedelta(days=on) for on in range(7)}

    assert kept(nights) == nights
