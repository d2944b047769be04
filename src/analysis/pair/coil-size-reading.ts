import { coilSpecOf } from '../../design/to-si.ts';
import type { CoilDocument, OutlineDocument } from '../../design/types.ts';
import { InputError } from '../../numerics/errors.ts';
import { selfInductance } from '../../physics/coil/self-inductance.ts';
import { windCoil } from '../../physics/coil/winding.ts';
import { outerBox, wiresAcross } from './outline-size.ts';
import type { CoilReading } from './unknown-coil.ts';

/** What is asked of a coil whose sizes were read: with a ruler, or over a picture. */
export type CoilSizeQuestion =
  | { readonly kind: 'ruler'; readonly coil: CoilDocument; readonly readingMm: number; readonly turns: number }
  | {
      readonly kind: 'trace';
      readonly coil: CoilDocument;
      /** Relative half-width of its outer sizes. */
      readonly sizeError: number;
      /** Share of the area that may lie outside the points. */
      readonly missingArea: number;
    };

/** Inductance in air and how well the sizes fix it; some tenths of a second. @throws InputError where it cannot be wound */
export function coilSizeReading(question: CoilSizeQuestion): CoilReading {
  return question.kind === 'ruler'
    ? fromRuler(question.coil, question.readingMm, question.turns)
    : fromTrace(question.coil, question.sizeError, question.missingArea);
}

function inductance(of: CoilDocument): number {
  return selfInductance(windCoil(coilSpecOf(of, 1)), { tolerance: 1e-3 }).value;
}

const IN_AIR = 'In air. Ferrite and metal come on top, with their own tolerances.';

/**
 * From a picture: what an error of its size does (solved with the outline that much larger, at the same pitch), and half of
 * the area between the points, as L goes with size; independent.
 *
 * @param coil with a free outline
 */
export function fromTrace(coil: CoilDocument, sizeError: number, missingArea: number): CoilReading {
  const value = inductance(coil);
  const larger = inductance(resized(coil, sizeError * outerBox(coil).widthMm, 0));
  return {
    inductanceH: value,
    inductanceTolerancePercent: Math.hypot(100 * (larger / value - 1), 50 * missingArea),
    resistanceOhm: null,
    quality: null,
    leaves: IN_AIR,
  };
}

/**
 * From a ruler: what an error of reading does to the inductance in air. Outer and inner sizes and turns each move alone.
 *
 * @param readingMm half-width of a size read with the ruler @param turns half-width of the turns counted; 0: sure
 * @throws InputError where the coil cannot be wound as stated
 */
export function fromRuler(coil: CoilDocument, readingMm: number, turns: number): CoilReading {
  const value = inductance(coil);
  const moves = [
    resized(coil, readingMm, 0),
    resized(coil, 0, -readingMm),
    ...(turns > 0 ? [{ ...coil, turns: Math.max(1, coil.turns - turns) }] : []),
  ];
  const shares = moves.flatMap((moved) => {
    try {
      return [inductance(moved) / value - 1];
    } catch (error) {
      if (error instanceof InputError) return [];
      throw error;
    }
  });
  return {
    inductanceH: value,
    inductanceTolerancePercent: 100 * Math.hypot(...shares),
    resistanceOhm: null,
    quality: null,
    leaves: IN_AIR,
  };
}

/** The coil with its outer and inner sizes changed, mm. */
function resized(coil: CoilDocument, outerMm: number, innerMm: number): CoilDocument {
  const { outline } = coil;
  const change = (): OutlineDocument => {
    if (outline.shape === 'circle')
      return {
        ...outline,
        outerDiameterMm: outline.outerDiameterMm + outerMm,
        innerDiameterMm: Math.max(0, outline.innerDiameterMm + innerMm),
      };
    if (outline.shape === 'path') {
      // Grown about its middle; what the opening gains, the pitch loses on both sides.
      const grown = 1 + outerMm / outerBox(coil).widthMm;
      const steps = Math.max(1, wiresAcross(coil) / coil.filars - 1);
      return {
        ...outline,
        pointsMm: outline.pointsMm.map(([x, y]): [number, number] => [grown * x, grown * y]),
        pitchMm: outline.pitchMm + innerMm / (2 * steps),
      };
    }
    return {
      ...outline,
      outerWidthMm: outline.outerWidthMm + outerMm,
      outerHeightMm: outline.outerHeightMm + outerMm,
      innerWidthMm: Math.max(0, outline.innerWidthMm + innerMm),
      innerHeightMm: Math.max(0, outline.innerHeightMm + innerMm),
    };
  };
  return { ...coil, outline: change() };
}
