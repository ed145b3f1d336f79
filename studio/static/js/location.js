// On location: jumps between set-ups and hands what is tapped or written to the shelf
// that sends it. Without this file the links lead and the forms post.
(() => {
  const root = document.querySelector("[data-location]");
  if (!root) return;
  const frame = root.querySelector("[data-frame]");
  const undo = root.querySelector("[data-undo]");
  const sections = [...root.querySelectorAll("[data-set-up]")];
  let last = null;

  const keep = (to, fields, words, form = "") => {
    const detail = { to, fields: { client_key: root.newKey(), ...fields }, words, form };
    root.dispatchEvent(new CustomEvent("keep", { detail }));
  };

  const show = (number) => {
    for (const one of sections) one.hidden = one.dataset.setUp !== number;
    for (const jump of root.querySelectorAll("[data-jump]")) {
      if (jump.dataset.jump === number) jump.setAttribute("aria-current", "true");
      else jump.removeAttribute("aria-current");
    }
    const section = sections.find((one) => one.dataset.setUp === number);
    if (frame) frame.elements.set_up.value = section.dataset.pk;
    section.querySelector("h1").focus({ preventScroll: true });
    window.scrollTo(0, 0);
  };

  const isPressed = (form) =>
    form.querySelector("button").getAttribute("aria-pressed") === "true";

  // Who is in a group that was photographed counts, without a tap of their own.
  const tellWho = () => {
    const groups = [...root.querySelectorAll("[data-group]")];
    const done = groups.filter(isPressed);
    const count = root.querySelector("[data-groups-done]");
    if (count) count.textContent = `${done.length} of ${groups.length}`;
    let left = 0;
    for (const form of root.querySelectorAll("[data-in]")) {
      const within = form.dataset.in.split(" ");
      const names = done
        .filter((group) => within.includes(group.elements.key.value))
        .map((group) => group.querySelector("b").textContent);
      const words = names.length ? `photographed in ${names.join(", ")}` : "";
      form.querySelector("[data-done-in]").textContent = words;
      if (!names.length && !isPressed(form)) left += 1;
    }
    const told = root.querySelector("[data-left]");
    if (told) told.textContent = left ? `${left} left` : "all done";
  };

  const mark = (form, isDone) => {
    form.querySelector("[name=is_done]")?.remove();
    if (!isDone) {
      const again = document.createElement("input");
      Object.assign(again, { type: "hidden", name: "is_done", value: "on" });
      form.append(again);
    }
    const button = form.querySelector("button");
    const section = form.closest("[data-set-up]");
    if (!section) {
      button.setAttribute("aria-pressed", String(isDone));
      tellWho();
      return;
    }
    section.dataset.isDone = isDone ? "yes" : "";
    section.querySelector("[data-done]").textContent = isDone ? ", done" : "";
    button.textContent = isDone ? "Take “done” back" : "Done, next set-up";
    button.classList.toggle("main", !isDone);
    const jump = root.querySelector(`[data-jump="${section.dataset.setUp}"]`);
    jump.lastElementChild.textContent = isDone ? "done" : jump.dataset.at;
  };

  // The next that is not done, else the next at all: round to the first again.
  const after = (section, isOpen) => {
    const from = sections.indexOf(section);
    const order = [...sections.slice(from + 1), ...sections.slice(0, from)];
    return order.find((one) => !isOpen || !one.dataset.isDone);
  };

  const offerUndo = (section, form) => {
    last = { section, form };
    const name = section.querySelector("h1").textContent;
    undo.firstElementChild.textContent = `“${name}” is done.`;
    undo.hidden = false;
    sections.find((one) => !one.hidden).querySelector(".location-do").prepend(undo);
  };

  const tap = (form) => {
    const isDone = Boolean(form.querySelector("[name=is_done]"));
    const fields = { key: form.elements.key.value, tapped_at: root.studioNow().toISOString() };
    if (isDone) fields.is_done = "on";
    const section = form.closest("[data-set-up]");
    const name = (section?.querySelector("h1") ?? form.querySelector("b")).textContent;
    mark(form, isDone);
    undo.hidden = true;
    keep(root.dataset.tick, fields, `${name}, ${isDone ? "done" : "not done"}`);
    if (!section || !isDone) return;
    const next = after(section, true);
    if (next) {
      show(next.dataset.setUp);
      offerUndo(section, form);
    }
  };

  const writeFrame = () => {
    if (!frame.reportValidity()) return;
    const fields = Object.fromEntries(new FormData(frame));
    delete fields.csrfmiddlewaretoken;
    const now = root.studioNow();
    Object.assign(fields, { client_key: root.newKey(), made_at: now.toISOString() });
    const said = `f/${fields.f_number.replace(/^f?\/?/i, "")} ${fields.shutter} ISO ${fields.iso}`;
    keep(frame.getAttribute("action"), fields, `${said}, ${fields.taken_at || root.clockWords(now)}`, "frame");
    const { set_up: setUp } = fields;
    frame.reset();
    frame.elements.set_up.value = setUp;
    frame.closest("details").open = false;
    window.scrollTo(0, 0);
  };

  const sunGone = (form) => {
    const now = root.studioNow();
    keep(form.getAttribute("action"), { made_at: now.toISOString() }, `Sun gone, ${root.clockWords(now)}`);
    window.scrollTo(0, 0);
  };

  const shift = (form) => {
    form.hidden = true;
    keep(form.getAttribute("action"), {}, form.querySelector("button").textContent, "shift");
  };

  root.addEventListener("submit", (event) => {
    const form = event.target;
    const isTap = form.getAttribute("action") === root.dataset.tick;
    const act = [
      [isTap, tap],
      [form === frame, writeFrame],
      ["sunGone" in form.dataset, sunGone],
      ["offer" in form.dataset, shift],
    ].find(([isThis]) => isThis)?.[1];
    if (!act) return;
    event.preventDefault();
    act(form);
  });

  // What was refused goes back into the form, to be mended and kept again.
  root.addEventListener("mend", (event) => {
    for (const [name, value] of Object.entries(event.detail.fields)) {
      if (frame.elements[name]) frame.elements[name].value = value;
    }
    const { taken_at: typed, made_at: made } = event.detail.fields;
    frame.elements.taken_at.value = typed || root.clockWords(new Date(made));
    frame.closest("details").open = true;
    frame.elements.f_number.focus();
  });

  root.addEventListener("click", (event) => {
    const jump = event.target.closest("[data-jump]");
    const skip = event.target.closest("[data-skip]");
    if (!jump && !skip) return;
    event.preventDefault();
    undo.hidden = true;
    if (jump) show(jump.dataset.jump);
    else show(after(skip.closest("[data-set-up]"), false).dataset.setUp);
  });

  undo.querySelector("button").addEventListener("click", () => {
    const { section, form } = last;
    tap(form);
    show(section.dataset.setUp);
  });

  for (const item of root.keptItems()) {
    const form = [...root.querySelectorAll("form")].find(
      (one) => item.fields.key && one.elements.key?.value === item.fields.key,
    );
    if (form) mark(form, Boolean(item.fields.is_done));
  }
  const shown = sections.find((one) => !one.hidden);
  if (shown?.dataset.isDone && root.keptItems().length) {
    show((after(shown, true) ?? shown).dataset.setUp);
  }
})();
