import { windingField } from '../coil/winding-field.ts';
import { MU0 } from '../constants.ts';
import { incidentClasses, inverseMotion, type LinkEnd, type LinkSolution } from './link-solver.ts';
import { addPanelField } from './panel-potential.ts';
import type { PanelSet } from './panel-set.ts';
import { type CellFlux, plateFlux } from './plate-flux.ts';
import type { SideModel } from './side-model.ts';
import { sideCharges, sideCurrents } from './side-network.ts';

/** The field of a link at one pose and one pair of currents. */
export interface FieldView {
  /** B in T at a point of the transmitter's frame, x y z into `out`. Inside plates and wires it has no meaning. */
  at(x: number, y: number, z: number, out: Float64Array): Float64Array;
  /** Flux density inside a ferrite, T: mean over the thickness of each cell, and the largest. Null without ferrite. */
  plateFlux(side: 'transmitter' | 'receiver'): CellFlux | null;
}

/** Charges and currents on a side's plates, in its coil's frame. */
interface Sources {
  readonly panels: PanelSet;
  readonly charges: Float64Array;
  readonly loops: PanelSet | null;
  readonly currents: Float64Array;
}

export function createFieldView(
  one: SideModel,
  two: SideModel,
  level: number,
  link: {
    readonly end1: LinkEnd;
    readonly end2: LinkEnd;
    readonly solution: LinkSolution;
    readonly matrix: Float64Array;
  },
  i1: number,
  i2: number,
): FieldView {
  const { matrix, solution } = link;
  const sides = ([one, two] as const).map((model, s) => {
    const network = (s === 0 ? link.end1 : link.end2).network;
    const psi = new Float64Array(4 * network.quarter);
    const from1 = solution.incident[0][s as 0 | 1];
    const from2 = solution.incident[1][s as 0 | 1];
    for (let k = 0; k < psi.length; k++) psi[k] = i1 * from1[k]! + i2 * from2[k]!;
    const incident = incidentClasses(network, psi, s === 0 ? i1 : i2);
    const { listeners, charged } = model.parts(level);
    return {
      coil: windingField(model.side.winding, 1e-6),
      current: s === 0 ? i1 : i2,
      sources: {
        panels: listeners.panels,
        charges: sideCharges(network, charged, incident),
        loops: listeners.loops,
        currents: sideCurrents(network, listeners.loopMembers, incident),
      },
    };
  });
  const back = inverseMotion(matrix);
  const h = new Float64Array(3);
  const own = new Float64Array(3);
  const sideField = (s: number, x: number, y: number, z: number) => {
    const { coil, current, sources } = sides[s]!;
    coil.at(x, y, z, 0, 0, own);
    for (let k = 0; k < 3; k++) own[k] = own[k]! * current;
    addSources(sources, x, y, z, own);
  };
  return {
    at(x, y, z, out) {
      sideField(0, x, y, z);
      h.set(own);
      const m = back;
      sideField(
        1,
        m[0]! * x + m[1]! * y + m[2]! * z + m[9]!,
        m[3]! * x + m[4]! * y + m[5]! * z + m[10]!,
        m[6]! * x + m[7]! * y + m[8]! * z + m[11]!,
      );
      for (let k = 0; k < 3; k++) {
        out[k] = MU0 * (h[k]! + matrix[3 * k]! * own[0]! + matrix[3 * k + 1]! * own[1]! + matrix[3 * k + 2]! * own[2]!);
      }
      return out;
    },
    plateFlux(side) {
      const s = side === 'transmitter' ? 0 : 1;
      const { ferrite } = (s === 0 ? one : two).parts(level);
      return ferrite ? plateFlux(ferrite, sides[s]!.sources.charges) : null;
    },
  };
}

/** H per ampere of a coil's own plates, far side absent, in the coil's frame. */
export function plateField(
  model: SideModel,
  level: number,
): (x: number, y: number, z: number, out: Float64Array) => void {
  const { listeners } = model.parts(level);
  const sources = { panels: listeners.panels, loops: listeners.loops, ...model.alone(level) };
  return (x, y, z, out) => {
    out[0] = 0;
    out[1] = 0;
    out[2] = 0;
    addSources(sources, x, y, z, out);
  };
}

/** Adds H of charges and loops: exact within three panel sizes, beyond as points and dipoles. */
function addSources(sources: Sources, x: number, y: number, z: number, out: Float64Array): void {
  const { panels, charges, loops, currents } = sources;
  for (let p = 0; p < charges.length; p++) {
    const rx = x - panels.centre[3 * p]!;
    const ry = y - panels.centre[3 * p + 1]!;
    const rz = z - panels.centre[3 * p + 2]!;
    const r2 = rx * rx + ry * ry + rz * rz;
    if (r2 < 9 * panels.size[p]! ** 2) {
      addPanelField(panels, p, x, y, z, charges[p]! / (4 * Math.PI * panels.area[p]!), out);
      continue;
    }
    const scale = charges[p]! / (4 * Math.PI * r2 * Math.sqrt(r2));
    out[0] = out[0]! + scale * rx;
    out[1] = out[1]! + scale * ry;
    out[2] = out[2]! + scale * rz;
  }
  for (let l = 0; l < currents.length; l++) addLoopField(loops!, l, x, y, z, currents[l]!, out);
}

/** Adds H of a current around loop l: its dipole beyond three cells, its edges as straight wires nearer. */
function addLoopField(
  loops: PanelSet,
  l: number,
  x: number,
  y: number,
  z: number,
  current: number,
  out: Float64Array,
): void {
  const rx = x - loops.centre[3 * l]!;
  const ry = y - loops.centre[3 * l + 1]!;
  const rz = z - loops.centre[3 * l + 2]!;
  const r2 = rx * rx + ry * ry + rz * rz;
  if (r2 > 9 * loops.size[l]! ** 2) {
    const scale = (current * loops.area[l]!) / (4 * Math.PI * r2 * r2 * Math.sqrt(r2));
    out[0] = out[0]! + scale * 3 * rz * rx;
    out[1] = out[1]! + scale * 3 * rz * ry;
    out[2] = out[2]! + scale * (3 * rz * rz - r2);
    return;
  }
  const c = loops.corner;
  for (let k = 0; k < 4; k++) {
    const a = 12 * l + 3 * k;
    const b = 12 * l + 3 * ((k + 1) % 4);
    const ax = x - c[a]!;
    const ay = y - c[a + 1]!;
    const az = z - c[a + 2]!;
    const bx = x - c[b]!;
    const by = y - c[b + 1]!;
    const bz = z - c[b + 2]!;
    const ra = Math.hypot(ax, ay, az);
    const rb = Math.hypot(bx, by, bz);
    const bottom = ra * rb * (ra * rb + ax * bx + ay * by + az * bz);
    if (bottom < 1e-30) continue;
    const scale = (current * (ra + rb)) / (4 * Math.PI * bottom);
    // dl x r of the wire from a to b, seen from the point.
    out[0] = out[0]! + scale * (ay * bz - az * by);
    out[1] = out[1]! + scale * (az * bx - ax * bz);
    out[2] = out[2]! + scale * (ax * by - ay * bx);
  }
}
