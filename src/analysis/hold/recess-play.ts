/**
 * The play of a rounded rectangle in a rounded-rectangle pocket: exactly which offsets and turns it allows.
 *
 * The device is the hull of its four corner circles. It fits where the centre of each corner circle lies in the pocket
 * shrunk by the circle's radius: again a rounded rectangle, or a sharp one where the device's corners are the rounder.
 */
import { bracketedRoot } from '../../numerics/bracketed-root.ts';
import { isRound, type RoundedShape } from './device-shape.ts';

/** Lengths in mm, angles in rad. */
export interface RecessPlay {
  readonly device: RoundedShape;
  readonly pocket: RoundedShape;
  /** The pocket shrunk by the device's corner radius: where the corner centres may be. */
  readonly room: RoundedShape;
  /** Largest turn either way, pi where the device can turn all the way round. NaN where it does not fit at all. */
  readonly largestYaw: number;
}

export interface PlayInterval {
  readonly from: number;
  readonly to: number;
}

/** Play of `device` in `pocket`; both axes parallel at yaw 0. */
export function recessPlay(device: RoundedShape, pocket: RoundedShape): RecessPlay {
  const shrink = device.cornerRadiusMm;
  const room: RoundedShape = {
    halfWidthMm: pocket.halfWidthMm - shrink,
    halfHeightMm: pocket.halfHeightMm - shrink,
    cornerRadiusMm: Math.max(0, pocket.cornerRadiusMm - shrink),
  };
  return { device, pocket, room, largestYaw: largestYaw(device, room) };
}

/** Corner centre `index` (0..3, counter-clockwise from +x +y) of the device turned by `yaw`: its x and its y. */
function cornerX(device: RoundedShape, yaw: number, index: number): number {
  const a = (index === 0 || index === 3 ? 1 : -1) * (device.halfWidthMm - device.cornerRadiusMm);
  const b = (index < 2 ? 1 : -1) * (device.halfHeightMm - device.cornerRadiusMm);
  return a * Math.cos(yaw) - b * Math.sin(yaw);
}
function cornerY(device: RoundedShape, yaw: number, index: number): number {
  const a = (index === 0 || index === 3 ? 1 : -1) * (device.halfWidthMm - device.cornerRadiusMm);
  const b = (index < 2 ? 1 : -1) * (device.halfHeightMm - device.cornerRadiusMm);
  return a * Math.sin(yaw) + b * Math.cos(yaw);
}

/** Half-width of a rounded rectangle at height y; NaN outside. */
function halfWidthAt(room: RoundedShape, y: number): number {
  const over = Math.abs(y) - (room.halfHeightMm - room.cornerRadiusMm);
  if (over <= 0) return room.halfWidthMm;
  if (!(over <= room.cornerRadiusMm)) return Number.NaN;
  return (
    room.halfWidthMm - room.cornerRadiusMm + Math.sqrt((room.cornerRadiusMm - over) * (room.cornerRadiusMm + over))
  );
}

/** How far a point is inside the room (negative outside), mm: exact distance to the nearest wall inside. */
function depthIn(room: RoundedShape, x: number, y: number): number {
  const u = Math.abs(x) - (room.halfWidthMm - room.cornerRadiusMm);
  const v = Math.abs(y) - (room.halfHeightMm - room.cornerRadiusMm);
  if (u > 0 && v > 0) return room.cornerRadiusMm - Math.hypot(u, v);
  return room.cornerRadiusMm - Math.max(u, v);
}

/**
 * Least distance between the device's corner circles and the pocket's wall, mm; negative where the device does not fit.
 */
export function playDepth(play: RecessPlay, x: number, y: number, yaw: number): number {
  const { device, room } = play;
  const a = device.halfWidthMm - device.cornerRadiusMm;
  const b = device.halfHeightMm - device.cornerRadiusMm;
  const c = Math.cos(yaw);
  const s = Math.sin(yaw);
  // Opposite corners are mirror images: two of them and their signs make four.
  const px = a * c - b * s;
  const py = a * s + b * c;
  const qx = a * c + b * s;
  const qy = a * s - b * c;
  return Math.min(
    depthIn(room, x + px, y + py),
    depthIn(room, x - px, y - py),
    depthIn(room, x + qx, y + qy),
    depthIn(room, x - qx, y - qy),
  );
}

/** Whether the device fits with its centre at (x, y) mm, turned by `yaw`, rad. */
export function playAllows(play: RecessPlay, x: number, y: number, yaw: number): boolean {
  return playDepth(play, x, y, yaw) >= 0;
}

