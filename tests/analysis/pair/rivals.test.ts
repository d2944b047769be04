import { describe, expect, it } from 'vitest';
import {
  conductorWidthMm,
  openingArea,
  outerArea,
  outerBox,
  wiresAcross,
} from '../../../src/analysis/pair/outline-size.ts';
import { type Candidate, retuned, rivalsOf } from '../../../src/analysis/pair/rivals.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { STARTING_POINTS } from '../../../src/design/starting-points.ts';
import type { Design } from '../../../src/design/types.ts';
import { windSide } from '../../../src/design/wind.ts';

function parsed(document: unknown): Design {
  const result = parseDesign(document);
  if (!result.ok) throw new Error('must parse');
  return result.design;
}

const DESIGNS = [parsed(DEMO_DESIGN), ...STARTING_POINTS.map((point) => parsed(point.document))];

function rival(design: Design, kind: Candidate['kind']): Candidate {
  const found = rivalsOf(design).candidates.find((candidate) => candidate.kind === kind);
  if (!found) throw new Error(`no rival ${kind}`);
  return found;
}

describe('fair rivals', () => {
  it('has exactly the area of the receiver, outside and in the opening', () => {
    for (const design of DESIGNS) {
      const own = design.receiver.coil;
      const other = rival(design, 'sameArea').design.receiver.coil;
      expect(outerArea(other.outline) / outerArea(own.outline)).toBeCloseTo(1, 12);
      const { outline } = other;
      const opening =
        outline.shape === 'circle'
          ? outline.outerDiameterMm - outline.innerDiameterMm
          : outline.shape === 'roundedRectangle'
            ? outline.outerWidthMm - outline.innerWidthMm
            : Number.NaN;
      // The same opening, or the largest that leaves room for the turns.
      const full = Math.abs(opening - 2 * wiresAcross(other) * conductorWidthMm(other)) < 1e-9;
      if (!full) expect(openingArea(other) / openingArea(own)).toBeCloseTo(1, 12);
      else expect(openingArea(other)).toBeLessThan(openingArea(own));
      expect(other.outline.shape === 'circle').toBe(own.outline.shape !== 'circle');
    }
  });

  it('fits exactly the same box', () => {
    for (const design of DESIGNS.filter((d) => d.receiver.coil.outline.shape !== 'circle')) {
      const box = outerBox(design.receiver.coil);
      const other = outerBox(rival(design, 'sameBox').design.receiver.coil);
      expect(other.widthMm).toBe(Math.min(box.widthMm, box.heightMm));
      expect(other.heightMm).toBe(other.widthMm);
      expect(rival(design, 'sameBox').design.receiver.ferrite).toEqual(design.receiver.ferrite);
    }
  });

  it("gives the transmitter exactly the receiver's edges", () => {
    for (const design of DESIGNS) {
      expect(outerBox(rival(design, 'matchedTransmitter').design.transmitter.coil)).toEqual(
        outerBox(design.receiver.coil),
      );
    }
  });

  it('keeps turns, layers, conductor, boards, stack and placement, and winds', () => {
    for (const design of DESIGNS) {
      for (const { design: other } of rivalsOf(design).candidates) {
        for (const side of ['transmitter', 'receiver'] as const) {
          const { turns, layers, conductor, filars } = other[side].coil;
          const own = design[side].coil;
          expect({ turns, layers, conductor, filars }).toEqual({
            turns: own.turns,
            layers: own.layers,
            conductor: own.conductor,
            filars: own.filars,
          });
          expect(windSide(other, side).ok).toBe(true);
        }
        expect(other.transmitter.drive).toEqual(design.transmitter.drive);
        expect(other.receiver.pickup).toEqual(design.receiver.pickup);
        expect([other.stack, other.placement]).toEqual([design.stack, design.placement]);
      }
    }
  });

  it('lets the plate follow the coil with its own overhang', () => {
    const design = parsed(DEMO_DESIGN);
    const { coil, ferrite } = rival(design, 'sameArea').design.receiver;
    // 48 x 36 behind 46 x 33: 1 mm and 1.5 mm over each edge, 1.25 mm in the mean.
    if (ferrite?.outline.shape !== 'circle') throw new Error('a round plate is expected');
    expect(ferrite.outline.outerDiameterMm).toBeCloseTo(outerBox(coil).widthMm + 2.5, 9);
  });

  it('says why a rival cannot be wound', () => {
    const design = parsed(DEMO_DESIGN);
    design.receiver.coil.outline = {
      shape: 'roundedRectangle',
      outerWidthMm: 90,
      outerHeightMm: 12,
      innerWidthMm: 79,
      innerHeightMm: 1,
      outerCornerRadiusMm: 5.5,
      innerCornerRadiusMm: null,
    };
    const { refused, candidates } = rivalsOf(design);
    const box = candidates.find((candidate) => candidate.kind === 'matchedTransmitter');
    expect(box).toBeUndefined();
    expect(refused.find((entry) => entry.kind === 'matchedTransmitter')?.reason).toMatch(/cannot be wound|do not fit/);
  });

  it('keeps each resonance when the capacitors are matched', () => {
    const design = parsed(DEMO_DESIGN);
    const other = retuned(design, { l1: 8e-6, l2: 15e-6 }, { l1: 6e-6, l2: 20e-6 });
    expect(other.transmitter.drive.seriesCapacitanceNf * 6).toBeCloseTo(400 * 8, 2);
    expect(other.receiver.pickup.seriesCapacitanceNf * 20).toBeCloseTo(120 * 15, 2);
  });
});
