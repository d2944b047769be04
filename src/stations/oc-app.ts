import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import type { Session } from '../state/session.ts';
import { splitFragment } from '../state/share-link.ts';
import { appMessages } from './app-messages.ts';
import { appStyle } from './app-style.ts';
import { CAUTIONS, LEFT_OUT } from './cautions.ts';
import { saveDesign } from './kept-notices.ts';
import { label } from './labels.ts';
import './oc-design-menu.ts';
import type { DesignMenu } from './oc-design-menu.ts';
import { SHORTCUTS } from './shortcuts.ts';
import { StationElement } from './station-element.ts';
import { STATIONS, type Station, stationLabel, stationOf } from './stations.ts';

/** The page: its head, the station named by the location's fragment, and what must always be said. */
@customElement('oc-app')
export class App extends StationElement {
  static override readonly styles = appStyle;

  @state() private _station: Station = stationOf('');
  @state() private _ready: readonly string[] = [];
  @state() private _dropping = false;
  @state() private _welcomed = false;
  @state() private _fileFaults: readonly string[] = [];
  @query('oc-design-menu') private _menu!: DesignMenu;

  protected watched(session: Session): readonly ReadonlySignal<unknown>[] {
    const { store, answers, notice, autosave } = session;
    return [
      autosave.state,
      autosave.rival,
      autosave.apart.found,
      store.undoCount,
      store.faults,
      answers.busy,
      answers.progress,
      answers.stopped,
      answers.failure,
      notice,
    ];
  }

  override connectedCallback(): void {
    super.connectedCallback();
    // Inside another page (`?embed`) only the station shows: a lesson, for one.
    this.toggleAttribute('embedded', new URLSearchParams(location.search).has('embed'));
    window.addEventListener('hashchange', this.#onHash);
    window.addEventListener('keydown', this.#onKey);
    window.addEventListener('dragover', this.#onDragOver);
    window.addEventListener('dragleave', this.#onDragLeave);
    window.addEventListener('drop', this.#onDrop);
    this.#show();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('hashchange', this.#onHash);
    window.removeEventListener('keydown', this.#onKey);
    window.removeEventListener('dragover', this.#onDragOver);
    window.removeEventListener('dragleave', this.#onDragLeave);
    window.removeEventListener('drop', this.#onDrop);
  }

  #show(): void {
    const { station, packed } = splitFragment(location.hash);
    this._station = stationOf(station);
    if (packed !== null) history.replaceState(null, '', `#${this._station.id}`);
    this.setAttribute('page', this._station.id);
    document.title = `${stationLabel(this._station)} · Offcentre`;
    void this.#load(this._station);
  }

  /** Stations and their figures arrive when they are first looked at. */
  async #load(station: Station): Promise<void> {
    try {
      await station.load?.();
    } catch {
      const { notice } = this.session ?? {};
      if (notice)
        notice.value =
          'This part of the page could not be fetched; look at the connection, then load the page anew: your work is kept.';
      return;
    }
    if (!this._ready.includes(station.id)) this._ready = [...this._ready, station.id];
  }

  readonly #onHash = (): void => {
    const { packed } = splitFragment(location.hash);
    if (packed !== null) void this.session?.openShared(location.hash);
    this.#show();
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    const shortcut = SHORTCUTS.find((entry) => entry.matches(event));
    const session = this.session;
    if (!shortcut || !session) return;
    // In a field Ctrl Z belongs to what is being typed there.
    const [at] = event.composedPath();
    const inField = at instanceof HTMLTextAreaElement || (at instanceof HTMLInputElement && at.type === 'text');
    if (inField && (shortcut.id === 'undo' || shortcut.id === 'redo')) return;
    event.preventDefault();
    if (shortcut.id === 'undo') session.store.undo();
    else if (shortcut.id === 'redo') session.store.redo();
    else if (shortcut.id === 'save') void this.#save(session, at instanceof HTMLInputElement ? at : null);
    else if (shortcut.id === 'open') this._menu.chooseFile();
    else this._menu.showKeys();
  };

  /** Saves the design as a file. @param typing the field that has the focus: what stands in it belongs to the design */
  async #save({ store, notice }: Session, typing: HTMLInputElement | null): Promise<void> {
    if (typing !== null) {
      typing.dispatchEvent(new Event('change', { bubbles: true }));
      // A number is read by what came when the field got the focus.
      await import('../units/parse.ts').catch(() => undefined);
      await new Promise((done) => setTimeout(done));
    }
    saveDesign(store.document.value);
    const resolution = store.resolution.value;
    const texts = Object.values(store.snapshot.value.drafts).map(({ text }) => `“${text}”`);
    if (!resolution.ok)
      notice.value = `The design was saved as it is; the file opens again once this is mended: ${resolution.faults
        .slice(0, 5)
        .map(({ path }) => path)
        .join(', ')}.`;
    else if (texts.length > 0)
      notice.value = `The design was saved without what could not be read: ${texts.slice(0, 5).join(', ')}.`;
  }

  readonly #onDragOver = (event: DragEvent): void => {
    // Somebody below wants the file for himself.
    const taken = event.defaultPrevented;
    if (!event.dataTransfer?.types.includes('Files')) return;
    event.preventDefault();
    this._dropping = !taken;
  };

  readonly #onDragLeave = (event: DragEvent): void => {
    if (event.relatedTarget === null) this._dropping = false;
  };

  readonly #onDrop = (event: DragEvent): void => {
    this._dropping = false;
    const files = [...(event.dataTransfer?.files ?? [])];
    if (files.length === 0 || event.defaultPrevented) return;
    event.preventDefault();
    const file = files.find(({ name }) => /\.json$/i.test(name)) ?? (files[0] as File);
    void this.#open(
      file,
      files.filter((other) => other !== file),
    );
  };

  async #open(file: File, others: readonly File[] = []): Promise<void> {
    await this.#read(file);
    if (others.length === 0) return;
    const names = others
      .slice(0, 5)
      .map(({ name }) => name)
      .join(', ');
    const rest = others.length > 5 ? ` and ${others.length - 5} more` : '';
    const one = this._fileFaults.length === 0 ? `Only ${file.name} was opened: it` : 'It';
    this._fileFaults = [...this._fileFaults, `${one} is one design at a time. Left alone: ${names}${rest}.`];
  }

