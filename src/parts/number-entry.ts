import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { FaultDetail } from '../numerics/errors.ts';
import { formatGiven } from '../units/format.ts';
import type { ParsedQuantity } from '../units/parse.ts';
import { UNITS, type UnitName } from '../units/unit-table.ts';

/** A number was read and is within its bounds; in the field's unit. */
export interface ValueCommittedDetail {
  readonly value: number;
}

/** What was typed could not be taken; it stays in the field. */
export interface TextRefusedDetail {
  readonly text: string;
  readonly fault: FaultDetail;
}

/** Reads typed text as a number in the unit. May load something first. */
export type ParseText = (text: string, unit: UnitName) => ParsedQuantity | Promise<ParsedQuantity>;

/** What a number field offers to its entry. */
export interface NumberEntryHost extends ReactiveControllerHost, HTMLElement {
  value: number;
  unit: UnitName;
  min: number | null;
  max: number | null;
  step: number | null;
  draft: string | null;
  fault: string;
  parse: ParseText | null;
}

/** Typed text is read by the units layer, which brings a sizeable library with it: not before somebody types. */
const readLater: ParseText = async (text, unit) => (await import('../units/parse.ts')).parseQuantity(text, unit);

/** A step that suits a number of this size: a tenth of its leading digit's place, at most 1. */
export function naturalStep(value: number, unit: UnitName): number {
  if (UNITS[unit].quantity === 'count') return 1;
  if (value === 0 || !Number.isFinite(value)) return UNITS[unit].quantity === 'ratio' ? 0.01 : 0.1;
  return Math.min(1, 10 ** (Math.floor(Math.log10(Math.abs(value)) + 1e-9) - 1));
}

/** The next multiple of `step` above or below, free of the dust of binary fractions. */
export function steppedValue(value: number, step: number, count: number): number {
  const n = value / step;
  const near = count > 0 ? Math.floor(n + 1e-6) : Math.ceil(n - 1e-6);
  return Number(((near + count) * step).toPrecision(12));
}

function boundsText(min: number | null, max: number | null, unit: UnitName): string {
  const text = (value: number): string => formatGiven(value, unit, ' ');
  if (min !== null && max !== null) return `from ${text(min)} to ${text(max)}`;
  return min !== null ? `at least ${text(min)}` : `at most ${text(max ?? 0)}`;
}

/** The fault of a number outside its bounds, or null. */
export function boundsFault(value: number, min: number | null, max: number | null, unit: UnitName): FaultDetail | null {
  if ((min === null || value >= min) && (max === null || value <= max)) return null;
  return {
    code: 'out-of-range',
    path: '',
    required: boundsText(min, max, unit),
    received: formatGiven(value, unit, ' '),
  };
}

/**
 * What every number field does: keeps the typed text until it is committed (Enter or leaving the field), reads it, says
 * what is wrong beside it and keeps what was typed, never clamps. Escape brings the last good number back; arrows step,
 * with Shift ten times and with Alt a tenth.
 */
export class NumberEntry implements ReactiveController {
  readonly #host: NumberEntryHost;
  #typed: string | null = null;
  #sentence = '';
  #turn = 0;
  /** The refused text that somebody else kept, as of the last update. */
  #kept: string | null = null;

  constructor(host: NumberEntryHost) {
    this.#host = host;
    host.addController(this);
  }

