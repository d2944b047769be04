const NEWER =
  'A newer version of Offcentre is here; it takes over when you have closed this page and open it again. Your work is kept.';

/**
 * Lets the page work without a network from the next visit on. Never reloads a page that is open.
 * @param tell called once with a sentence when a newer version waits
 */
export async function keepOffline(tell: (sentence: string) => void): Promise<void> {
  if (!('serviceWorker' in navigator)) return;
  try {
    const registration = await navigator.serviceWorker.register('./service-worker.js', { updateViaCache: 'none' });
    const look = (): void => {
      // Without a controller this was the first visit: nothing newer, all of it new.
      if (registration.waiting && navigator.serviceWorker.controller) tell(NEWER);
    };
    look();
    registration.addEventListener('updatefound', () => {
      registration.installing?.addEventListener('statechange', look);
    });
  } catch {
    // Where the browser refuses (a private window, a page opened as a file), everything works but offline.
  }
}
