import type { CoilSpec, Conductor, Pose, Winding } from '../../../src/physics/coil/types.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';

/** Coils that several tests wind. The two of the demo design come from design.md section 2, our own scenario. */

export const CENTRED: Pose = Object.freeze({ x: 0, y: 0, z: 0, yaw: 0, tiltX: 0, tiltY: 0 });

export function pose(part: Partial<Pose>): Pose {
  return { ...CENTRED, ...part };
}

export function litz(strands: number, bundleDiameter: number): Conductor {
  return { kind: 'litz', strands, strandDiameter: 0.08e-3, bundleDiameter };
}

export function solid(diameter: number): Conductor {
  return { kind: 'solid', diameter, insulatedDiameter: diameter };
}

export function trace(width: number, thickness = 35e-6): Conductor {
  return { kind: 'trace', width, thickness };
}

const ONE_LAYER = { layers: 1, layerPitch: 0, filars: 1, winding: 'rings' } as const;

export const TRANSMITTER: CoilSpec = {
  ...ONE_LAYER,
  outline: { shape: 'circle', outerDiameter: 44e-3, innerDiameter: 20.5e-3 },
  turns: 10,
  conductor: litz(105, 1.1e-3),
};

export const RECEIVER: CoilSpec = {
  ...ONE_LAYER,
  outline: {
    shape: 'roundedRectangle',
    outerWidth: 46e-3,
    outerHeight: 33e-3,
    innerWidth: 28e-3,
    innerHeight: 15e-3,
    outerCornerRadius: 10e-3,
    innerCornerRadius: 2e-3,
  },
  turns: 14,
  layers: 2,
  layerPitch: 0.8e-3,
  conductor: litz(60, 0.75e-3),
};

/** Rings of a circle between two centre-line radii. */
export function rings(outerRadius: number, innerRadius: number, turns: number, conductor: Conductor): Winding {
  const width =
    conductor.kind === 'trace'
      ? conductor.width
      : conductor.kind === 'litz'
        ? conductor.bundleDiameter
        : conductor.insulatedDiameter;
  return windCoil({
    ...ONE_LAYER,
    outline: { shape: 'circle', outerDiameter: 2 * outerRadius + width, innerDiameter: 2 * innerRadius - width },
    turns,
    conductor,
  });
}

/** One thin circular filament. */
export function circle(radius: number): Winding {
  return rings(radius, radius, 1, solid(1e-5 * radius));
}

/** Closed polygon turns through `points` (outermost centre line), offset inwards by `pitch`. */
export function polygon(points: readonly number[], turns = 1, pitch = 1, conductor: Conductor = solid(1e-7)): Winding {
  return windCoil({
    ...ONE_LAYER,
    outline: { shape: 'path', points: Float64Array.from(points), pitch },
    turns,
    conductor,
  });
}

/** Corners of a rectangle of these sides about the origin, counter-clockwise. */
export function rectanglePoints(width: number, height: number): number[] {
  const [a, b] = [width / 2, height / 2];
  return [a, b, -a, b, -a, -b, a, -b];
}

/** One thin rounded rectangle whose centre line has these sides and corner radius. */
export function roundedLoop(width: number, height: number, cornerRadius: number): Winding {
  const wire = 1e-6;
  return windCoil({
    ...ONE_LAYER,
    outline: {
      shape: 'roundedRectangle',
      outerWidth: width + wire,
      outerHeight: height + wire,
      innerWidth: width - wire,
      innerHeight: height - wire,
      outerCornerRadius: cornerRadius + wire / 2,
      innerCornerRadius: null,
    },
    turns: 1,
    conductor: solid(wire),
  });
}

/** Tilts that turn the z axis to a direction: Rx(tiltX) Ry(tiltY) z. */
export function tiltsTo(normal: readonly number[]): { tiltX: number; tiltY: number } {
  const length = Math.hypot(...normal);
  const [x, y, z] = normal.map((value) => value / length);
  return { tiltX: Math.atan2(-y, z), tiltY: Math.asin(Math.min(1, Math.max(-1, x))) };
}
