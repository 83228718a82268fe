// The way out. Put in the place of worker.js on the host, this takes every saved copy of this menu off the phones
// that come by, and itself after them. The pages then always come from the network.
"use strict";

self.addEventListener("install", () => skipWaiting());

self.addEventListener("activate", (event) => {
  event.waitUntil(leave());
});

async function leave() {
  const ours = `menugen ${registration.scope} `;
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(ours)).map((name) => caches.delete(name)));
  await registration.unregister();
}
