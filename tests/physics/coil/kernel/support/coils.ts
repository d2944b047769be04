import type { RandomSource } from '../../../../../src/numerics/random.ts';
import type { CoilSpec, Piece, Pose, Turn, Winding } from '../../../../../src/physics/coil/types.ts';
import { windCoil } from '../../../../../src/physics/coil/winding.ts';

const MM = 1e-3;

/** The demo scenario's transmitter coil (design.md section 2): 44 mm circle, 10 turns. */
export function demoTransmitter(): Winding {
  return windCoil({
    outline: { shape: 'circle', outerDiameter: 44 * MM, innerDiameter: 20.5 * MM },
    turns: 10,
    layers: 1,
    layerPitch: 1.2 * MM,
    filars: 1,
    winding: 'rings',
    conductor: { kind: 'litz', strands: 105, strandDiameter: 0.08 * MM, bundleDiameter: 1.1 * MM },
  });
}

/** The demo scenario's receiver coil: 46 x 33 mm rounded rectangle, 14 turns in two layers. */
export function demoReceiver(): Winding {
  return windCoil({
    outline: {
      shape: 'roundedRectangle',
      outerWidth: 46 * MM,
      outerHeight: 33 * MM,
      innerWidth: 28 * MM,
      innerHeight: 15 * MM,
      outerCornerRadius: 10 * MM,
      innerCornerRadius: 2 * MM,
    },
    turns: 14,
    layers: 2,
    layerPitch: 0.75 * MM,
    filars: 1,
    winding: 'rings',
    conductor: { kind: 'litz', strands: 60, strandDiameter: 0.08 * MM, bundleDiameter: 0.75 * MM },
  });
}

/** Mid-plane distance at a clear gap between the facing conductor surfaces, m. */
export function midPlaneDistance(a: Winding, b: Winding, gap: number): number {
  return gap + a.halfThickness + b.halfThickness;
}

/** A winding of bare filaments in the plane z = 0. */
export function filamentWinding(...paths: readonly (readonly Piece[])[]): Winding {
  const turns: Turn[] = paths.map((pieces) => ({ pieces, z: 0, weight: 1 }));
  return { ...demoTransmitter(), turns, halfThickness: 0, pitchX: 0, pitchY: 0 };
}

export function circlePath(radius: number, cx = 0, cy = 0): readonly Piece[] {
  return [{ kind: 'arc', cx, cy, radius, start: 0, sweep: 2 * Math.PI }];
}

/** Counter-clockwise rounded rectangle about the origin. */
export function rectanglePath(width: number, height: number, corner: number): readonly Piece[] {
  const p = width / 2 - corner;
  const q = height / 2 - corner;
  const lines: Piece[] = [
    { kind: 'line', x0: p + corner, y0: -q, x1: p + corner, y1: q },
    { kind: 'line', x0: p, y0: q + corner, x1: -p, y1: q + corner },
    { kind: 'line', x0: -p - corner, y0: q, x1: -p - corner, y1: -q },
    { kind: 'line', x0: -p, y0: -q - corner, x1: p, y1: -q - corner },
  ];
  if (corner === 0) return lines;
  const arcs = [
    [p, q],
    [-p, q],
    [-p, -q],
    [p, -q],
  ].map(
    ([cx, cy], quarter): Piece => ({
      kind: 'arc',
      cx: cx!,
      cy: cy!,
      radius: corner,
      start: (quarter * Math.PI) / 2,
      sweep: Math.PI / 2,
    }),
  );
  return lines.flatMap((line, k) => [line, arcs[k]!]);
}

/** A coil that nobody has tuned anything on: shape, size, turns and layers at random. */
export function randomCoil(random: RandomSource): Winding {
  const pick = (low: number, high: number) => low + (high - low) * random.uniform();
  const whole = (low: number, high: number) => Math.floor(pick(low, high + 1));
  const layers = whole(1, 4) === 1 ? 2 : 1;
  const perLayer = whole(3, 12);
  const width = pick(20, 55) * MM;
  const height = width * pick(0.55, 1);
  const build = height * pick(0.18, 0.36);
  const pitch = build / perLayer;
  const base = {
    turns: perLayer * layers,
    layers,
    layerPitch: 0.9 * pitch,
    filars: 1,
    winding: 'rings' as const,
    conductor: { kind: 'solid' as const, diameter: 0.7 * pitch, insulatedDiameter: 0.8 * pitch },
  };
  const inner = (outer: number) => outer - 2 * build;
  const outlines: CoilSpec['outline'][] = [
    { shape: 'circle', outerDiameter: height, innerDiameter: inner(height) },
    {
      shape: 'roundedRectangle',
      outerWidth: width,
      outerHeight: height,
      innerWidth: inner(width),
      innerHeight: inner(height),
      outerCornerRadius: build + pick(0.02, 0.1) * height,
      innerCornerRadius: random.uniform() < 0.5 ? null : pick(0.02, 0.1) * height,
    },
    {
      shape: 'stadium',
      outerWidth: width + 2 * MM,
      outerHeight: height,
      innerWidth: inner(width + 2 * MM),
      innerHeight: inner(height),
    },
  ];
  return windCoil({ ...base, outline: outlines[whole(0, 2)]! });
}

/** A pose at a clear gap of 1.5 to 30 mm, up to 25 mm off centre; four in ten are tilted by up to 9 degrees. */
export function randomPose(random: RandomSource, a: Winding, b: Winding): Pose {
  const about = (most: number) => most * (2 * random.uniform() - 1);
  const tilted = random.uniform() < 0.4;
  const tiltX = tilted ? about(0.15) : 0;
  const tiltY = tilted ? about(0.15) : 0;
  // Lifted so that the low edge keeps the gap.
  const lift = Math.max(b.halfWidth, b.halfHeight) * (Math.sin(Math.abs(tiltX)) + Math.sin(Math.abs(tiltY)));
  return {
    x: random.uniform() < 0.25 ? 0 : about(25 * MM),
    y: random.uniform() < 0.25 ? 0 : about(25 * MM),
    z: midPlaneDistance(a, b, 1.5 * MM * 20 ** random.uniform()) + lift,
    yaw: random.uniform() < 0.3 ? 0 : about(Math.PI),
    tiltX,
    tiltY,
  };
}

export function poseAt(x: number, y: number, z: number, yaw = 0, tiltX = 0, tiltY = 0): Pose {
  return { x, y, z, yaw, tiltX, tiltY };
}
