import type { LinkModel } from '../analysis/link/link-model.ts';
import { Lru } from '../analysis/lru.ts';
import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import { checkNodes } from '../analysis/place/check-nodes.ts';
import type { MapCheck } from '../analysis/place/map-check.ts';
import type { Design } from '../design/types.ts';
import { inChunks } from './in-chunks.ts';
import type { Runner } from './runner.ts';
import type { Outcome } from './types.ts';

/** Exact checks at the nodes of a map over the square of the axes. */
export type MapChecks = (
  design: Design,
  model: LinkModel,
  plates: readonly PlateSensitivity[],
  xMm: Float64Array,
  yMm: Float64Array,
  signal: AbortSignal,
) => Promise<Outcome<MapCheck[]>>;

/** Maps, each with up to 25 nodes, whose checks are kept: they cost more than all the rest of a map. */
const KEPT = 24;

/** Checks over a runner; maps of the same design, model and extent share them, whatever their points. */
export function createMapChecks(runner: Runner): MapChecks {
  const known = new Lru<MapCheck[]>(KEPT);
  return async (design, model, plates, xMm, yMm, signal) => {
    const { transmitter, receiver, placement, demand } = design;
    // The model's content follows from its key and level; where on the map the receiver lies does not enter.
    const key = JSON.stringify([
      [transmitter, receiver, placement.gapMm, demand, plates],
      [model.key, model.level],
      [xMm[0], xMm.at(-1), yMm[0], yMm.at(-1)],
    ]);
    const kept = known.get(key);
    if (kept) return { ok: true, value: kept, elapsedMs: 0 };
    const nodes = checkNodes(model, xMm, yMm);
    const checks = new Array<MapCheck>(nodes.length);
    const failed = await inChunks(nodes.length, 1, runner.width, async (index) => {
      const [x, y] = nodes[index]!;
      const check = await runner.run('mapCheck', { design, model, plates, x, y }, { lane: 'back', signal });
      if (!check.ok) return check;
      checks[index] = check.value;
      return null;
    });
    if (failed) return failed;
    known.set(key, checks);
    return { ok: true, value: checks, elapsedMs: 0 };
  };
}