  /** Text that whoever kept it no longer keeps, since it was undone or something else took its place, leaves the field. */
  hostUpdate(): void {
    const kept = this.#host.draft;
    if (kept === this.#kept) return;
    if (this.#kept !== null && this.#typed === this.#kept) {
      this.#typed = null;
      this.#sentence = '';
    }
    this.#kept = kept;
  }

  hostDisconnected(): void {
    this.#turn++;
  }

  /** What stands in the field. */
  get text(): string {
    return this.#typed ?? this.#host.draft ?? formatGiven(this.#host.value, this.#host.unit);
  }

  /** What is wrong, as a sentence; empty: nothing. */
  get complaint(): string {
    return this.#sentence === '' ? this.#host.fault : this.#sentence;
  }

  /** The unit as it is said after the label. */
  get spokenUnit(): string {
    return UNITS[this.#host.unit].symbol;
  }

  readonly onFocus = (event: FocusEvent): void => {
    (event.target as HTMLInputElement).select();
    if (this.#host.parse === null) void import('../units/parse.ts');
  };

  readonly onInput = (event: Event): void => {
    this.#typed = (event.target as HTMLInputElement).value;
    this.#host.requestUpdate();
  };

  readonly onChange = (): void => {
    void this.commit();
  };

  readonly onKey = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey) return;
    switch (event.key) {
      case 'Enter':
        event.preventDefault();
        void this.commit();
        break;
      case 'Escape':
        this.#withdraw(event);
        break;
      case 'ArrowUp':
      case 'ArrowDown':
        event.preventDefault();
        void this.#stepBy(event.key === 'ArrowUp' ? 1 : -1, event.shiftKey ? 10 : event.altKey ? 0.1 : 1);
        break;
    }
  };

  /** Reads what was typed and tells the outcome; nothing where nothing was typed. */
  async commit(): Promise<void> {
    if (this.#typed === null) return;
    const text = this.#typed;
    const turn = ++this.#turn;
    const parsed = await this.#read(text);
    // Something newer was typed or committed while this was read, or the field is gone.
    if (turn !== this.#turn || text !== this.#typed) return;
    if (!parsed.ok) {
      this.#refuse(text, parsed.sentence, parsed.fault);
      return;
    }
    this.#accept(parsed.value, text);
  }

  #read(text: string): ParsedQuantity | Promise<ParsedQuantity> {
    return (this.#host.parse ?? readLater)(text, this.#host.unit);
  }

  #accept(value: number, text: string): void {
    const { min, max, unit } = this.#host;
    const fault = boundsFault(value, min, max, unit);
    if (fault !== null) {
      this.#refuse(text, `This must be ${fault.required}.`, fault);
      return;
    }
    this.#typed = null;
    this.#sentence = '';
    this.#host.requestUpdate();
    this.#tell<ValueCommittedDetail>('value-committed', { value });
  }

  #refuse(text: string, sentence: string, fault: FaultDetail): void {
    this.#typed = text;
    this.#sentence = sentence;
    this.#host.requestUpdate();
    this.#tell<TextRefusedDetail>('text-refused', { text, fault });
  }

  #withdraw(event: KeyboardEvent): void {
    const stuck = this.complaint !== '' || this.#host.draft !== null;
    if (this.#typed === null && !stuck) return;
    event.stopPropagation();
    this.#turn++;
    this.#typed = null;
    this.#sentence = '';
    this.#host.requestUpdate();
    // Whoever keeps the refused text learns that the last good number stands again.
    if (stuck) this.#tell<ValueCommittedDetail>('value-committed', { value: this.#host.value });
  }

  async #stepBy(count: number, factor: number): Promise<void> {
    const text = this.#typed;
    const turn = ++this.#turn;
    let from = this.#host.value;
    if (text !== null) {
      const parsed = await this.#read(text);
      if (turn !== this.#turn || text !== this.#typed) return;
      if (!parsed.ok) {
        this.#refuse(text, parsed.sentence, parsed.fault);
        return;
      }
      from = parsed.value;
    }
    const base = (this.#host.step ?? naturalStep(from, this.#host.unit)) * factor;
    const step = UNITS[this.#host.unit].quantity === 'count' ? Math.max(1, base) : base;
    const value = steppedValue(from, step, count);
    this.#accept(value, formatGiven(value, this.#host.unit));
  }

  #tell<T>(name: string, detail: T): void {
    this.#host.dispatchEvent(new CustomEvent<T>(name, { detail, bubbles: true, composed: true }));
  }
}
