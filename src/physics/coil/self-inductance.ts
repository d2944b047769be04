import type { Estimate } from '../../numerics/estimate.ts';
import { roundWireFactors, skinDepth } from '../conductor/round-wire.ts';
import { COPPER_RESISTIVITY_20C, COPPER_TEMPERATURE_COEFFICIENT, MU0 } from '../constants.ts';
import { roundRingPair, roundRingSelf, stripRingPair } from './coaxial-circles.ts';
import { type CrossSection, cornerAddition, cornerDoubt, crossSectionOf } from './cross-section.ts';
import { isMirrored } from './mirrored.ts';
import { passRanges } from './pass-ranges.ts';
import { pieceDistance, pieceTangent } from './piece-geometry.ts';
import { type PlacedPiece, pairIntegral, placePiece, selfIntegral } from './piece-pair.ts';
import { sectionCorrection } from './section-correction.ts';
import type { Piece, Turn, Winding } from './types.ts';

export interface SelfInductanceOptions {
  /** Frequency for the internal inductance of solid wire, Hz; 0: even current. Litz and traces always count as even. */
  readonly frequency: number;
  readonly temperatureC: number;
  /** Bound on the relative error of each pair of pieces, 1e-12 to 1e-3; what is reached is fifty times less or better. */
  readonly tolerance: number;
}

export const SELF_INDUCTANCE_DEFAULTS: SelfInductanceOptions = Object.freeze({
  frequency: 0,
  temperatureC: 20,
  tolerance: 1e-4,
});

/**
 * Self-inductance of a winding in air with even current over its conductors' sections, H.
 *
 * @returns `errorEstimate` bounds quadrature and the terms left out of the cross-section expansion; it does not know
 *   how far a real current departs from even (solid wire at high frequency, wide traces).
 * Accuracy: see README.md and reference-cases/self-inductance.
 * Method: sum over pairs of turns of the filaments' mutual inductance, each turn's own share with the geometric mean
 * distance of its section, and corrections for the sections of near neighbours: strips by their mean distance, round
 * wires by the curvature term (straight round wires need none). Circular rings use closed forms throughout. A true
 * spiral is integrated as the closed path it is, lead and crossover included; pieces of the same pass (less than half a
 * turn apart along the wire) take the own-section kernel.
 */
export function selfInductance(
  winding: Winding,
  options: Partial<SelfInductanceOptions> = SELF_INDUCTANCE_DEFAULTS,
): Estimate {
  const settings = { ...SELF_INDUCTANCE_DEFAULTS, ...options };
  const section = crossSectionOf(winding.spec.conductor, internalShare(winding, settings));
  const rings = winding.spec.winding === 'rings';
  if (rings && winding.spec.outline.shape === 'circle') return ringsSelf(winding, section);
  return generalSelf(winding, section, settings.tolerance, rings);
}

function internalShare(winding: Winding, { frequency, temperatureC }: SelfInductanceOptions): number {
  const { conductor } = winding.spec;
  if (conductor.kind !== 'solid' || frequency === 0) return 1;
  const resistivity = COPPER_RESISTIVITY_20C * (1 + COPPER_TEMPERATURE_COEFFICIENT * (temperatureC - 20));
  return roundWireFactors(conductor.diameter, skinDepth(resistivity, frequency)).internalInductance;
}

/** The rules' bound is never met: measured errors of whole coils stay below a hundredth of it (tests). */
const MEASURED_SHARE = 0.02;

/** Turns of equal pieces at several heights: how often each height difference occurs among two of them, weighted. */
function heightCounts(first: readonly Turn[], second: readonly Turn[]): Map<number, number> {
  const counts = new Map<number, number>();
  for (const a of first) {
    for (const b of second) {
      const key = Math.round(Math.abs(a.z - b.z) * 1e12) / 1e12;
      counts.set(key, (counts.get(key) ?? 0) + a.weight * b.weight);
    }
  }
  return counts;
}

/** Turns grouped by their pieces (layers share them). */
function turnsByShape(winding: Winding): Turn[][] {
  const shapes = new Map<Turn['pieces'], Turn[]>();
  for (const turn of winding.turns) {
    const known = shapes.get(turn.pieces);
    if (known) known.push(turn);
    else shapes.set(turn.pieces, [turn]);
  }
  return [...shapes.values()];
}

