/** Magnet layouts between the two ferrite plates of the link: how the ferrite changes pull and centring. */
import { MU0 } from '../constants.ts';
import { HOME, layoutForce, type MagnetLayout } from './magnet-layout.ts';
import {
  addDiscPotential,
  discInPlate,
  type PlacedDisc,
  plateCharges,
  plateOnDiscs,
  type SoftPlate,
} from './soft-plate.ts';
import type { Wrench } from './types.ts';

/** A plate and the height of its middle over the mid-plane between the facing magnets at home, m. */
export interface PlateAt {
  readonly plate: SoftPlate;
  readonly height: number;
}

export interface LayoutPlates {
  /** Fixed to the dock, under the gap. */
  readonly dock: PlateAt | null;
  /** Moves with the device, over the gap. */
  readonly device: PlateAt | null;
}

export interface PlateForce {
  /** On the device: magnets and ferrite of both sides together; torque about the device's axis in tz only. */
  readonly total: Wrench;
  /** What the magnets alone would do. */
  readonly air: Wrench;
  /** Magnetic charges on the panels of the two plates, A m; empty where there is no plate. */
  readonly dockCharges: Float64Array;
  readonly deviceCharges: Float64Array;
  /** Relative change in the last round of mutual influence of the two plates. */
  readonly change: number;
}

/** Rounds after which the two plates' influence on each other must have settled. */
const ROUNDS = 12;

/**
 * Force on the device with its magnets and ferrite, level and not lifted, at an offset (m) and turn (rad).
 *
 * Each plate answers to all magnets of both sides and to the other plate's charges, in turns until the change is below 1e-3
 * of the largest charge. The force on the device is what the dock's magnets and plate do to the device's magnets and plate.
 * A plate that a magnet of its own side would have to pierce is taken without a hole and must be left out by the caller
 * (`layoutPlateFaults`). Accuracy: 2 % of the pull with panels no larger than the clear distance; air value exact.
 */
export function layoutForceOnPlates(
  layout: MagnetLayout,
  plates: LayoutPlates,
  x: number,
  y: number,
  yaw: number,
): PlateForce {
  const { dock, device } = plates;
  const air = layoutForce(layout, { ...HOME, x, y, yaw });
  const c = Math.cos(yaw);
  const s = Math.sin(yaw);
  const dockDiscs = layout.facing === 'magnet' ? discsOf(layout, false) : [];
  const deviceDiscs = discsOf(layout, true);
  // World: origin on the dock's axis in the mid-plane. Device frame: moved by (x, y), turned by yaw.
  const toDevice = ({ disc, x: px, y: py, z }: PlacedDisc): PlacedDisc => ({
    disc,
    x: c * (px - x) + s * (py - y),
    y: -s * (px - x) + c * (py - y),
    z,
  });
  const toWorld = ({ disc, x: px, y: py, z }: PlacedDisc): PlacedDisc => ({
    disc,
    x: x + c * px - s * py,
    y: y + s * px + c * py,
    z,
  });
  const sink = (discs: readonly PlacedDisc[], height: number) => discs.map((d) => ({ ...d, z: d.z - height }));
  const deviceInWorld = deviceDiscs.map(toWorld);
  const dockInDevice = dockDiscs.map(toDevice);

  const dockOwn = dock
    ? addDiscPotential(
        dock.plate,
        sink([...dockDiscs, ...deviceInWorld], dock.height),
        new Float64Array(dock.plate.panels),
      )
    : new Float64Array(0);
  const deviceOwn = device
    ? addDiscPotential(
        device.plate,
        sink([...deviceDiscs, ...dockInDevice], device.height),
        new Float64Array(device.plate.panels),
      )
    : new Float64Array(0);
  let dockCharges: Float64Array = dock ? plateCharges(dock.plate, dockOwn) : dockOwn;
  let deviceCharges: Float64Array = device ? plateCharges(device.plate, deviceOwn) : deviceOwn;
  let change = 0;
  if (dock && device) {
    const a = placedCentres(dock, (p) => p);
    const b = placedCentres(device, ([px, py, pz]) => [x + c * px - s * py, y + s * px + c * py, pz]);
    for (let round = 0; round < ROUNDS; round += 1) {
      const before = deviceCharges;
      dockCharges = plateCharges(dock.plate, addPoints(b, deviceCharges, a, dockOwn.slice()));
      deviceCharges = plateCharges(device.plate, addPoints(a, dockCharges, b, deviceOwn.slice()));
      change = relativeChange(before, deviceCharges);
      if (change < 1e-3) break;
    }
  }
  let { fx, fy, fz, tz } = air;
  if (dock) {
    const on = plateOnDiscs(dock.plate, sink(deviceInWorld, dock.height), dockCharges);
    fx += on.fx;
    fy += on.fy;
    fz += on.fz;
    tz += on.tz - (x * on.fy - y * on.fx);
  }
  if (device && dockInDevice.length > 0) {
    // The plate pushes the dock's discs; the discs push the plate back. Turned into the world's directions.
    const on = plateOnDiscs(device.plate, sink(dockInDevice, device.height), deviceCharges);
    fx -= c * on.fx - s * on.fy;
    fy -= s * on.fx + c * on.fy;
    fz -= on.fz;
    tz -= on.tz;
  }
  if (dock && device) {
    const a = placedCentres(dock, (p) => p);
    const b = placedCentres(device, ([px, py, pz]) => [x + c * px - s * py, y + s * px + c * py, pz]);
    const on = pointForce(a, dockCharges, b, deviceCharges, x, y);
    fx += on[0];
    fy += on[1];
    fz += on[2];
    tz += on[3];
  }
  return { total: { fx, fy, fz, tx: air.tx, ty: air.ty, tz }, air, dockCharges, deviceCharges, change };
}

