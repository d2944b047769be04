import type { Conductor } from './types.ts';

/** Outer width of a conductor in the plane of its coil, insulation included where the conductor states it, m. */
export function conductorWidth(conductor: Conductor): number {
  switch (conductor.kind) {
    case 'litz':
      return conductor.bundleDiameter;
    case 'solid':
      return conductor.insulatedDiameter;
    case 'trace':
      return conductor.width;
  }
}

/** Outer height of a conductor along its coil's axis, m. */
export function conductorHeight(conductor: Conductor): number {
  return conductor.kind === 'trace' ? conductor.thickness : conductorWidth(conductor);
}
