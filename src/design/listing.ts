import { entryName, fieldWords, ownerWords, partName, valueWords } from './field-words.ts';
import { formatPath, type PathSegment } from './path.ts';
import { isPlainObject } from './schema-node.ts';
import type { Design } from './types.ts';

export interface ListedInput {
  readonly path: string;
  /** Which of several it belongs to: a layer's or a load's name, `charging’s cell`; empty where there is one. */
  readonly owner: string;
  /** In words of the trade: `supply voltage`. */
  readonly words: string;
  /** With its unit. */
  readonly text: string;
  /** Not given: a default was taken. */
  readonly assumed: boolean;
}

export interface InputGroup {
  readonly title: string;
  readonly inputs: readonly ListedInput[];
}

const GROUPS: readonly { readonly title: string; readonly at: readonly PathSegment[] }[] = [
  { title: 'Transmitter coil', at: ['transmitter', 'coil'] },
  { title: 'Transmitter ferrite', at: ['transmitter', 'ferrite'] },
  { title: 'Transmitter metal', at: ['transmitter', 'metal'] },
  { title: 'Transmitter board', at: ['transmitter', 'drive'] },
  { title: 'Transmitter heat', at: ['transmitter', 'thermal'] },
  { title: 'Receiver coil', at: ['receiver', 'coil'] },
  { title: 'Receiver ferrite', at: ['receiver', 'ferrite'] },
  { title: 'Receiver metal', at: ['receiver', 'metal'] },
  { title: 'Receiver board', at: ['receiver', 'pickup'] },
  { title: 'Receiver heat', at: ['receiver', 'thermal'] },
  { title: 'Place', at: ['placement'] },
  { title: 'Stack', at: ['stack'] },
  { title: 'Demand', at: ['demand'] },
];

/** Every input that the answers rest on, in groups, with those that were not given marked; empty groups are left out. */
export function listedInputs(design: Design): readonly InputGroup[] {
  const assumed = new Set(design.assumed ?? []);
  const all = design as unknown as Record<string, unknown>;
  return GROUPS.map(({ title, at }) => {
    const inputs: ListedInput[] = [];
    let value: unknown = all;
    for (const key of at) value = isPlainObject(value) ? value[key as string] : undefined;
    collect(value, at, [], assumed, inputs);
    return { title, inputs };
  }).filter(({ inputs }) => inputs.length > 0);
}

function collect(
  value: unknown,
  at: readonly PathSegment[],
  owner: readonly string[],
  assumed: ReadonlySet<string>,
  into: ListedInput[],
  parent?: unknown,
): void {
  if (value === null || value === undefined) return;
  if (Array.isArray(value) && value.every((entry) => isPlainObject(entry))) {
    value.forEach((entry, i) => {
      collect(entry, [...at, i], [...owner, entryName(entry, i)], assumed, into);
    });
    return;
  }
  if (isPlainObject(value)) {
    const part = partName(String(at.at(-1)));
    const whose = part === null ? owner : [...owner, part];
    for (const [key, below] of Object.entries(value)) {
      // The name already says whose the others are; so does the kind of a step that has no name.
      if (owner.length > 0 && (key === 'name' || (key === 'kind' && value.name === undefined))) continue;
      collect(below, [...at, key], whose, assumed, into, value);
    }
    return;
  }
  const path = formatPath(at);
  const words = fieldWords(at, parent);
  const told = Array.isArray(value) && value.length === 0 ? '' : valueWords(value, at);
  // `turns in all 10`, not `10 turns`: the words have the unit already.
  const text = told.replace(/ (turns)$/, (unit, name) => (words.startsWith(name) ? '' : unit));
  if (text === '') return;
  const key = String(at.at(-1));
  const last = into.at(-1);
  const base = /Tolerance(Percent|Mm)$/.test(key) ? key.replace(/Tolerance(Percent|Mm)$/, '') : null;
  const beside = last !== undefined && parentOf(last.path) === formatPath(at.slice(0, -1));
  // `5 V` and its `3 %` belong together; a layer's one tolerance is that of its thickness.
  if (last && beside && (key === 'toleranceMm' || (base !== null && keyOf(last.path).startsWith(base)))) {
    into[into.length - 1] = { ...last, text: `${last.text} ± ${text}` };
    return;
  }
  into.push({
    path,
    owner: ownerWords(owner),
    words,
    text,
    assumed: assumed.has(path),
  });
}

const keyOf = (path: string): string => path.slice(path.lastIndexOf('.') + 1);
const parentOf = (path: string): string => path.slice(0, Math.max(0, path.lastIndexOf('.')));
