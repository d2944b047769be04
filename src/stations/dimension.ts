import { html, type TemplateResult } from 'lit';
import { ifDefined } from 'lit/directives/if-defined.js';
import '../parts/oc-dimension.ts';
import { parsePath, valueAt } from '../design/path.ts';
import type { TextRefusedDetail, ValueCommittedDetail } from '../parts/number-entry.ts';
import type { Session } from '../state/session.ts';
import { formatGiven } from '../units/format.ts';
import type { UnitName } from '../units/unit-table.ts';
import { label, type TermId } from './labels.ts';

export interface DimensionSpec {
  /** Place on the drawing. */
  readonly slot?: string;
  readonly term: TermId;
  /** Said before the label for a screen reader where several fields share one: `oak`. */
  readonly of?: string;
  readonly unit: UnitName;
  /** Of the document, as in messages. */
  readonly path: string;
  readonly value: number;
  /** Says before the number what it is, where the drawing does not. */
  readonly caption?: string;
  /** Whose dimension it is. */
  readonly side?: 'transmitter' | 'receiver';
  /** Place in a picture, for oc-anchors. */
  readonly anchor?: string;
  /** Backed by paper. */
  readonly onDrawing?: boolean;
  readonly min?: number;
  readonly max?: number;
  readonly commit: (value: number) => void;
}

/** The fault of a path as one sentence, or nothing. */
export function faultAt(session: Session, path: string): string {
  const found = session.store.faults.value.find((fault) => fault.path === path);
  if (!found) return '';
  return `Must be ${found.required}; received ${found.received}.${found.hint ? ` ${found.hint}` : ''}`;
}

/** What stands in the document at a path, where that is a number: also one that the design refuses. */
function typedValue(session: Session, path: string): number | null {
  const parsed = parsePath(path);
  const value = parsed.ok ? valueAt(session.store.document.value, parsed.segments) : null;
  return typeof value === 'number' ? value : null;
}

/**
 * A number on a drawing, with its unit, to be typed over. What is typed wrongly stays as it is, in the field and in what is
 * saved, until it is mended.
 */
export function dimension(session: Session, spec: DimensionSpec): TemplateResult {
  const { store } = session;
  const name = label(spec.term);
  const full = spec.of === undefined ? name : `${name}, ${spec.of}`;
  const value = typedValue(session, spec.path) ?? spec.value;
  const draft = store.snapshot.value.drafts[spec.path];
  return html`<oc-dimension
    slot=${ifDefined(spec.slot)}
    label=${full}
    caption=${spec.caption ?? ''}
    unit=${spec.unit}
    side=${ifDefined(spec.side)}
    data-anchor=${ifDefined(spec.anchor)}
    ?on-drawing=${spec.onDrawing ?? false}
    .min=${spec.min ?? null}
    .max=${spec.max ?? null}
    data-text=${`${spec.caption ? `${spec.caption} ` : ''}${formatGiven(value, spec.unit)}`}
    .value=${value}
    .draft=${draft?.text ?? null}
    .fault=${faultAt(session, spec.path)}
    @value-committed=${(event: CustomEvent<ValueCommittedDetail>) => {
      store.mend(spec.path, name, () => spec.commit(event.detail.value));
    }}
    @text-refused=${(event: CustomEvent<TextRefusedDetail>) => {
      const fault = { ...event.detail.fault, path: spec.path };
      store.setDraft(spec.path, { text: event.detail.text, fault }, name);
    }}
  ></oc-dimension>`;
}
