// Keeps one session's page, and the files that it needs, for when the network is gone.
// It sees nothing else: its scope is the page's own address. Cache-Control: no-store on
// the page forbids the browser's own keeping; this is the one copy that is kept on
// purpose, until the session is over or somebody signs out.
const PAGE = "{{ page|escapejs }}";
const FILES = "{{ static_files|escapejs }}";
const UNTIL = {{ until_ms|stringformat:"d" }};
const SHELF = `location ${UNTIL} ${PAGE}`;
const PATIENCE_MS = 4000;

const isOver = () => Date.now() > UNTIL;

const forget = async (keepThis) => {
  for (const name of await caches.keys()) {
    const isOurs = name.startsWith("location ") && name.endsWith(` ${PAGE}`);
    if (isOurs && !(keepThis && name === SHELF)) await caches.delete(name);
  }
};

const leave = async () => {
  await forget(false);
  await self.registration.unregister();
};

// The copy says of when it is: whoever opens it must not set a clock by it.
const keepPage = async (answer) => {
  const words = (await answer.text()).replace(" data-now=", " data-kept-at=");
  const headers = new Headers(answer.headers);
  headers.delete("Content-Encoding");
  headers.delete("Content-Length");
  const shelf = await caches.open(SHELF);
  await shelf.put(PAGE, new Response(words, { headers }));
};

const isPage = (answer) => answer.status === 200 && !answer.redirected;

const isRefused = (answer) =>
  answer.type === "opaqueredirect" || answer.redirected || [401, 403, 404].includes(answer.status);

const keptPage = async () => (await caches.open(SHELF)).match(PAGE);

const freshPage = async (event) => {
  const answer = await fetch(event.request);
  const isWhole = !new URL(event.request.url).search;
  if (isPage(answer) && isWhole) event.waitUntil(keepPage(answer.clone()));
  else if (isRefused(answer)) event.waitUntil(leave());
  return answer;
};

const page = async (event) => {
  if (isOver()) {
    await leave();
    return fetch(event.request);
  }
  const fresh = freshPage(event);
  event.waitUntil(fresh.catch(() => undefined));
  const late = new Promise((done) => setTimeout(done, PATIENCE_MS));
  const answer = await Promise.race([fresh, late]).catch(() => undefined);
  if (answer && answer.status < 500) return answer;
  return (await keptPage()) ?? fresh;
};

const file = async (request) => {
  const shelf = await caches.open(SHELF);
  try {
    const answer = await fetch(request);
    if (answer.status === 200) await shelf.put(request, answer.clone());
    return answer;
  } catch {
    return (await shelf.match(request)) ?? Response.error();
  }
};

const isFile = (url) => url.origin === self.location.origin && url.pathname.startsWith(FILES);

self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("activate", (event) => {
  event.waitUntil(forget(true).then(() => self.clients.claim()));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (request.mode === "navigate") {
    if (url.pathname === PAGE) event.respondWith(page(event));
  } else if (isFile(url) && !isOver()) {
    event.respondWith(file(request));
  }
});

// The first visit came before this script did: the page says what it was made of, and
// later when what it sent has made the copy stale.
self.addEventListener("message", (event) => {
  if (isOver()) {
    event.waitUntil(leave());
    return;
  }
  const files = (event.data.files ?? []).filter((one) => isFile(new URL(one)));
  const keep = async () => {
    const shelf = await caches.open(SHELF);
    await shelf.addAll(files);
    if (event.data.isStale || !(await shelf.match(PAGE))) {
      const answer = await fetch(PAGE, { redirect: "manual" });
      if (isPage(answer)) await keepPage(answer);
    }
    event.source?.postMessage({ isKept: true });
  };
  event.waitUntil(keep().catch(() => undefined));
});