/** A plate's outline and place, before it is built. */
export interface PlateOutlineAt {
  readonly plate: Pick<SoftPlate, 'outline' | 'thickness'>;
  readonly height: number;
}

/** Why plates cannot be taken into account: a magnet would have to go through its own plate, or through the other. */
export function layoutPlateFaults(
  layout: MagnetLayout,
  plates: { readonly dock: PlateOutlineAt | null; readonly device: PlateOutlineAt | null },
): string[] {
  const faults: string[] = [];
  const dockDiscs = layout.facing === 'magnet' ? discsOf(layout, false) : [];
  for (const [name, at] of [
    ['dock', plates.dock],
    ['device', plates.device],
  ] as const) {
    if (!at) continue;
    for (const placed of [...dockDiscs, ...discsOf(layout, true)])
      if (discInPlate(at.plate, { ...placed, z: placed.z - at.height }))
        faults.push(
          `A magnet at (${(placed.x * 1e3).toFixed(1)}, ${(placed.y * 1e3).toFixed(1)}) mm would lie inside the ${name}'s ferrite: the ferrite needs a hole there, which the model does not have.`,
        );
  }
  return [...new Set(faults)];
}

/** Discs of one side about its own axis; z from the mid-plane between the facing surfaces at home. */
export function discsOf(layout: MagnetLayout, upper: boolean): PlacedDisc[] {
  const disc = upper ? layout.upper : layout.lower;
  const z = (upper ? 1 : -1) * (layout.gap / 2 + disc.thickness / 2);
  return Array.from({ length: layout.positions.length / 2 }, (_, i) => ({
    disc: layout.polarity?.[i] === -1 ? { ...disc, remanence: -disc.remanence } : disc,
    x: layout.positions[2 * i],
    y: layout.positions[2 * i + 1],
    z,
  }));
}

function placedCentres(at: PlateAt, move: (p: [number, number, number]) => [number, number, number]): Float64Array {
  const { centre } = at.plate.response.mesh.panels;
  const out = new Float64Array(3 * at.plate.panels);
  for (let p = 0; p < at.plate.panels; p += 1)
    out.set(move([centre[3 * p], centre[3 * p + 1], centre[3 * p + 2] + at.height]), 3 * p);
  return out;
}

/** Adds the potential of point charges to `out`. */
function addPoints(from: Float64Array, charges: Float64Array, to: Float64Array, out: Float64Array): Float64Array {
  for (let i = 0; i < out.length; i += 1) {
    const x = to[3 * i];
    const y = to[3 * i + 1];
    const z = to[3 * i + 2];
    let sum = 0;
    for (let j = 0; j < charges.length; j += 1) {
      const dx = x - from[3 * j];
      const dy = y - from[3 * j + 1];
      const dz = z - from[3 * j + 2];
      sum += charges[j] / Math.sqrt(dx * dx + dy * dy + dz * dz);
    }
    out[i] += sum / (4 * Math.PI);
  }
  return out;
}

/** Force of one set of point charges on another, and its torque about the vertical through (x, y). */
function pointForce(
  from: Float64Array,
  a: Float64Array,
  to: Float64Array,
  b: Float64Array,
  x: number,
  y: number,
): [number, number, number, number] {
  const sum: [number, number, number, number] = [0, 0, 0, 0];
  for (let i = 0; i < b.length; i += 1) {
    let hx = 0;
    let hy = 0;
    let hz = 0;
    for (let j = 0; j < a.length; j += 1) {
      const dx = to[3 * i] - from[3 * j];
      const dy = to[3 * i + 1] - from[3 * j + 1];
      const dz = to[3 * i + 2] - from[3 * j + 2];
      const r2 = dx * dx + dy * dy + dz * dz;
      const w = a[j] / (r2 * Math.sqrt(r2));
      hx += w * dx;
      hy += w * dy;
      hz += w * dz;
    }
    const scale = (MU0 / (4 * Math.PI)) * b[i];
    const fx = scale * hx;
    const fy = scale * hy;
    sum[0] += fx;
    sum[1] += fy;
    sum[2] += scale * hz;
    sum[3] += (to[3 * i] - x) * fy - (to[3 * i + 1] - y) * fx;
  }
  return sum;
}

function relativeChange(before: Float64Array, after: Float64Array): number {
  let most = 0;
  let moved = 0;
  for (let k = 0; k < after.length; k += 1) {
    most = Math.max(most, Math.abs(after[k]));
    moved = Math.max(moved, Math.abs(after[k] - before[k]));
  }
  return most > 0 ? moved / most : 0;
}
