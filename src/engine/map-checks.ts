import type { LinkModel } from '../analysis/link/link-model.ts';
import { Lru } from '../analysis/lru.ts';
import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import { followsMutual, type LineNode, nextLineNodes, onDiagonal } from '../analysis/place/check-line.ts';
import { checkNodes } from '../analysis/place/check-nodes.ts';
import type { CheckKind, MapCheck } from '../analysis/place/map-check.ts';
import type { Design } from '../design/types.ts';
import { type Failed, inChunks } from './in-chunks.ts';
import type { Runner } from './runner.ts';
import type { Outcome } from './types.ts';

/**
 * Exact checks of a map over the square of the axes: bands at the nodes of a lattice, the circuits along its diagonal.
 *
 * @param quick for a map over plates under the hand: circuits at the lattice's nodes, which are fewer and off where the current falls.
 */
export type MapChecks = (
  design: Design,
  model: LinkModel,
  plates: readonly PlateSensitivity[],
  xMm: Float64Array,
  yMm: Float64Array,
  signal: AbortSignal,
  quick?: boolean,
) => Promise<Outcome<MapCheck[]>>;

/** Maps, each with up to 25 nodes, whose checks are kept: they cost more than all the rest of a map. */
const KEPT = 24;

/** Checks over a runner; maps of the same design, model and extent share them, whatever their points. */
export function createMapChecks(runner: Runner): MapChecks {
  const known = new Lru<MapCheck[]>(KEPT);
  return async (design, model, plates, xMm, yMm, signal, quick = false) => {
    const { transmitter, receiver, placement, demand } = design;
    const byMutual = model.level !== 'rough' && (followsMutual(design) || !quick);
    // The model's content follows from its key and level; where on the map the receiver lies does not enter.
    const key = JSON.stringify([
      [transmitter, receiver, placement.gapMm, demand, plates],
      [model.key, model.level, byMutual],
      [xMm[0], xMm.at(-1), yMm[0], yMm.at(-1)],
    ]);
    const kept = known.get(key);
    if (kept) return { ok: true, value: kept, elapsedMs: 0 };
    const ask = async (
      places: readonly (readonly [number, number])[],
      kind: CheckKind,
    ): Promise<Failed | MapCheck[]> => {
      const out = new Array<MapCheck>(places.length);
      const failed = await inChunks(places.length, 1, runner.width, async (index) => {
        const [x, y] = places[index]!;
        const check = await runner.run('mapCheck', { design, model, plates, x, y, kind }, { lane: 'back', signal });
        if (!check.ok) return check;
        out[index] = check.value;
        return null;
      });
      return failed ?? out;
    };
    const checks = await ask(checkNodes(model, xMm, yMm), byMutual ? 'band' : 'whole');
    if (!Array.isArray(checks)) return checks;
    const line = byMutual ? await lineChecks(design, xMm, yMm, (places) => ask(places, 'mutual')) : [];
    if (!Array.isArray(line)) return line;
    const all = [...checks, ...line];
    known.set(key, all);
    return { ok: true, value: all, elapsedMs: 0 };
  };
}

/** The checks along a map's diagonal (`analysis/place/check-line.ts`), each round looking closer where the last one saw a fall. */
export async function lineChecks(
  design: Design,
  xMm: Float64Array,
  yMm: Float64Array,
  ask: (places: readonly (readonly [number, number])[]) => Promise<Failed | MapCheck[]>,
): Promise<Failed | MapCheck[]> {
  let line: readonly LineNode<MapCheck>[] = [];
  for (let next = nextLineNodes(design, line); next.length > 0; next = nextLineNodes(design, line)) {
    const asked = await ask(next.map((share) => onDiagonal(xMm, yMm, share)));
    if (!Array.isArray(asked)) return asked;
    line = [...line, ...asked.map((check, i) => ({ share: next[i]!, check }))].toSorted((a, b) => a.share - b.share);
  }
  return line.map(({ check }) => check);
}
