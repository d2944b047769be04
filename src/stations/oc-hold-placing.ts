import type { ReadonlySignal } from '@preact/signals-core';
import { css, html, nothing, type TemplateResult } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import {
  type PlacementFault,
  parsePlacements,
  placementFaultLine,
  placementsText,
} from '../analysis/hold/placements-table.ts';
import type { PlacingDocument } from '../design/types.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { label } from './glossary.ts';
import { scatterFields } from './hold-fields.ts';
import { holdStyle } from './hold-style.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

type Kind = PlacingDocument['kind'];

const KINDS: readonly (readonly [Kind, 'asBell' | 'evenDisc' | 'evenRectangle' | 'ownList'])[] = [
  ['gaussian', 'asBell'],
  ['disc', 'evenDisc'],
  ['rectangle', 'evenRectangle'],
  ['list', 'ownList'],
];

/** Faults shown at a time. */
const MOST_FAULTS = 6;

/** How casual placements scatter: bell curves, even over a region, or the user's own rows. */
@customElement('oc-hold-placing')
export class HoldPlacing extends StationElement {
  static override readonly styles = [
    stationStyle,
    holdStyle,
    css`
      textarea {
        font: 400 var(--size-small, 13px) / 1.5 ui-monospace, monospace;
        color: var(--ink);
        background: var(--sheet);
        border: 1px solid var(--rule);
        border-radius: 3px;
        width: 100%;
        box-sizing: border-box;
        min-height: 7em;
        margin: 6px 0;
      }
      textarea:focus-visible,
      input:focus-visible {
        outline: 2px solid var(--ink);
        outline-offset: 2px;
      }
      .tools {
        display: flex;
        flex-wrap: wrap;
        gap: 4px 18px;
        align-items: center;
        margin: 0;
      }
      .file {
        position: relative;
        cursor: pointer;
        text-decoration: underline;
        text-decoration-color: var(--rule);
        text-underline-offset: 3px;
      }
      .file input {
        position: absolute;
        inset: 0;
        opacity: 0;
        width: 100%;
        cursor: pointer;
      }
      .file:focus-within {
        outline: 2px solid var(--ink);
        outline-offset: 3px;
      }
      .bad {
        margin: 4px 0 0;
        padding: 0;
        list-style: none;
        color: var(--bad);
        font-size: var(--size-small);
      }
    `,
  ];

  /** The list is asked for, though the design has none yet. */
  @state() private _asked = false;
  @state() private _faults: readonly PlacementFault[] = [];
  @state() private _taken = '';
  /** The scatter that stood when those were set: of another design's they say nothing. */
  #beside: unknown;
  @query('textarea') private _text!: HTMLTextAreaElement | null;

  protected watched({ store }: Session): readonly ReadonlySignal<unknown>[] {
    return [store.resolved, store.document, store.faults, store.snapshot];
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    super.willUpdate(changed);
    const placing = this.session?.store.document.peek().holding?.placing;
    if (placing === this.#beside) return;
    this.#beside = placing;
    this._asked = false;
    this._faults = [];
    this._taken = '';
    if (this._text) this._text.value = this.#listed();
  }

  /** The design's own list as text. */
  #listed(): string {
    const placements = this.session?.store.resolved.peek().design.holding.placing.placements ?? [];
    return placements.length > 0 ? placementsText(placements) : '';
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { design } = session.store.resolved.value;
    const { placing } = design.holding;
    const shown: Kind = this._asked ? 'list' : placing.kind;
    return html`<oc-choice
        label=${label('howPutDown')}
        .options=${KINDS.map(([value, term]) => ({ value, label: label(term) }))}
        .value=${shown}
        @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => this.#choose(session, placing, event.detail.value as Kind)}
      ></oc-choice>
      ${shown === 'list' ? this.#list(session) : scatterFields(session, design)}`;
  }

  #remember({ store }: Session): void {
    this.#beside = store.document.peek().holding?.placing;
  }

  #choose(session: Session, placing: PlacingDocument, kind: Kind): void {
    this._faults = [];
    this._taken = '';
    // A list needs rows first; until they are there the design stays as it is.
    this._asked = kind === 'list' && placing.placements.length === 0;
    if (!this._asked)
      session.store.run(setValue, { path: 'holding.placing.kind', value: kind, what: 'how casual placements scatter' });
    this.#remember(session);
  }

  #list(session: Session): TemplateResult {
    return html`<textarea
        aria-label=${label('ownPlacements')}
        placeholder="x mm, y mm, yaw in degrees: a row for each time it was put down"
        .value=${this.#listed()}
      ></textarea>
      <p class="tools">
        <button type="button" class="quiet" @click=${() => this.#take(session, this._text?.value ?? '')}>Take these rows</button>
        <label class="file">
          <span>or a CSV file</span>
          <input type="file" accept=".csv,.tsv,.txt,text/csv" @change=${(event: Event) => void this.#import(session, event)} />
        </label>
        <span role="status">${this._taken}</span>
      </p>
      ${
        this._faults.length === 0
          ? nothing
          : html`<ul class="bad" role="alert">
              ${this._faults.slice(0, MOST_FAULTS).map((fault) => html`<li>${placementFaultLine(fault)}</li>`)}
              ${this._faults.length > MOST_FAULTS ? html`<li>and ${this._faults.length - MOST_FAULTS} more</li>` : nothing}
              <li>Nothing was taken over; mend the rows and take them again.</li>
            </ul>`
      }`;
  }

  /** All rows or none: a list that lost rows would say something else. */
  #take(session: Session, text: string): void {
    const { store } = session;
    const { placements, faults } = parsePlacements(text);
    this._faults = faults;
    this._taken = '';
    if (faults.length > 0) return;
    const placing = { ...store.document.peek().holding?.placing, kind: 'list', placements };
    store.run(setValue, { path: 'holding.placing', value: placing, what: `${placements.length} placements` });
    this.#remember(session);
    this._asked = false;
    this._taken = placements.length === 1 ? 'One placement taken.' : `${placements.length} placements taken.`;
  }

  async #import(session: Session, event: Event): Promise<void> {
    const input = event.target as HTMLInputElement;
    const file = input.files?.[0];
    if (file) {
      const text = await file.text();
      if (this._text) this._text.value = text;
      this.#take(session, text);
    }
    input.value = '';
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-hold-placing': HoldPlacing;
  }
}
