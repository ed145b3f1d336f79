// On location: keeps what is tapped and written on the phone, and sends it in its order
// when the network is back. What the studio's machine refuses stays, with the reason.
(() => {
  const root = document.querySelector("[data-location]");
  if (!root) return;
  const shelf = `kept ${root.dataset.person} ${root.dataset.tick}`;
  const refusedShelf = `refused ${root.dataset.person} ${root.dataset.tick}`;
  const box = document.querySelector("[data-kept]");
  const token = root.querySelector("[name=csrfmiddlewaretoken]")?.value ?? "";
  let sending = false;
  let said = "";
  let learnt = "";
  let isMoved = false;

  const read = (name) => {
    try {
      return JSON.parse(localStorage.getItem(name)) ?? [];
    } catch {
      return [];
    }
  };
  const write = (name, items) => localStorage.setItem(name, JSON.stringify(items));
  root.keptItems = () => read(shelf);

  const button = (words, act) => {
    const made = document.createElement("button");
    Object.assign(made, { type: "button", className: "button slim", textContent: words });
    made.addEventListener("click", act);
    return made;
  };

  const drop = (item) => {
    write(refusedShelf, read(refusedShelf).filter((one) => one.fields.client_key !== item.fields.client_key));
    draw();
  };

  const refusedRow = (item) => {
    const row = document.createElement("li");
    const words = document.createElement("p");
    words.textContent = `Not taken: ${item.words}. ${item.reason}`;
    row.append(words);
    if (item.form === "frame") {
      row.append(
        button("Mend it", () => {
          root.dispatchEvent(new CustomEvent("mend", { detail: item }));
          drop(item);
        }),
      );
    }
    row.append(button("Leave it out", () => drop(item)));
    return row;
  };

  const draw = () => {
    const refused = read(refusedShelf);
    document.querySelector("[data-kept-words]").textContent = said;
    const more = document.querySelector("[data-learnt]");
    more.hidden = !learnt;
    if (learnt) more.href = learnt;
    document.querySelector("[data-refused]").replaceChildren(...refused.map(refusedRow));
    box.hidden = !said && !refused.length;
  };
  const say = (words, leadsTo = "") => {
    said = words;
    learnt = leadsTo;
    draw();
  };

  const post = (item) =>
    fetch(item.to, {
      method: "POST",
      body: new URLSearchParams(item.fields),
      headers: { "X-CSRFToken": token, "X-Kept": "1" },
      redirect: "manual",
    });

  const waiting = (count) => `Kept on this phone, ${count} to send.`;

  // Returns whether the next may be sent; an item leaves the shelf once it is answered.
  const settle = async (item, answer, count, told) => {
    if (answer.type === "opaqueredirect" || answer.status === 403) {
      say(`${waiting(count)} Sign in again on this phone, then open this page.`);
      return false;
    }
    if (answer.status >= 500 || answer.status === 429) {
      say(`${waiting(count)} The studio’s machine cannot take it now.`);
      return false;
    }
    const isPlain = answer.headers.get("Content-Type")?.startsWith("text/plain");
    const words = isPlain ? await answer.text() : `The studio’s machine answered ${answer.status}.`;
    if (answer.status !== 200) write(refusedShelf, [...read(refusedShelf), { ...item, reason: words }]);
    write(shelf, read(shelf).slice(1));
    const isTaken = answer.status === 200;
    if (isTaken && words) told.push(words);
    say(told.join(" "), isTaken && item.form === "frame" ? item.to : learnt);
    isMoved ||= isTaken && item.form === "shift";
    return true;
  };

  const send = async () => {
    if (sending) return;
    sending = true;
    const told = [];
    learnt = "";
    try {
      for (let items = read(shelf); items.length; items = read(shelf)) {
        if (!(await settle(items[0], await post(items[0]), items.length, told))) return;
      }
      // after a shift every figure of the page is another one
      if (isMoved) window.location.reload();
      else root.dispatchEvent(new CustomEvent("sent"));
    } catch {
      say(`No network. ${waiting(read(shelf).length)}`);
    } finally {
      sending = false;
    }
  };

  root.addEventListener("keep", (event) => {
    try {
      write(shelf, [...read(shelf), event.detail]);
    } catch {
      say(`Not kept, this phone has no room: ${event.detail.words}. Note it on paper.`);
      return;
    }
    send();
  });
  root.newKey = () =>
    [...crypto.getRandomValues(new Uint8Array(16))]
      .map((byte) => byte.toString(16).padStart(2, "0"))
      .join("");

  window.addEventListener("online", send);
  setInterval(() => {
    if (read(shelf).length) send();
  }, 20000);
  draw();
  if (read(shelf).length) send();
})();
