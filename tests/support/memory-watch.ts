import type { CDPSession, Page } from 'playwright';

/** What a page holds after everything that can be collected has been, in bytes and counts. */
export interface Held {
  readonly heap: number;
  /** Array buffers of the page. */
  readonly buffers: number;
  /** Heap and buffers, WebAssembly memories among them, of each worker. */
  readonly workers: readonly { readonly heap: number; readonly buffers: number }[];
  readonly listeners: number;
  readonly nodes: number;
}

interface Usage {
  readonly usedSize: number;
  readonly backingStorageSize?: number;
}

type Reply = (result: unknown) => void;

/** Asks the browser itself, through its debugger, what a page and its workers hold. */
export class MemoryWatch {
  readonly #debug: CDPSession;
  readonly #workers = new Set<string>();
  readonly #waiting = new Map<number, Reply>();
  #next = 1;

  private constructor(debug: CDPSession) {
    this.#debug = debug;
    debug.on('Target.attachedToTarget', ({ sessionId, targetInfo }) => {
      if (targetInfo.type === 'worker') this.#workers.add(sessionId);
    });
    debug.on('Target.detachedFromTarget', ({ sessionId }) => this.#workers.delete(sessionId));
    debug.on('Target.receivedMessageFromTarget', ({ message }) => {
      const { id, result } = JSON.parse(message) as { id?: number; result?: unknown };
      if (id === undefined) return;
      this.#waiting.get(id)?.(result);
      this.#waiting.delete(id);
    });
  }

  static async of(page: Page): Promise<MemoryWatch> {
    const debug = await page.context().newCDPSession(page);
    const watch = new MemoryWatch(debug);
    await debug.send('Performance.enable');
    await debug.send('Target.setAutoAttach', { autoAttach: true, waitForDebuggerOnStart: false, flatten: false });
    return watch;
  }

  async #ask<T>(sessionId: string, method: string): Promise<T> {
    const id = this.#next++;
    const reply = new Promise<T>((resolve) => this.#waiting.set(id, resolve as Reply));
    await this.#debug.send('Target.sendMessageToTarget', { sessionId, message: JSON.stringify({ id, method }) });
    return reply;
  }

  async held(): Promise<Held> {
    // Twice: what a finaliser lets go of is collected the second time.
    for (let i = 0; i < 2; i++) await this.#debug.send('HeapProfiler.collectGarbage');
    const workers = [];
    for (const session of this.#workers) {
      for (let i = 0; i < 2; i++) await this.#ask(session, 'HeapProfiler.collectGarbage');
      const { usedSize, backingStorageSize = 0 } = await this.#ask<Usage>(session, 'Runtime.getHeapUsage');
      workers.push({ heap: usedSize, buffers: backingStorageSize });
    }
    const { usedSize, backingStorageSize = 0 } = (await this.#debug.send('Runtime.getHeapUsage')) as Usage;
    const { metrics } = await this.#debug.send('Performance.getMetrics');
    const metric = (name: string): number => metrics.find((entry) => entry.name === name)?.value ?? Number.NaN;
    return {
      heap: usedSize,
      buffers: backingStorageSize,
      workers,
      listeners: metric('JSEventListeners'),
      nodes: metric('Nodes'),
    };
  }
}
