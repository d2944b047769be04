import { computed, type ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { guard } from 'lit/directives/guard.js';
import type { StartingPoint } from '../design/starting-points.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { shareFragment } from '../state/share-link.ts';
import { designMenuStyle } from './design-menu-style.ts';
import { label } from './labels.ts';
import { HANDLE_KEYS, SHORTCUTS } from './shortcuts.ts';
import { StationElement } from './station-element.ts';
import type { Term } from './term.ts';
import { chooseTheme, type Theme, theme } from './theme.ts';

const GROUNDS: readonly { readonly choice: Theme; readonly name: string }[] = [
  { choice: 'system', name: 'as the system' },
  { choice: 'light', name: 'light' },
  { choice: 'dark', name: 'dark' },
];

function clock(at: Date): string {
  return `${at.getHours()}:${String(at.getMinutes()).padStart(2, '0')}`;
}

/**
 * Title of the design with everything that concerns it as a whole: new, open, save, share, beside, undo.
 * @fires file-chosen - the File
 * @fires save-wanted
 */
@customElement('oc-design-menu')
export class DesignMenu extends StationElement {
  static override readonly styles = designMenuStyle;

  @property() station = 'place';
  @state() private _told = '';
  /** A link that the clipboard did not take; empty: none. */
  @state() private _link = '';
  /** Arrive when the menu is first opened. */
  @state() private _starts: readonly StartingPoint[] = [];
  /** All words, likewise. */
  @state() private _terms: readonly Term[] = [];
  @query('#menu') private _menu!: HTMLElement;
  @query('#file') private _file!: HTMLInputElement;
  @query('#keys') private _keys!: HTMLDialogElement;
  @query('#words') private _words!: HTMLDialogElement;

  protected watched({ store, autosave }: Session): readonly ReadonlySignal<unknown>[] {
    // Of the document its title only: the rest changes with every step of a drag.
    const title = computed(() => store.document.value.title);
    return [title, store.undoLabel, store.redoLabel, store.compare, autosave.state, theme];
  }

  /** Opens the browser's file picker. */
  chooseFile(): void {
    this._file.click();
  }

  showKeys(): void {
    this._menu.hidePopover();
    this._keys.showModal();
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { store, autosave } = session;
    const title = store.document.value.title ?? '';
    const saved = autosave.state.value;
    const undo = store.undoLabel.value;
    return html`
      <button class="title" popovertarget="menu" aria-haspopup="true">
        <span class="text">${title === '' ? 'Untitled' : title}</span><span class="fold" aria-hidden="true"></span>
      </button>
      <span class="state">
        <span class=${saved.kind === 'failed' ? 'bad' : ''} title=${saved.kind === 'failed' ? saved.message : ''}
          >${saved.kind === 'saved' ? `saved ${clock(saved.at)}` : saved.kind === 'failed' ? 'not saved' : ''}</span
        >
        <button class="quiet" ?disabled=${undo === null} title=${undo ?? ''} @click=${() => store.undo()}>undo</button>
      </span>
      <div id="menu" popover aria-label=${label('design')} @toggle=${this.#onToggle}>${this.#menuBody(session, title)}</div>
      <input
        id="file"
        type="file"
        accept=".json,application/json"
        hidden
        aria-label="Design file"
        @change=${this.#onFile}
      />
      ${guard([this._terms], () => this.#dialogs())}
    `;
  }

  #menuBody(session: Session, title: string): TemplateResult {
    const { store, autosave } = session;
    const saved = autosave.state.value;
    const compare = store.compare.value;
    return html`
      <label class="field">
        <span>${label('title')}</span>
        <input
          type="text"
          maxlength="200"
          .value=${title}
          @change=${(event: Event) => {
            store.run(setValue, { path: 'title', value: (event.target as HTMLInputElement).value, what: 'the title' });
          }}
        />
      </label>
      ${saved.kind === 'failed' ? html`<p class="bad">${saved.message}</p>` : nothing}
      <p class="row">
        <button class="quiet" ?disabled=${store.undoLabel.value === null} @click=${() => store.undo()}>
          Undo${store.undoLabel.value === null ? '' : `: ${store.undoLabel.value}`}
        </button>
        <button class="quiet" ?disabled=${store.redoLabel.value === null} @click=${() => store.redo()}>
          Redo${store.redoLabel.value === null ? '' : `: ${store.redoLabel.value}`}
        </button>
      </p>
      <p class="row">
        <button class="quiet" @click=${() => this.chooseFile()}>Open a file</button>
        <button class="quiet" @click=${() => this.dispatchEvent(new CustomEvent('save-wanted'))}>Save as a file</button>
        <button class="quiet" @click=${() => void this.#share(session)}>Copy a link</button>
        <a class="quiet" href="#report" @click=${() => this._menu.hidePopover()}>${label('report')}</a>
      </p>
      <p class="told" role="status">${this._told}</p>
      ${
        this._link === ''
          ? nothing
          : html`<input class="link" type="text" readonly aria-label="Link that holds the design" .value=${this._link} />`
      }
      <h2>${label('beside')}</h2>
      ${
        compare === null
          ? html`<p class="row">
              <button class="quiet" @click=${() => store.setCompare(store.document.value)}>Lay a copy beside</button>
              <a class="quiet" href="#beside" @click=${() => this._menu.hidePopover()}>${label('compare')}</a>
            </p>`
          : html`<p class="row">
              <span>${compare.title || 'Untitled'}</span>
              <a class="quiet" href="#beside" @click=${() => this._menu.hidePopover()}>${label('compare')}</a>
              <button class="quiet" @click=${() => store.swapCompare()}>Change places</button>
              <button class="quiet" @click=${() => store.setCompare(null)}>Take away</button>
            </p>`
      }
      <h2>${label('beginWith')}</h2>
      <ul class="starts">
        ${this._starts.map(
          (start) =>
            html`<li>
              <button class="quiet" @click=${() => this.#begin(session, start.document, start.name)}>${start.name}</button>
              <span>${start.description}</span>
            </li>`,
        )}
      </ul>
      <h2>${label('ground')}</h2>
      <p class="row" role="radiogroup" aria-label=${label('ground')}>
        ${GROUNDS.map(
          ({ choice, name }) =>
            html`<label class="choice"
              ><input
                type="radio"
                name="ground"
                .checked=${theme.value === choice}
                @change=${() => chooseTheme(choice)}
              />${name}</label
            >`,
        )}
      </p>
      <p class="row">
        <button class="quiet" @click=${() => this.showKeys()}>${label('keys')}</button>
        <button
          class="quiet"
          @click=${() => {
            this._menu.hidePopover();
            this._words.showModal();
          }}
        >
          ${label('glossary')}
        </button>
      </p>
    `;
  }

  #dialogs(): TemplateResult {
    const row = ({ keys, does }: { readonly keys: string; readonly does: string }): TemplateResult =>
      html`<tr>
        <th scope="row">${keys}</th>
        <td>${does}</td>
      </tr>`;
    return html`<dialog id="keys" aria-labelledby="keys-title">
        <form method="dialog">
          <h2 id="keys-title">${label('keys')}</h2>
          <table>
            <tbody>
              ${SHORTCUTS.map(row)} ${HANDLE_KEYS.map(row)}
            </tbody>
          </table>
          <button class="quiet">Close</button>
        </form>
      </dialog>
      <dialog id="words" aria-labelledby="words-title">
        <form method="dialog">
          <h2 id="words-title">${label('glossary')}</h2>
          <dl>
            ${this._terms.map(
              (term) =>
                html`<dt>${term.label}</dt>
                  <dd>
                    ${term.meaning}${term.formula ? html` <span class="formula">${term.formula}</span>` : nothing}
                    <small>${term.source}</small>
                  </dd>`,
            )}
          </dl>
          <button class="quiet">Close</button>
        </form>
      </dialog>`;
  }

  readonly #onToggle = async (): Promise<void> => {
    if (this._starts.length > 0) return;
    void import('./glossary.ts').then(
      ({ glossaryRows }) => {
        this._terms = glossaryRows();
      },
      () => undefined,
    );
    const arrived = await import('../design/starting-points.ts').catch(() => null);
    this._starts = arrived?.STARTING_POINTS ?? [];
    if (arrived === null) this._told = 'The starting points could not be fetched. Look at the connection.';
  };

  #begin(session: Session, document: StartingPoint['document'], name: string): void {
    session.store.take({ document, drafts: {} }, `Begin with ${name}`);
    this._menu.hidePopover();
  }

  async #share(session: Session): Promise<void> {
    const { store } = session;
    this._link = '';
    if (!store.resolution.value.ok) {
      this._told = 'No link was made: something in the design does not hold together, mend it first.';
      return;
    }
    const fragment = await shareFragment(store.document.value, this.station);
    const url = `${location.href.split('#')[0]}${fragment}`;
    try {
      await navigator.clipboard.writeText(url);
      this._told = 'The link is in the clipboard; it holds the whole design.';
    } catch {
      this._link = url;
      this._told = 'The clipboard was refused: copy the link from here; it holds the whole design.';
      await this.updateComplete;
      this.renderRoot.querySelector<HTMLInputElement>('.link')?.select();
    }
  }

  readonly #onFile = (event: Event): void => {
    const input = event.target as HTMLInputElement;
    const file = input.files?.[0];
    if (file) this.dispatchEvent(new CustomEvent<File>('file-chosen', { detail: file }));
    input.value = '';
    this._menu.hidePopover();
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-design-menu': DesignMenu;
  }
}
