import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { linkSidesOf } from '../../design/wind.ts';
import { solveOperatingPoint } from '../../physics/circuit/operating-point.ts';
import { conductorHeight } from '../../physics/coil/conductor-size.ts';
import { mutualInductance } from '../../physics/coil/mutual-inductance.ts';
import { windingNodes } from '../../physics/coil/nodes.ts';
import type { Winding } from '../../physics/coil/types.ts';
import { windingField } from '../../physics/coil/winding-field.ts';
import { wireResistance } from '../../physics/conductor/conductor-loss.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../link/link-context.ts';

/** What the driven coil of a row does to the open ones beside it, at most. */
export interface IdleCoils {
  /** The driven coil's current, A rms, and frequency, Hz: at the demand, the receiver over the first coil. */
  readonly drivenA: number;
  readonly frequencyHz: number;
  /** Eddy loss in the copper of all idle coils, W. */
  readonly lossW: number;
  /** Across an open coil's ends, V peak of the fundamental. */
  readonly openV: number;
}

/** A plate behind both coils makes the field at most that of their mirror images besides: twice (endless, mu without limit). */
const PLATE_FIELD = 2;
/** Nodes along the idle wire, as a share of the conductor's height: the field of a crossing wire is that narrow. */
const SPACING = 1;
/** Windings that cross, or lie side by side, touch: a hair between them. */
const APART = 1.001;
const COPPER_C = 60;

/**
 * Loss and voltage of the idle coils, which are open: no current flows round them. The field of the driven coil in air,
 * turn by turn, at every place of the idle wire, counted as if it lay across it; with ferrite or metal behind the
 * coils twice that (mirror images). Whichever coil is driven, the worst.
 *
 * Not in it: an idle coil that a switch leaves closed, or whose switch conducts because the voltage is above its supply. It
 * would carry a current and take from the field.
 *
 * @param design with its row (`furtherCoils`), the receiver centred @param first its first coil alone
 */
export function idleCoils(design: Design, first: Design): IdleCoils {
  const { furtherCoils, ferrite, metal } = design.transmitter;
  const { transmitter } = linkSidesOf(first);
  const { winding } = transmitter;
  const link = linkAtPose(linkContext(first), poseOfDesign(first), 'coarse').electrical;
  const point = solveOperatingPoint(link, boardsOf(first), demandOf(first).demandA, { tier: 'fast' });
  const { frequency: frequencyHz, transmitterCoilA: drivenA } = point;
  const factor = ferrite || metal ? PLATE_FIELD : 1;
  const perSquareField = wireResistance(winding.spec.conductor, frequencyHz, COPPER_C).perSquareField;
  const places = [{ xMm: 0, yMm: 0, heightStepMm: 0 }, ...furtherCoils];
  const height = conductorHeight(winding.spec.conductor) * APART;
  const known = new Map<string, Neighbour>();
  const between = (a: number, b: number): Neighbour => {
    const [from, to] = [places[a]!, places[b]!];
    const dz = (to.heightStepMm - from.heightStepMm) / 1e3;
    const shift = {
      x: (APART * (to.xMm - from.xMm)) / 1e3,
      y: (APART * (to.yMm - from.yMm)) / 1e3,
      z: Math.abs(dz) > 0 ? Math.sign(dz) * Math.max(APART * Math.abs(dz), height) : 0,
    };
    // The same coils seen from the other one, or mirrored.
    const key = [shift.x, shift.y, shift.z].map((value) => Math.abs(value).toFixed(9)).join();
    const found = known.get(key) ?? neighbour(winding, shift);
    known.set(key, found);
    return found;
  };
  let [lossW, openV] = [0, 0];
  places.forEach((_, driven) => {
    let loss = 0;
    places.forEach((__, idle) => {
      if (idle === driven) return;
      const { squareField, mutual } = between(driven, idle);
      loss += perSquareField * squareField * (factor * drivenA) ** 2;
      openV = Math.max(openV, Math.SQRT2 * 2 * Math.PI * frequencyHz * Math.abs(mutual) * factor * drivenA);
    });
    lossW = Math.max(lossW, loss);
  });
  return { drivenA, frequencyHz, lossW, openV };
}

interface Neighbour {
  /** Square of the field, per square ampere, over the idle wire's length: (A/m)^2 m / A^2. */
  readonly squareField: number;
  /** In air, H. */
  readonly mutual: number;
}

/** One ampere in a winding, and the same winding elsewhere. */
function neighbour(winding: Winding, shift: { readonly x: number; readonly y: number; readonly z: number }): Neighbour {
  const field = windingField(winding, 1e-3);
  const nodes = windingNodes(winding, SPACING * conductorHeight(winding.spec.conductor));
  const h = new Float64Array(3);
  const { filars } = winding.spec;
  let squareField = 0;
  for (let i = 0; i < nodes.count; i++) {
    field.at(nodes.x[i]! + shift.x, nodes.y[i]! + shift.y, nodes.z[i]! + shift.z, 0, 0, h);
    // The line element carries the wire's share of the current; its length does not.
    const length = filars * Math.hypot(nodes.dx[i]!, nodes.dy[i]!, nodes.dz[i]!);
    squareField += (h[0]! ** 2 + h[1]! ** 2 + h[2]! ** 2) * length;
  }
  const mutual = mutualInductance(
    winding,
    winding,
    { ...shift, yaw: 0, tiltX: 0, tiltY: 0 },
    { tolerance: 1e-3 },
  ).value;
  return { squareField, mutual };
}
