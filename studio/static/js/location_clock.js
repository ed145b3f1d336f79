// On location: the time by the studio's machine, what to dial in at this minute, and how
// long the light lasts, all from what is in the page.
(() => {
  const root = document.querySelector("[data-location]");
  if (!root) return;
  const MOST_APART_MS = 120000;
  const SOON_MINUTES = 360;
  const shelf = "clock";

  // A fresh page says the machine's time; a kept one says none, and the last holds.
  const learn = () => {
    try {
      if (!root.dataset.now) return Number(localStorage.getItem(shelf)) || 0;
      const apart = new Date(root.dataset.now) - Date.now();
      localStorage.setItem(shelf, String(apart));
      return apart;
    } catch {
      return 0;
    }
  };
  const apart = learn();
  root.studioNow = () => new Date(Date.now() + apart);

  const words = new Intl.DateTimeFormat("en-GB", {
    hour: "2-digit",
    minute: "2-digit",
    timeZone: root.dataset.zone,
  });
  root.clockWords = (at) => words.format(at);

  const tellApart = () => {
    const { keptAt } = root.dataset;
    const kept = keptAt ? [`From this phone, as of ${root.clockWords(new Date(keptAt))}.`] : [];
    const minutes = Math.round(Math.abs(apart) / 60000);
    const way = apart < 0 ? "fast" : "slow";
    const wrong = `This phone’s clock is ${minutes} minutes ${way}. Times here go by the studio’s machine.`;
    if (Math.abs(apart) > MOST_APART_MS) kept.push(wrong);
    const note = document.querySelector("[data-clock-note]");
    note.textContent = kept.join(" ");
    note.hidden = !kept.length;
  };

  const tellDials = (section, now) => {
    const table = section.querySelector("[data-through]");
    if (!table) return;
    const begun = [...table.querySelectorAll("[data-from]")].filter(
      (row) => new Date(row.dataset.from) <= now,
    );
    const row = begun.at(-1);
    if (!row || now >= new Date(table.dataset.until)) return;
    section.querySelector("[data-when]").textContent = `Now ${root.clockWords(now)}`;
    for (const dial of section.querySelectorAll("[data-dial]")) {
      dial.textContent = row.dataset[dial.dataset.dial];
    }
    section.querySelector("[data-short]").hidden = !row.dataset.short;
    for (const one of begun) one.removeAttribute("aria-current");
    row.setAttribute("aria-current", "time");
  };

  const sunLeft = (sun, now) => {
    const minutes = (at) => Math.floor((new Date(at) - now) / 60000);
    const first = minutes(sun.earliest);
    const last = minutes(sun.latest);
    if (last > SOON_MINUTES) return [sun.sun, ""];
    if (last >= 0) {
      const span = first < last ? `${Math.max(first, 0)}–${last} min` : `${last} min`;
      return [`${sun.sun} in about`, span];
    }
    const dusk = sun.dusk ? minutes(sun.dusk) : -1;
    return dusk < 0 ? ["Sun gone", ""] : ["Sun gone, dusk in about", `${dusk} min`];
  };

  const tellSun = (now) => {
    const sun = document.querySelector("[data-sun]");
    if (!sun) return;
    const [where, minutes] = sunLeft(sun.dataset, now);
    sun.querySelector("[data-sun-words]").textContent = where;
    sun.querySelector("[data-sun-minutes]").textContent = minutes;
  };

  const tell = () => {
    const now = root.studioNow();
    document.querySelector("[data-clock]").textContent = root.clockWords(now);
    tellSun(now);
    for (const section of root.querySelectorAll("[data-set-up]")) tellDials(section, now);
  };

  tellApart();
  tell();
  setInterval(tell, 10000);
  document.addEventListener("visibilitychange", tell);
})();