  async #read(file: File): Promise<void> {
    // What reads a file comes when there is one to read.
    const reader = await import('../state/design-file.ts').catch(() => null);
    if (reader === null) {
      this._fileFaults = [
        `${file.name} was not opened: what reads a file could not be fetched. Look at the connection.`,
      ];
      return;
    }
    const opened = await reader.openFile(file);
    if (opened.ok) {
      this._fileFaults = [];
      this.session?.store.take({ document: opened.document, drafts: {} }, `Open ${file.name}`);
    } else {
      const lines = /\.(csv|tsv)$/i.test(file.name)
        ? ['It is a table: Prove takes tables of readings, Hold tables of placements.']
        : opened.lines;
      this._fileFaults = [`${file.name} was not opened:`, ...lines];
    }
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    return html`
      <header>
        <button class="skip" @click=${this.#skip}>To the figures</button>
        <a class="name" href="#place" aria-label="Offcentre"><span>Off</span><span class="shifted">centre</span></a>
        <nav aria-label="Stations">
          ${STATIONS.map(
            (station) =>
              html`<a href="#${station.id}" aria-current=${station === this._station ? 'page' : 'false'}
                >${stationLabel(station)}</a
              >`,
          )}
        </nav>
        <oc-design-menu
          .session=${session}
          .station=${this._station.id}
          @file-chosen=${(event: CustomEvent<File>) => void this.#open(event.detail)}
          @save-wanted=${() => void this.#save(session, null)}
        ></oc-design-menu>
      </header>
      ${this.#messages(session)}
      <main id="main" tabindex="-1">${this.#body(session)}</main>
      ${this.#footer()} ${this._dropping ? html`<div class="drop"><p>Drop the design file to open it</p></div>` : nothing}
    `;
  }

  readonly #skip = (): void => {
    this.renderRoot.querySelector<HTMLElement>('main')?.focus();
  };

  #body(session: Session): TemplateResult {
    const station = this._station;
    if (!this._ready.includes(station.id)) return html`<section class="to-come arriving"></section>`;
    return station.body(session);
  }

  #messages(session: Session): TemplateResult {
    return appMessages(session, {
      // Inside another page nobody has come to this one.
      welcome: !this._welcomed && this._station.id !== 'report' && !this.hasAttribute('embedded'),
      fileFaults: this._fileFaults,
      putAway: (what) => {
        if (what === 'welcome') this._welcomed = true;
        else this._fileFaults = [];
      },
    });
  }

  #footer(): TemplateResult {
    return html`<footer>
      <section>
        <h2>${label('cautions')}</h2>
        <ul>
          ${CAUTIONS.map((text) => html`<li>${text}</li>`)}
        </ul>
      </section>
      <section>
        <h2>${label('leavesOut')}</h2>
        <ul>
          ${LEFT_OUT.map((text) => html`<li>${text}</li>`)}
        </ul>
      </section>
    </footer>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-app': App;
  }
}
