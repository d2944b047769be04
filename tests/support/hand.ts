import type { Page } from 'playwright';

/** Where something on the page is, px. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** What the page is asked to look for; each is found through every shadow root of the station on show. */
export type Target = 'slider' | 'field' | 'handle' | 'layers' | 'addLayer' | 'takeLayerOut';

const SELECTORS: Readonly<Record<Target, string>> = {
  slider: '[role="slider"], input[type="range"]',
  field: 'oc-dimension, oc-unit-field',
  handle: '.handle:not(.reading)',
  layers: 'details.layers:not([open]) > summary',
  addLayer: 'details.layers[open] > button',
  takeLayerOut: 'details.layers[open] td button',
};

interface AppHandle extends HTMLElement {
  readonly session: {
    readonly answers: { readonly failure: { readonly value: string | null } };
    readonly store: {
      readonly document: { readonly value: unknown };
      readonly snapshot: { readonly value: unknown; subscribe(heard: () => void): () => void };
      readonly undoLabel: { readonly value: string | null };
      readonly undoCount: { peek(): number };
      undo(): void;
    };
  };
}

interface Watch {
  /** A digest of the state after so many undo steps. */
  states: number[];
  changes: number;
  stop: () => void;
}

type Watched = Window & { watch?: Watch; stations?: WeakRef<HTMLElement>[] };

/**
 * A hand on the built page, made for many thousand edits: what is to be touched is found in one question, and all that
 * touches it goes through the browser's own input.
 */
export class Hand {
  readonly #page: Page;

  constructor(page: Page) {
    this.#page = page;
  }

  /**
   * Brings one of the targets into view, gives it the focus where it takes one, and says where it is; null where the
   * station has none.
   * @param part 0 to 1: which of them
   */
  find(target: Target, part: number): Promise<Spot | null> {
    return this.#page.evaluate(
      ({ selector, part, focus }) => {
        const found: HTMLElement[] = [];
        const walk = (root: ParentNode): void => {
          for (const element of root.querySelectorAll<HTMLElement>('*')) {
            if (element.matches(selector) && element.checkVisibility()) found.push(element);
            if (element.shadowRoot) walk(element.shadowRoot);
          }
        };
        const main = document.querySelector('oc-app')?.shadowRoot?.querySelector('main');
        if (main) walk(main);
        const one = found[Math.floor(part * found.length)];
        if (!one) return null;
        one.scrollIntoView({ block: 'center', behavior: 'instant' });
        if (focus) one.focus({ preventScroll: true });
        const { left, top, width, height } = one.getBoundingClientRect();
        return { x: left + width / 2, y: top + height / 2 };
      },
      { selector: SELECTORS[target], part, focus: target === 'slider' || target === 'field' },
    );
  }

  /** Turns to a station and waits for two frames. */
  show(hash: string): Promise<void> {
    return this.#page.evaluate(async (to) => {
      location.hash = to;
      for (let i = 0; i < 2; i++) await new Promise((resolve) => requestAnimationFrame(resolve));
    }, hash);
  }

  documentText(): Promise<string> {
    return this.#page.evaluate(() =>
      JSON.stringify(document.querySelector<AppHandle>('oc-app' as never)?.session.store.document.value),
    );
  }

  /** From now on the page notes what stood on the table after every change. */
  watch(): Promise<void> {
    return this.#page.evaluate(() => {
      const { store } = document.querySelector<AppHandle>('oc-app' as never)!.session;
      const watch: Watch = { states: [], changes: -1, stop: () => undefined };
      // FNV-1a, 32 bit, over what is kept: numbers only, so that the notes themselves hardly weigh.
      const digest = (): number => {
        let hash = 0x811c9dc5;
        for (const char of JSON.stringify(store.snapshot.value)) {
          hash = Math.imul(hash ^ (char.codePointAt(0) ?? 0), 0x01000193);
        }
        return hash >>> 0;
      };
      watch.stop = store.snapshot.subscribe(() => {
        watch.changes++;
        watch.states[store.undoCount.peek()] = digest();
      });
      (window as Watched).watch = watch;
    });
  }

  /** From now on every station that is shown is remembered, without being held. */
  watchStations(): Promise<void> {
    return this.#page.evaluate(() => {
      const shown: WeakRef<HTMLElement>[] = [];
      (window as Watched).stations = shown;
      const main = document.querySelector('oc-app')?.shadowRoot?.querySelector('main');
      if (!main) throw new Error('no stations');
      new MutationObserver((records) => {
        for (const { addedNodes } of records)
          for (const node of addedNodes) if (node instanceof HTMLElement) shown.push(new WeakRef(node));
      }).observe(main, { childList: true });
    });
  }

  /** Of the stations that were left, those that memory still holds; to be asked after a collection. */
  stationsHeld(): Promise<{ readonly shown: number; readonly held: readonly string[] }> {
    return this.#page.evaluate(() => {
      const { stations = [] } = window as Watched;
      const held = stations.flatMap((station) => {
        const element = station.deref();
        return element && !element.isConnected ? [element.localName] : [];
      });
      return { shown: stations.length, held };
    });
  }

  /** Whether one step back stays this side of the design the link brought. */
  mayUndo(): Promise<boolean> {
    return this.#page.evaluate(
      () => document.querySelector<AppHandle>('oc-app' as never)?.session.store.undoLabel.value !== 'Open the link',
    );
  }

  /** Undoes step by step to the design of the link. Returns the labels of the steps that led to another state than the one noted. */
  walkBack(): Promise<{ readonly changes: number; readonly steps: number; readonly astray: readonly string[] }> {
    return this.#page.evaluate(() => {
      const { store } = document.querySelector<AppHandle>('oc-app' as never)!.session;
      const { watch } = window as Watched;
      if (!watch) throw new Error('nothing was watched');
      const noted = [...watch.states];
      const { changes } = watch;
      let steps = 0;
      const astray: string[] = [];
      while (store.undoLabel.value !== null && store.undoLabel.value !== 'Open the link') {
        const label = store.undoLabel.value;
        store.undo();
        steps++;
        const at = store.undoCount.peek();
        // The notes of a step back are written over those of the way there.
        if (watch.states[at] !== noted[at]) astray.push(label);
      }
      watch.stop();
      delete (window as Watched).watch;
      return { changes, steps, astray };
    });
  }

  failure(): Promise<string | null> {
    return this.#page.evaluate(
      () => document.querySelector<AppHandle>('oc-app' as never)?.session.answers.failure.value ?? null,
    );
  }
}
