import { describe, expect, it } from 'vitest';
import { outerBox } from '../../../src/analysis/pair/outline-size.ts';
import type { SearchRequest } from '../../../src/analysis/pair/search-space.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import type { Design } from '../../../src/design/types.ts';
import { createLocalEngine } from '../../../src/engine/local-engine.ts';
import { startOf, WIRES } from '../../../src/stations/search-asked.ts';
import { slackAt } from './slack-at.ts';

function demo(): Design {
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error('the demo must parse');
  return parsed.design;
}

/** What the page asks for on the demo: the receiver within its own box. */
function request(design: Design): SearchRequest {
  const asked = startOf(design, 'receiver', 'reach');
  return {
    design,
    side: asked.side,
    goal: asked.goal,
    footprintMm: { width: asked.widthMm, height: asked.heightMm },
    thicknessMm: asked.thicknessMm,
    wires: [design.receiver.coil.conductor, ...WIRES],
    shapes: ['circle', 'roundedRectangle', 'stadium'],
    mostTurns: asked.mostTurns,
    printed: null,
    seed: 1,
    generations: 18,
  };
}

/**
 * What the long run below found on 2026-11-28 (seed 1, 456 trials): reach 3.95 -> 15.99 mm (15.7 to 16.2). Six of the front
 * were solved directly, with the ferrites and the cell: four that the trials put at 15.0 to 16.0 mm gave none, two at 14.2 and
 * 14.4 gave 15.99 and 15.28. With finer litz instead of solid wire on the list an earlier run came to 17.18 mm. The coil and
 * capacitor, for the light check of every run.
 */
function found(): Design {
  const design = demo();
  const { coil, pickup } = design.receiver;
  return {
    ...design,
    receiver: {
      ...design.receiver,
      coil: {
        ...coil,
        outline: {
          shape: 'roundedRectangle',
          outerWidthMm: 43.701,
          outerHeightMm: 32.719,
          innerWidthMm: 27.146,
          innerHeightMm: 16.164,
          outerCornerRadiusMm: 10.036,
          innerCornerRadiusMm: null,
        },
        turns: 21,
        layers: 2,
        layerPitchMm: 0.788,
      },
      pickup: { ...pickup, seriesCapacitanceNf: 76.75 },
    },
  };
}

/** The demo's own reach by the same run, mm, and the direction in which it ends. */
const OWN_MM = 3.95;
const OWN_ENDS_DEG = 90;

describe('the search on the demo', () => {
  it('has found a receiver in the same box that holds far beyond where the demo’s own gives up, with ferrite', () => {
    const own = demo();
    const box = outerBox(own.receiver.coil);
    const other = outerBox(found().receiver.coil);
    expect(other.widthMm).toBeLessThanOrEqual(box.widthMm);
    expect(other.heightMm).toBeLessThanOrEqual(box.heightMm);
    expect(slackAt(own, 1.1 * OWN_MM, OWN_ENDS_DEG)).toBeLessThan(0);
    // The pair is its own mirror image; the long run looks at twelve directions.
    for (const degrees of [0, 90]) expect(slackAt(found(), 2 * OWN_MM, degrees)).toBeGreaterThan(0);
  });
});

// The whole search, some minutes: OFFCENTRE_PAIR=1.
describe.runIf(process.env.OFFCENTRE_PAIR)('the search on the demo, in full', () => {
  it('finds a receiver in the same box that reaches at least a tenth further, by direct solution with ferrite', async () => {
    const engine = createLocalEngine();
    const outcome = await engine.search(request(demo()));
    engine.dispose();
    if (!outcome.ok) throw new Error(outcome.message);
    const { own, confirmed, trials } = outcome.value;
    const best = confirmed[0];
    if (!best) throw new Error('nothing was confirmed');
    console.log(
      JSON.stringify({
        trials,
        ownMm: own.at.reachMm,
        bestMm: best.report.at.reachMm,
        band: best.report.reachMm,
        quickMm: confirmed.map(({ result, report }) => [result.reachMm, report.at.reachMm]),
        coil: best.design.receiver.coil,
        ferrite: best.design.receiver.ferrite,
        seriesCapacitanceNf: best.design.receiver.pickup.seriesCapacitanceNf,
      }),
    );
    expect(best.report.at.reachMm).toBeGreaterThan(1.1 * own.at.reachMm);
    const { widthMm, heightMm } = outerBox(best.design.receiver.coil);
    const box = outerBox(demo().receiver.coil);
    expect(widthMm).toBeLessThanOrEqual(box.widthMm + 1e-9);
    expect(heightMm).toBeLessThanOrEqual(box.heightMm + 1e-9);
    // Not by the report alone: twelve directions just inside its reach, and the demo fails in one at a tenth beyond its own.
    for (let i = 0; i < 12; i++) expect(slackAt(best.design, best.report.at.reachMm - 0.3, 30 * i)).toBeGreaterThan(0);
    expect(slackAt(own.design, 1.1 * own.at.reachMm, own.worstDeg)).toBeLessThan(0);
  }, 3_600_000);
});
