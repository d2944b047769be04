import { Offline, type Precache } from './offline.ts';

/** Filled in by the build, see precache-plugin. */
declare const __PRECACHE__: Precache;

interface WaitingEvent extends Event {
  waitUntil(promise: Promise<unknown>): void;
}

interface RequestEvent extends Event {
  readonly request: Request;
  respondWith(response: Promise<Response>): void;
}

/** What a service worker has beside the rest of its kind; the page's types do not know it. */
const worker = globalThis as unknown as EventTarget & {
  readonly registration: { readonly scope: string };
  readonly clients: { claim(): Promise<void> };
};

const offline = new Offline(__PRECACHE__, {
  caches,
  fetch: (request) => fetch(request),
  scope: worker.registration.scope,
});

worker.addEventListener('install', (event) => {
  (event as WaitingEvent).waitUntil(offline.install());
});
worker.addEventListener('activate', (event) => {
  // The page of the first visit is taken care of at once; there is no older version that it could mix with.
  (event as WaitingEvent).waitUntil(offline.activate().then(() => worker.clients.claim()));
});
worker.addEventListener('fetch', (event) => {
  const { request } = event as RequestEvent;
  const answer = offline.respond(request);
  if (answer) (event as RequestEvent).respondWith(answer);
});