function ringsSelf(winding: Winding, section: CrossSection): Estimate {
  const shapes = turnsByShape(winding);
  let value = 0;
  let left = 0;
  let evaluations = 0;
  for (let i = 0; i < shapes.length; i++) {
    for (let j = 0; j <= i; j++) {
      const times = i === j ? 1 : 2;
      const radiusA = ringRadius(shapes[i][0]);
      const radiusB = ringRadius(shapes[j][0]);
      for (const [height, count] of heightCounts(shapes[i], shapes[j])) {
        const own = i === j && height === 0;
        let pair: number;
        if (section.kind === 'strip') pair = stripRingPair(radiusA, radiusB, height, section.width, section.thickness);
        else if (own) pair = roundRingSelf(radiusA, section.radius, section.internalShare);
        else pair = roundRingPair(radiusA, radiusB, height, section.radius);
        value += times * count * pair;
        evaluations++;
        // Fourth order in the section's size over the radius for the own share, and (a/r)^2 (a/d)^2 for neighbours.
        const ratio2 = (section.size / Math.min(radiusA, radiusB)) ** 2;
        const near2 = own ? ratio2 : section.size ** 2 / ((radiusA - radiusB) ** 2 + height ** 2);
        left += times * count * MU0 * Math.min(radiusA, radiusB) * 0.02 * ratio2 * Math.min(1, near2);
      }
    }
  }
  return { value, errorEstimate: left + 1e-13 * value, evaluations };
}

function ringRadius(turn: Turn): number {
  const [piece] = turn.pieces;
  return piece.kind === 'arc' ? piece.radius : Number.NaN;
}

function generalSelf(winding: Winding, section: CrossSection, tolerance: number, rings: boolean): Estimate {
  const shapes = turnsByShape(winding);
  const placed = shapes.map(([turn]) => turn.pieces.map((piece) => placePiece(piece, tolerance)));
  const mirrored = isMirrored(winding);
  const unit = MU0 / (4 * Math.PI);
  let value = 0;
  let scale = 0;
  let doubt = 0;
  let evaluations = 0;
  const count = (integral: number, times: number) => {
    value += unit * integral * times;
    scale += unit * Math.abs(integral * times);
    evaluations++;
  };
  for (let i = 0; i < shapes.length; i++) {
    for (let j = 0; j <= i; j++) {
      const times = i === j ? 1 : 2;
      for (const [height, weight] of heightCounts(shapes[i], shapes[j])) {
        if (i === j && height === 0) {
          doubt +=
            weight *
            ownShare(placed[i], shapes[i][0], section, tolerance, rings, (integral) => count(integral, weight));
          continue;
        }
        for (const p of placed[i]) {
          const copies = mirrored ? mirrorCopies(p) : 1;
          if (copies === 0) continue;
          for (const q of placed[j]) count(pairIntegral(p, q, height, 0, tolerance), times * weight * copies);
        }
      }
    }
  }
  const correction = sectionCorrection(winding, section, mirrored);
  return {
    value: value + correction.value,
    errorEstimate: correction.errorEstimate + unit * doubt + MEASURED_SHARE * tolerance * scale + 1e-13 * scale,
    evaluations: evaluations + correction.evaluations,
  };
}

/** How many mirror images a piece of a shape symmetric about both axes stands for; 0 if another one stands for it. */
function mirrorCopies({ middle: [x, y], length }: PlacedPiece): number {
  const tiny = 1e-9 * length;
  if (x > tiny && y > tiny) return 4;
  return (x > tiny && Math.abs(y) <= tiny) || (y > tiny && Math.abs(x) <= tiny) ? 2 : 0;
}

/**
 * Whether two pieces are steps or leads between layers that the model puts one above the other in the same place: no two real wires
 * lie on each other, so that they count as one conductor.
 */
function stacked(p: Piece, q: Piece, section: CrossSection): boolean {
  if (Math.abs(pieceTangent(p, 0.5)[2]) < 0.9 || Math.abs(pieceTangent(q, 0.5)[2]) < 0.9) return false;
  return pieceDistance(p, q) < section.meanDistance;
}

/** Counts a turn's own integrals; returns the doubt about its sharp corners, m. */
function ownShare(
  pieces: readonly PlacedPiece[],
  turn: Turn,
  section: CrossSection,
  tolerance: number,
  closed: boolean,
  count: (integral: number) => void,
): number {
  let doubt = 0;
  const passes = passRanges(turn, closed);
  const n = pieces.length;
  for (let p = 0; p < n; p++) {
    count(selfIntegral(pieces[p].piece, section.meanDistance));
    for (let q = 0; q < p; q++) {
      const soft = passes.same(p, q) || stacked(pieces[p].piece, pieces[q].piece, section) ? section.meanDistance : 0;
      count(2 * pairIntegral(pieces[p], pieces[q], 0, soft, tolerance));
    }
    // Where the wire bends sharply its ends differ from a smooth run: exact for 0 and 90 degrees.
    const before = pieceTangent(pieces[(p + n - 1) % n].piece, 1);
    const after = pieceTangent(pieces[p].piece, 0);
    const cosine = before[0] * after[0] + before[1] * after[1] + before[2] * after[2];
    if (n > 1 && 1 - cosine > 1e-9) {
      count(cornerAddition(section) * (1 - cosine));
      doubt += cornerDoubt(section) * (1 - cosine);
    }
  }
  return doubt;
}
