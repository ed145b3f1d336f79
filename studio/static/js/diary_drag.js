// Sessions of the diary, dragged to another time or day by hand or by arrow keys.
// Letting go moves nothing: it opens the page that shows what the move would touch.
// <table data-diary="times|days"> has rows or cells data-on; <a data-handle> is grabbed,
// and without script leads to the form. A finger must rest first, so that it can scroll.
// On a phone a month is a list of the days that hold something; while one of them is
// moved the free days unfold (class "unfolded"), and fold up again when it is left.
"use strict";

(() => {
  const SLACK = 5; // pixels that a press may wander before it is a drag
  const REST = 400; // milliseconds until a finger has taken hold
  const EDGE = 56; // pixels from the window's edge within which the page rolls on
  const STEP = 15; // minutes of an arrow key
  const LEFT = "Left where it is.";

  const times = window.diaryTimes;
  const page = document.querySelector("[data-diary]");
  const line = document.querySelector("[data-drag-line]");
  if (!page || !line) return;

  const onlyDays = page.dataset.diary === "days";
  const handles = [...page.querySelectorAll("[data-handle]")];
  const shifts = new WeakMap();
  let held = null;

  const shiftOf = (handle) => shifts.get(handle) || { days: 0, minutes: 0 };

  const strip = (row) => [...row.querySelectorAll(".strip")];

  const lay = (row, box, at, minutes, classes) => {
    const span = document.createElement("span");
    const { left, right } = times.across(row, at, minutes);
    span.className = classes;
    span.style.left = `${left}%`;
    span.style.width = `${Math.max(right - left, 0.6)}%`;
    box.append(span);
    return span;
  };

  const clear = () => {
    page.querySelectorAll(".drag-ghost").forEach((ghost) => ghost.remove());
    ["drag-row", "drag-held"].forEach((name) => {
      page.querySelectorAll(`.${name}`).forEach((row) => row.classList.remove(name));
    });
    line.classList.remove("drag-clash");
  };

  const show = (handle, how) => {
    const shift = shiftOf(handle);
    const at = times.target(handle, shift);
    const by = times.moved(handle, shift);
    const taken = times.clashes(page, handle, by);
    const home = times.reading(handle.dataset.at) + by;
    const row = page.querySelector(`[data-on="${times.dayOf(home)}"]`);
    clear();
    handle.closest("[data-keeps]").classList.add("drag-held");
    if (row) {
      row.classList.add("drag-row");
      const classes = taken.length ? "drag-ghost drag-clash" : "drag-ghost";
      if (!onlyDays) strip(row).forEach((box) => lay(row, box, home, Number(handle.dataset.minutes), classes));
    }
    const clash = taken.length ? `. Clashes with ${taken.slice(0, 3).join(", ")}` : "";
    line.classList.toggle("drag-clash", taken.length > 0);
    line.textContent = `${times.words(handle, at)}${clash}. ${how}`;
    return row;
  };

  // What is held stays under the finger, whatever unfolds above it.
  const unfold = (handle, wide) => {
    if (!onlyDays || page.classList.contains("unfolded") === wide) return;
    const top = handle.getBoundingClientRect().top;
    page.classList.toggle("unfolded", wide);
    const moved = handle.getBoundingClientRect().top - top;
    if (!moved) return;
    window.scrollBy({ top: moved, behavior: "instant" });
    if (!wide) handle.scrollIntoView({ block: "nearest" });
  };

  const leave = (handle) => {
    shifts.delete(handle);
    clear();
    unfold(handle, false);
    line.textContent = LEFT;
    window.setTimeout(() => {
      if (line.textContent === LEFT) line.textContent = "";
    }, 4000);
  };

  const open = (handle) => {
    const shift = shiftOf(handle);
    if (!times.moved(handle, shift)) return leave(handle);
    window.location.assign(times.address(handle, times.target(handle, shift)));
  };

  // By hand.

  const rows = [...page.querySelectorAll("[data-on]")];

  const rowAt = () =>
    rows.find((row) => {
      const { top, bottom, left, right } = row.getBoundingClientRect();
      const beside = onlyDays && (held.x < left || held.x > right);
      return held.y >= top && held.y < bottom && !beside;
    });

  const aim = () => {
    const row = rowAt();
    held.outside = !row;
    if (!row) {
      clear();
      line.textContent = "Let go here to leave it where it is.";
      return;
    }
    const { first, last } = held.row.dataset;
    const minutes = onlyDays ? 0 : ((held.x - held.from.x) / held.width) * (Number(last) - Number(first));
    const snapped = Math.round(minutes / STEP) * STEP;
    shifts.set(held.handle, { days: times.daysBetween(held.row, row), minutes: snapped });
    show(held.handle, "Let go to see what it touches.");
  };

  const roll = () => {
    if (!held || !held.lifted) return;
    const over = held.y > window.innerHeight - EDGE;
    const way = held.y < EDGE ? -1 : Number(over);
    if (way) {
      window.scrollBy(0, way * 10);
      aim();
    }
    window.requestAnimationFrame(roll);
  };

  const lift = () => {
    held.lifted = true;
    document.body.classList.add("drags");
    held.handle.focus({ preventScroll: true });
    unfold(held.handle, true);
    aim();
    roll();
  };

  const drop = () => {
    window.clearTimeout(held.rest);
    document.body.classList.remove("drags");
    const was = held;
    held = null;
    return was;
  };

  const press = (handle, event) => {
    if (event.button !== 0 || held) return;
    const row = handle.closest("[data-on]");
    const wide = strip(row).find((box) => box.offsetWidth) || row;
    const at = { x: event.clientX, y: event.clientY };
    held = { handle, row, width: wide.offsetWidth, from: at, ...at, pointer: event.pointerId, lifted: false };
    if (event.pointerType === "touch") held.rest = window.setTimeout(lift, REST);
  };

  const far = (event) => Math.hypot(event.clientX - held.from.x, event.clientY - held.from.y) > SLACK;

  const ours = (event) => held && event.pointerId === held.pointer;

  document.addEventListener("pointermove", (event) => {
    if (!ours(event)) return;
    held.x = event.clientX;
    held.y = event.clientY;
    if (held.lifted) aim();
    else if (far(event)) event.pointerType === "touch" ? drop() : lift();
  });

  document.addEventListener("pointerup", (event) => {
    if (!ours(event)) return;
    const was = drop();
    if (!was.lifted) return;
    // The click that follows would open the bare form.
    const stop = (click) => { click.preventDefault(); click.stopPropagation(); };
    document.addEventListener("click", stop, { capture: true, once: true });
    window.setTimeout(() => document.removeEventListener("click", stop, { capture: true }), 0);
    was.outside ? leave(was.handle) : open(was.handle);
  });

  document.addEventListener("pointercancel", (event) => {
    if (!ours(event)) return;
    const was = drop();
    if (was.lifted) leave(was.handle);
  });

  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || !held) return;
    event.preventDefault();
    const was = drop();
    leave(was.handle);
  });

  document.addEventListener("contextmenu", (event) => {
    if (held && held.lifted) event.preventDefault();
  });

  const grab = (element, handle) => {
    element.addEventListener("pointerdown", (event) => press(handle, event));
    element.addEventListener("dragstart", (event) => event.preventDefault());
    element.addEventListener("touchmove", (event) => {
      if (held && held.lifted) event.preventDefault();
    }, { passive: false });
  };

  // By key.

  const narrow = window.matchMedia("(max-width: 45rem)"); // days below each other

  const stepsNow = () => {
    if (!onlyDays) return { ArrowLeft: [0, -STEP], ArrowRight: [0, STEP], ArrowUp: [-1, 0], ArrowDown: [1, 0] };
    const row = narrow.matches ? 1 : 7;
    return { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [-row, 0], ArrowDown: [row, 0] };
  };

  const key = (handle, event) => {
    const shift = shiftOf(handle);
    if (event.ctrlKey || event.altKey || event.metaKey || held) return;
    if (event.key === "Escape" && shifts.has(handle)) leave(handle);
    if (event.key === "Enter" && times.moved(handle, shift)) {
      event.preventDefault();
      open(handle);
    }
    const step = stepsNow()[event.key];
    if (!step) return;
    event.preventDefault();
    unfold(handle, true);
    shifts.set(handle, { days: shift.days + step[0], minutes: shift.minutes + step[1] });
    const row = show(handle, "Enter shows what it touches.");
    if (row) row.scrollIntoView({ block: "nearest" });
  };

  const wake = (handle) => {
    const row = handle.closest("[data-on]");
    const home = times.reading(handle.dataset.at);
    grab(onlyDays ? handle.closest("[data-keeps]") : handle, handle);
    handle.addEventListener("keydown", (event) => key(handle, event));
    handle.addEventListener("blur", () => { if (shifts.has(handle) && !held) leave(handle); });
    if (onlyDays) return;
    strip(row).forEach((box) => {
      grab(lay(row, box, home, Number(handle.dataset.minutes), "drag-block"), handle);
    });
  };

  handles.forEach(wake);
  const how = document.querySelector("[data-drag-how]");
  if (how) how.hidden = handles.length === 0;
  window.addEventListener("pageshow", () => {
    clear();
    page.classList.remove("unfolded");
  });
})();
