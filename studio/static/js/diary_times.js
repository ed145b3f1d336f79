// Where a dragged session of the diary would go: readings of a clock without a zone.
// The server alone works out instants; here days and minutes are only added. All
// readings are kept as milliseconds, as if the clock were UTC's.
"use strict";

window.diaryTimes = (() => {
  const MINUTE = 60_000;
  const DAY = 1440 * MINUTE;
  const SNAP = 15 * MINUTE;
  const WEEKDAYS = ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"];
  const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

  const reading = (text) => Date.parse(`${text}Z`);
  const dayOf = (at) => new Date(at).toISOString().slice(0, 10);
  const clockOf = (at) => new Date(at).toISOString().slice(11, 16);
  const startOf = (handle) => reading(`${handle.dataset.day}T${handle.dataset.starts}`);

  // A time that was changed falls on a quarter of an hour; one that was not stays.
  const target = (handle, shift) => {
    const at = startOf(handle) + shift.minutes * MINUTE;
    return (shift.minutes ? Math.round(at / SNAP) * SNAP : at) + shift.days * DAY;
  };

  const moved = (handle, shift) => target(handle, shift) - startOf(handle);

  const words = (handle, at) => {
    const day = new Date(at);
    const said = `${WEEKDAYS[day.getUTCDay()]} ${day.getUTCDate()} ${MONTHS[day.getUTCMonth()]}, ${clockOf(at)}`;
    return handle.dataset.clock ? `${said} ${handle.dataset.clock}` : said;
  };

  const address = (handle, at) =>
    `${handle.getAttribute("href")}?day=${dayOf(at)}&starts=${encodeURIComponent(clockOf(at))}`;

  const shares = (one, other) => {
    const [mine, theirs] = [one, other].map((row) => row.dataset.needs.split(" ").filter(Boolean));
    return theirs.includes("*") || mine.some((need) => theirs.includes(need));
  };

  // What on the page is kept at the new time and wants the same people, room or kit.
  const clashes = (page, handle, by) => {
    const own = handle.closest("[data-keeps]");
    const [start, end] = [reading(own.dataset.start) + by, reading(own.dataset.end) + by];
    const meets = (row) => reading(row.dataset.start) < end && start < reading(row.dataset.end);
    const rows = [...page.querySelectorAll("[data-keeps]")].filter(
      (row) => row.dataset.about !== own.dataset.about && meets(row) && shares(own, row),
    );
    return [...new Set(rows.map((row) => row.dataset.name))];
  };

  // From where to where on a row's strip a session would lie, in percent.
  const across = (row, at, minutes) => {
    const [first, last] = [Number(row.dataset.first), Number(row.dataset.last)];
    const start = (at - reading(`${row.dataset.on}T00:00`)) / MINUTE;
    const share = (minute) => Math.min(Math.max((minute - first) / (last - first), 0), 1) * 100;
    return { left: share(start), right: share(start + minutes) };
  };

  const daysBetween = (row, other) =>
    (reading(`${other.dataset.on}T00:00`) - reading(`${row.dataset.on}T00:00`)) / DAY;

  return { across, address, clashes, dayOf, daysBetween, moved, reading, target, words };
})();
