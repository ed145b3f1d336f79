// On location: jumps between set-ups without the network, keeps taps while it is gone,
// and sends them in their order when it is back. Without this file the forms post.
(() => {
  const root = document.querySelector("[data-location]");
  if (!root) return;
  const shelf = `taps ${root.dataset.person} ${root.dataset.tick}`;
  const note = document.querySelector("[data-kept]");
  const token = root.querySelector("[name=csrfmiddlewaretoken]")?.value ?? "";
  let sending = false;

  const kept = () => {
    try {
      return JSON.parse(localStorage.getItem(shelf)) ?? [];
    } catch {
      return [];
    }
  };
  const keep = (taps) => localStorage.setItem(shelf, JSON.stringify(taps));
  const say = (words) => {
    note.textContent = words;
    note.hidden = !words;
  };

  const send = async () => {
    if (sending) return;
    sending = true;
    let refused = "";
    try {
      for (let taps = kept(); taps.length; taps = kept()) {
        const answer = await fetch(root.dataset.tick, {
          method: "POST",
          body: new URLSearchParams(taps[0]),
          headers: { "X-CSRFToken": token, "X-Kept": "1" },
          redirect: "manual",
        });
        if (answer.type === "opaqueredirect" || answer.status === 403) {
          say(`${taps.length} kept. Sign in again on this phone, then open this page.`);
          return;
        }
        if (answer.status >= 500) {
          say(`${taps.length} kept: the studio's machine cannot take them now.`);
          return;
        }
        if (answer.status !== 204) refused = await answer.text();
        keep(kept().slice(1));
      }
      say(refused ? `One tap was not taken. ${refused}` : "");
    } catch {
      say(`No network: ${kept().length} kept, to be sent.`);
    } finally {
      sending = false;
    }
  };

  const show = (number) => {
    for (const one of root.querySelectorAll("[data-set-up]")) {
      one.hidden = one.dataset.setUp !== number;
    }
    for (const jump of root.querySelectorAll("[data-jump]")) {
      if (jump.dataset.jump === number) jump.setAttribute("aria-current", "true");
      else jump.removeAttribute("aria-current");
    }
    window.scrollTo(0, 0);
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
      return;
    }
    section.dataset.isDone = isDone ? "yes" : "";
    section.querySelector("[data-done]").textContent = isDone ? ", done" : "";
    button.textContent = isDone ? "Take “done” back" : "Done, next set-up";
    button.classList.toggle("main", !isDone);
    const jump = root.querySelector(`[data-jump="${section.dataset.setUp}"]`);
    jump.lastElementChild.textContent = isDone ? "done" : jump.dataset.at;
  };

  const showNext = (section) => {
    const all = [...root.querySelectorAll("[data-set-up]")];
    const from = all.indexOf(section);
    const order = [...all.slice(from + 1), ...all.slice(0, from)];
    const next = order.find((one) => !one.dataset.isDone);
    if (next) show(next.dataset.setUp);
  };

  root.addEventListener("submit", (event) => {
    const form = event.target;
    if (form.getAttribute("action") !== root.dataset.tick) return;
    event.preventDefault();
    const tap = { key: form.elements.key.value, tapped_at: new Date().toISOString() };
    const isDone = Boolean(form.querySelector("[name=is_done]"));
    if (isDone) tap.is_done = "on";
    keep([...kept(), tap]);
    mark(form, isDone);
    const section = form.closest("[data-set-up]");
    if (section && isDone) showNext(section);
    send();
  });

  root.addEventListener("click", (event) => {
    const jump = event.target.closest("[data-jump]");
    if (!jump) return;
    event.preventDefault();
    show(jump.dataset.jump);
  });

  const count = document.querySelector("[data-latest]");
  const tellTheTime = () => {
    if (!count) return;
    const minutes = (at) => Math.floor((new Date(at) - Date.now()) / 60000);
    const first = minutes(count.dataset.earliest);
    const last = minutes(count.dataset.latest);
    if (last < 0) count.textContent = "now gone";
    else count.textContent = first < last ? `${Math.max(first, 0)}–${last} min` : `${last} min`;
  };

  for (const tap of kept()) {
    const form = [...root.querySelectorAll("form")].find(
      (one) => one.elements.key?.value === tap.key,
    );
    if (form) mark(form, Boolean(tap.is_done));
  }

  window.addEventListener("online", send);
  setInterval(() => {
    tellTheTime();
    if (kept().length) send();
  }, 20000);
  send();
})();
