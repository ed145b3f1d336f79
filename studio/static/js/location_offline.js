// Lets the phone keep this one page for when it is opened again without the network.
(() => {
  const root = document.querySelector("[data-location]");
  const workers = navigator.serviceWorker;
  if (!root || !workers) return;
  const keep = async () => {
    await workers.register(root.dataset.worker);
    const { active } = await workers.ready;
    const files = performance.getEntriesByType("resource").map((one) => one.name);
    active.postMessage({ files });
  };
  // What was sent is in the page by now, and belongs into the copy.
  root.addEventListener("sent", () => workers.controller?.postMessage({ files: [], isStale: true }));
  workers.addEventListener("message", (event) => {
    if (event.data.isKept) root.dataset.isKept = "yes";
  });
  if (Date.now() < new Date(root.dataset.until)) keep().catch(() => undefined);
})();
