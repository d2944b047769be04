/** A small cache keyed by content: the least recently used entry goes first. */
export class Lru<T> {
  #entries = new Map<string, T>();
  readonly #limit: number;
  constructor(limit: number) {
    this.#limit = limit;
  }
  get(key: string): T | undefined {
    const value = this.#entries.get(key);
    if (value !== undefined) {
      this.#entries.delete(key);
      this.#entries.set(key, value);
    }
    return value;
  }
  set(key: string, value: T): T {
    this.#entries.delete(key);
    this.#entries.set(key, value);
    if (this.#entries.size > this.#limit) {
      const oldest = this.#entries.keys().next().value;
      if (oldest !== undefined) this.#entries.delete(oldest);
    }
    return value;
  }
  delete(key: string): void {
    this.#entries.delete(key);
  }
  /** The cached value, or `make()` kept under the key. */
  obtain(key: string, make: () => T): T {
    return this.get(key) ?? this.set(key, make());
  }
}
