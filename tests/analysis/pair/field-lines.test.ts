import { describe, expect, it } from 'vitest';
import { poseOfDesign, sidesOfDesign } from '../../../src/analysis/link/link-context.ts';
import { fieldLineSeeds, fieldLines } from '../../../src/analysis/pair/field-lines.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import type { DesignDocument } from '../../../src/design/schema.ts';
import type { Design } from '../../../src/design/types.ts';

function designOf(document: DesignDocument): Design {
  const parsed = parseDesign(document);
  if (!parsed.ok) throw new Error(parsed.faults[0]?.path);
  return parsed.design;
}

/** The demo's round transmitter alone in air, in one layer: its field is that of coaxial circles. */
const bare = designOf({
  ...DEMO_DESIGN,
  transmitter: { ...DEMO_DESIGN.transmitter, ferrite: null, metal: null },
  receiver: { ...DEMO_DESIGN.receiver, ferrite: null, metal: null },
});

/**
 * Flux through a circle about the axis over 2 pi mu0 per ampere: rho A_phi of circular filaments, by the trapezoidal rule
 * round each (exact to rounding for a smooth periodic integrand). Source: definition of the vector potential, any textbook.
 */
function stream(radii: readonly { a: number; z: number }[], x: number, y: number, z: number): number {
  const rho = Math.hypot(x, y);
  const n = 720;
  let sum = 0;
  for (const ring of radii) {
    for (let i = 0; i < n; i++) {
      const phi = (2 * Math.PI * (i + 0.5)) / n;
      const r2 = ring.a ** 2 + rho ** 2 - 2 * ring.a * rho * Math.cos(phi) + (z - ring.z) ** 2;
      sum += ((ring.a * Math.cos(phi)) / Math.sqrt(r2)) * ((2 * Math.PI) / n);
    }
  }
  return (rho * sum) / (4 * Math.PI);
}

const rings = sidesOfDesign(bare).transmitter.winding.turns.map((turn) => {
  const [piece] = turn.pieces;
  if (piece?.kind !== 'arc') throw new Error('not a circle');
  return { a: piece.radius, z: turn.z };
});

describe('field lines in air', () => {
  const seeds = fieldLineSeeds(bare, { directions: 4, ranks: 3 });

  it('begin with equal flux between them, all round', () => {
    expect(seeds).toHaveLength(36);
    const at = (k: number): number => stream(rings, seeds[3 * k]!, seeds[3 * k + 1]!, seeds[3 * k + 2]!);
    const [a, b, c] = [at(0), at(1), at(2)];
    // Middles of thirds: 1/6, 3/6, 5/6 of all the flux that goes up.
    expect(b! / a!).toBeCloseTo(3, 1);
    expect(c! / a!).toBeCloseTo(5, 1);
    for (let k = 3; k < 12; k++) expect(at(k)).toBeCloseTo(at(k % 3), 9);
  });

  it('keep to their flux, and stay in their plane', () => {
    for (const line of fieldLines(bare, seeds.slice(0, 9))) {
      expect(line.length).toBeGreaterThan(60);
      const begun = stream(rings, line[0]!, line[1]!, line[2]!);
      for (let i = 0; i < line.length; i += 3) {
        // 0.5 %, as the docstring claims.
        expect(Math.abs(stream(rings, line[i]!, line[i + 1]!, line[i + 2]!) / begun - 1)).toBeLessThan(5e-3);
        expect(line[i]! - line[i + 1]!).toBeCloseTo(0, 7);
      }
    }
  });

  it('come back to where they began, through the hole and round the winding', () => {
    const outermost = fieldLines(bare, seeds.slice(6, 9))[0]!;
    expect([...outermost.slice(0, 3)]).toEqual([...outermost.slice(-3)]);
    const z = outermost.filter((_, i) => i % 3 === 2);
    expect(Math.min(...z)).toBeLessThan(0);
    expect(Math.max(...z)).toBeGreaterThan(0);
  });
});

describe('with ferrite on both sides', () => {
  it('end on the plates’ faces and never run through them', () => {
    const design = designOf({ ...DEMO_DESIGN, receiver: { ...DEMO_DESIGN.receiver, metal: null } });
    const { transmitter, receiver } = sidesOfDesign(design);
    const pose = poseOfDesign(design);
    const low = -transmitter.winding.halfThickness - (transmitter.ferrite?.standoff ?? 0);
    const high = pose.z + receiver.winding.halfThickness + (receiver.ferrite?.standoff ?? 0);
    const seeds = fieldLineSeeds(design, { directions: 3, ranks: 2 });
    const lines = fieldLines(design, seeds);
    expect(lines).toHaveLength(6);
    for (const line of lines) {
      // Through the hole and down into the transmitter's ferrite.
      expect(line[2]).toBeGreaterThanOrEqual(low);
      expect(line[2]! - low).toBeLessThan(2e-4);
      const peak = Math.max(...line.filter((_, i) => i % 3 === 2));
      expect(peak).toBeLessThanOrEqual(high);
    }
    // The inner ones go on up into the receiver's ferrite.
    expect(high - lines[0]!.at(-1)!).toBeLessThan(2e-4);
  });
});
