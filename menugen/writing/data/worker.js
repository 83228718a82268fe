// The saved copy of one published menu, kept on a guest's phone for when the network is gone.
// Pages come from the network while it answers in time; files named by their content come from the copy.
"use strict";

const VERSION = "@VERSION@";
const MARK = @MARK@;
const PAGES = @PAGES@;
const FIXED = @FIXED@;
const PHOTOS = @PHOTOS@;

// How long a page may take before the copy is shown. Our own choice: long enough for one small file over a poor
// connection, since an old list of allergens is worse than a slow page.
const PATIENCE_MS = 4000;

// All the menus of one host share their caches, so the name says whose it is: only this menu's are ever dropped.
const OURS = `menugen ${registration.scope} `;
const CACHE = OURS + VERSION;

const addressOf = (path) => new URL(path, registration.scope).href;
const pages = new Set(PAGES.map(addressOf));
const fixed = new Set(FIXED.map(addressOf));
const photos = new Set(PHOTOS.map(addressOf));

self.addEventListener("install", (event) => {
  skipWaiting();
  event.waitUntil(save());
});

self.addEventListener("activate", (event) => {
  event.waitUntil(dropOthers().then(() => clients.claim()));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET") return;
  const address = plain(request.url);
  const page = request.mode === "navigate" ? pageAt(address) : undefined;
  if (page) event.respondWith(newest(request, page));
  else if (fixed.has(address)) event.respondWith(copyFirst(request, address, false));
  else if (photos.has(address)) event.respondWith(copyFirst(request, address, true));
});

// All files or none: where one cannot be had, the whole attempt fails and the copy before it stays. So it does where
// a page is still, or already, of another menu: the host is halfway through an upload.
async function save() {
  const cache = await caches.open(CACHE);
  try {
    await Promise.all([...pages, ...fixed].map(async (address) => {
      const answer = await fetch(address, { cache: "no-cache" });
      if (!answer.ok) throw new Error(`${address} answered ${answer.status}`);
      if (pages.has(address) && !(await answer.clone().text()).includes(MARK)) {
        throw new Error(`${address} is not of ${MARK}`);
      }
      await cache.put(address, answer);
    }));
  } catch (fault) {
    await caches.delete(CACHE);
    throw fault;
  }
}

async function dropOthers() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(OURS) && name !== CACHE).map((name) => caches.delete(name)));
}

async function newest(request, page) {
  const network = fetch(request, { cache: "no-cache" });
  network.catch(() => {});
  const copy = await (await caches.open(CACHE)).match(page);
  if (!copy) return network;
  let timer;
  const late = new Promise((_, refuse) => { timer = setTimeout(refuse, PATIENCE_MS); });
  try {
    const answer = await Promise.race([network, late]);
    // A host that is down answers for itself; what it says of a page it no longer has is news, and is shown.
    return answer.status < 500 ? answer : owned(copy);
  } catch {
    return owned(copy);
  } finally {
    clearTimeout(timer);
  }
}

async function copyFirst(request, address, keep) {
  const cache = await caches.open(CACHE);
  const copy = await cache.match(address);
  if (copy) return copy;
  const answer = await fetch(request);
  if (keep && answer.ok) await cache.put(address, answer.clone());
  return answer;
}

// A copy owns up to being one: the sentence that says so is in every page, hidden until now. It is an answer of its
// own, as one that a host redirected may not be given for a page; the host's other headers still hold.
async function owned(copy) {
  const page = await copy.text();
  const headers = new Headers(copy.headers);
  headers.delete("Content-Encoding");
  headers.delete("Content-Length");
  return new Response(page.replace(@HIDDEN@, @SHOWN@), { headers });
}

function plain(address) {
  const url = new URL(address);
  return url.origin + url.pathname;
}

// The page a guest asks for: a folder is its index.html, and some hosts leave ".html" away.
function pageAt(address) {
  const names = address.endsWith("/") ? [`${address}index.html`] : [address, `${address}.html`];
  return names.find((name) => pages.has(name));
}
