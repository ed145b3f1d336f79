// Throws away what a phone kept of sessions: all of it where nobody is signed in, else
// what is over. Shelves are named "location <until> <page>".
(() => {
  const what = document.currentScript.dataset.forget;
  if (!what || !("caches" in window)) return;
  const isDue = (name) => {
    const [kind, until] = name.split(" ");
    return kind === "location" && (what === "all" || Date.now() > Number(until));
  };
  const forget = async () => {
    for (const name of (await caches.keys()).filter(isDue)) {
      await caches.delete(name);
      const page = name.split(" ").slice(2).join(" ");
      const worker = await navigator.serviceWorker?.getRegistration(page);
      if (worker?.scope.endsWith(page)) await worker.unregister();
    }
  };
  forget().catch(() => undefined);
})();