/** Offsets along x that the device has at height y and turn `yaw`, or null where it has none. Exact. */
export function playAlongX(play: RecessPlay, y: number, yaw: number): PlayInterval | null {
  let from = Number.NEGATIVE_INFINITY;
  let to = Number.POSITIVE_INFINITY;
  for (let i = 0; i < 4; i += 1) {
    const half = halfWidthAt(play.room, y + cornerY(play.device, yaw, i));
    const x = cornerX(play.device, yaw, i);
    if (Number.isNaN(half)) return null;
    from = Math.max(from, -half - x);
    to = Math.min(to, half - x);
  }
  return from <= to ? { from, to } : null;
}

/**
 * Half-extents of the free offsets at a turn, mm: the set is symmetric about the origin and, where the pocket's corners are
 * no rounder than the device's, exactly this box. Null where the device does not fit at that turn.
 */
export function playBox(play: RecessPlay, yaw: number): { readonly halfXMm: number; readonly halfYMm: number } | null {
  const along = extent(play, yaw, play.room.halfWidthMm, cornerX);
  const across = extent(play, yaw, play.room.halfHeightMm, cornerY);
  if (!(along >= 0 && across >= 0)) return null;
  if (play.room.cornerRadiusMm === 0) return { halfXMm: along, halfYMm: across };
  const middle = playAlongX(play, 0, yaw);
  if (!middle) return null;
  return { halfXMm: farthest(play, yaw, true), halfYMm: farthest(play, yaw, false) };
}

function extent(
  play: RecessPlay,
  yaw: number,
  half: number,
  corner: (device: RoundedShape, yaw: number, index: number) => number,
): number {
  return half - Math.max(Math.abs(corner(play.device, yaw, 0)), Math.abs(corner(play.device, yaw, 1)));
}

/** Largest x (or y) of the free set where the room has round corners: the set is convex, so the width is unimodal. */
function farthest(play: RecessPlay, yaw: number, alongX: boolean): number {
  // A turned copy of the problem with x and y exchanged serves for y.
  const swap = (s: RoundedShape): RoundedShape => ({
    halfWidthMm: s.halfHeightMm,
    halfHeightMm: s.halfWidthMm,
    cornerRadiusMm: s.cornerRadiusMm,
  });
  const view: RecessPlay = alongX ? play : { ...play, device: swap(play.device), room: swap(play.room) };
  const turn = alongX ? yaw : -yaw;
  const at = (y: number) => playAlongX(view, y, turn)?.to ?? Number.NEGATIVE_INFINITY;
  const reach = extent(view, turn, view.room.halfHeightMm, cornerY);
  let low = -reach;
  let high = reach;
  const golden = (Math.sqrt(5) - 1) / 2;
  for (let i = 0; i < 90; i += 1) {
    const a = high - golden * (high - low);
    const b = low + golden * (high - low);
    const atA = at(a);
    const atB = at(b);
    if (atA === Number.NEGATIVE_INFINITY && atB === atA) {
      low = a;
      high = b;
    } else if (atA < atB) low = a;
    else high = b;
  }
  return Math.max(at((low + high) / 2), at(0));
}

/**
 * Largest turn of the device in the room with its centre in the middle (the free set is symmetric, so it is empty when the
 * middle is not free).
 */
function largestYaw(device: RoundedShape, room: RoundedShape): number {
  const a = device.halfWidthMm - device.cornerRadiusMm;
  const b = device.halfHeightMm - device.cornerRadiusMm;
  if (depthIn(room, a, b) < 0) return Number.NaN;
  if (isRound(device)) return Math.PI;
  if (room.cornerRadiusMm === 0)
    // Corner (a, b) turning towards either wall: a cos t + b sin t = half, first crossing.
    return Math.min(firstTouch(a, b, room.halfWidthMm), firstTouch(b, a, room.halfHeightMm));
  const depth = (yaw: number) => {
    const c = Math.cos(yaw);
    const s = Math.sin(yaw);
    return Math.min(depthIn(room, a * c + b * s, b * c - a * s), depthIn(room, a * c - b * s, b * c + a * s));
  };
  const steps = 720;
  let before = depth(0);
  for (let i = 1; i <= steps; i += 1) {
    const after = depth((Math.PI * i) / steps);
    if (after < 0) {
      const low = (Math.PI * (i - 1)) / steps;
      const high = (Math.PI * i) / steps;
      return before <= 0 ? low : bracketedRoot(depth, low, high, before, after).value;
    }
    before = after;
  }
  return Math.PI;
}

/** Smallest t >= 0 with a cos t + b sin t = half, given a <= half; pi where there is none. */
function firstTouch(a: number, b: number, half: number): number {
  const size = Math.hypot(a, b);
  if (half >= size) return Math.PI;
  return Math.max(0, Math.atan2(b, a) - Math.acos(half / size));
}
