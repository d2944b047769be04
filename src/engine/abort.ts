/** Keeps one request of a kind alive: starting the next one aborts the one before. */
export class LatestWins {
  #current: AbortController | null = null;
  /** A signal for the new request, also aborted by the caller's own. */
  next(signal?: AbortSignal): AbortSignal {
    this.#current?.abort();
    const controller = new AbortController();
    this.#current = controller;
    if (signal?.aborted) controller.abort();
    signal?.addEventListener('abort', () => controller.abort(), { once: true });
    return controller.signal;
  }
}
