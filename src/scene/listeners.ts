/** Who hears what: sets of functions by the name of the event. */
export class Listeners<Events extends object> {
  readonly #sets = new Map<keyof Events, Set<(detail: never) => void>>();

  /** @returns a function that removes the listener */
  on<K extends keyof Events>(name: K, listener: (detail: Events[K]) => void): () => void {
    const set = this.#sets.get(name) ?? new Set();
    this.#sets.set(name, set.add(listener));
    return () => {
      set.delete(listener);
    };
  }

  tell<K extends keyof Events>(name: K, detail: Events[K]): void {
    for (const listener of this.#sets.get(name) ?? []) (listener as (detail: Events[K]) => void)(detail);
  }

  clear(): void {
    this.#sets.clear();
  }
}
