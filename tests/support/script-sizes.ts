import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';

/** Compressed kilobytes of JavaScript. */
export interface ScriptSizes {
  /** What the page fetches to show the station that opens first. */
  readonly first: number;
  /** That and the Pair station with its 3-D view. */
  readonly withView: number;
  /** The engine's worker, with what it imports outright; the jobs of long questions come later. */
  readonly worker: number;
}

export const SIZE_BUDGETS = Object.freeze({ first: 120, withView: 400 });

/** Sizes of a built page. @param site its folder */
export function scriptSizes(site: string): ScriptSizes {
  const folder = join(site, 'assets');
  const names = readdirSync(folder).filter((name) => name.endsWith('.js'));
  const named = (start: string): string => {
    const found = names.find((name) => name.startsWith(`${start}-`));
    if (!found) throw new Error(`the page has no script ${start}`);
    return found;
  };
  const entries = readFileSync(join(site, 'index.html'), 'utf8').match(/assets\/[\w.-]+\.js/g) ?? [];
  const first = closure(folder, entries.map((name) => name.slice('assets/'.length)).concat(named('oc-place')));
  const withView = closure(folder, [...first, named('oc-pair'), named('link-scene')]);
  const total = (files: ReadonlySet<string>): number =>
    [...files].reduce((sum, name) => sum + gzipSync(readFileSync(join(folder, name)), { level: 9 }).length / 1000, 0);
  return { first: total(first), withView: total(withView), worker: total(closure(folder, [named('engine.worker')])) };
}

/** Scripts and everything they import outright. */
function closure(folder: string, start: readonly string[]): Set<string> {
  const reached = new Set<string>();
  const visit = (name: string): void => {
    if (reached.has(name)) return;
    reached.add(name);
    const text = readFileSync(join(folder, name), 'utf8');
    for (const [, next] of text.matchAll(/(?:from|import)\s?"\.\/([\w.-]+\.js)"/g)) visit(next!);
  };
  for (const name of start) visit(name);
  return reached;
}
