/**
 * Why something was stopped, one for all: a reason made on the spot holds, in its stack, whoever stopped it and so a whole station,
 * for as long as the signal is held.
 */
export const STOPPED = new DOMException('stopped', 'AbortError');

/** Keeps one request of a kind alive: starting the next one aborts the one before. */
export class LatestWins {
  #current: AbortController | null = null;
  /** A signal for the new request, also aborted by the caller's own. */
  next(signal?: AbortSignal): AbortSignal {
    this.#current?.abort(STOPPED);
    const controller = new AbortController();
    this.#current = controller;
    if (signal?.aborted) controller.abort(STOPPED);
    signal?.addEventListener('abort', () => controller.abort(STOPPED), { once: true });
    return controller.signal;
  }
}
