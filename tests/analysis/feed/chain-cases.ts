import { readFileSync } from 'node:fs';

interface CaseSet<I, E> {
  readonly id: string;
  readonly regions: readonly {
    readonly tolerance: { readonly rel: number; readonly abs: number };
    readonly rows: readonly { readonly id: string; readonly inputs: I; readonly expected: E }[];
  }[];
}

const sets: readonly CaseSet<unknown, unknown>[] = JSON.parse(
  readFileSync(new URL('../../../reference-cases/chain/cases.json', import.meta.url), 'utf8'),
);

/** Rows of one set of the chain's reference cases, each with its tolerance. */
export function chainCases<I, E = number>(id: string) {
  const set = sets.find((candidate) => candidate.id === id) as CaseSet<I, E> | undefined;
  if (!set) throw new Error(`no reference cases ${id}`);
  return set.regions.flatMap(({ tolerance, rows }) => rows.map((row) => ({ ...row, tolerance })));
}

/** Half-width within which a number must lie. */
export function within(expected: number, tolerance: { readonly rel: number; readonly abs: number }): number {
  return tolerance.abs + tolerance.rel * Math.abs(expected);
}
