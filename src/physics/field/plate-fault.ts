import { type FaultDetail, InputError } from '../../numerics/errors.ts';
import type { PlateOutline, Pose } from '../coil/types.ts';
import { outlineBox } from './outline-grid.ts';
import { bodyDistance, type FlatBody } from './solid-bodies.ts';
import type { LinkSide } from './types.ts';

/** Bodies nearer than this count as touching, m. */
const TOUCHING = 5e-6;

const NAMES = { winding: 'coil', ferrite: 'ferrite', metal: 'metal' } as const;

/**
 * Refuses a pose in which a body of one side touches or crosses one of the other, naming both.
 *
 * @throws InputError `parts-touch`, path of the receiver's part
 */
export function refuseTouching(
  transmitter: readonly FlatBody[],
  receiver: readonly FlatBody[],
  matrix: Float64Array,
): void {
  const faults: FaultDetail[] = [];
  for (const a of transmitter) {
    for (const b of receiver) {
      if (bodyDistance(a, b, matrix) > TOUCHING) continue;
      faults.push({
        code: 'parts-touch',
        path: `receiver.${NAMES[b.part]}`,
        required: `clear of transmitter.${NAMES[a.part]}`,
        received: 'a pose in which the two touch or cross',
        hint: 'Raise the gap or take tilt back.',
      });
    }
  }
  if (faults.length > 0) throw new InputError(...faults);
}

/** @throws InputError where a number of the pose is not finite */
export function refusePose(pose: Pose): void {
  if (Object.values(pose).every(Number.isFinite)) return;
  throw new InputError({
    code: 'not-finite',
    path: 'placement',
    required: 'finite numbers',
    received: JSON.stringify(pose),
  });
}

/**
 * Refuses plates that the model cannot hold.
 *
 * @throws InputError with one fault for each number out of range
 */
export function refusePlates(side: LinkSide, path: string): void {
  const faults: FaultDetail[] = [];
  const check = (key: string, value: number, ok: boolean, required: string) => {
    if (!ok) faults.push({ code: 'plate-out-of-range', path: `${path}.${key}`, required, received: String(value) });
  };
  const outline = (key: string, shape: PlateOutline) => {
    const { halfWidth, halfHeight, radius } = outlineBox(shape);
    const small = Math.min(halfWidth, halfHeight);
    check(`${key}.outline`, 2 * small, small > 1e-4, 'a width and height above 0.2 mm (in metres)');
    check(`${key}.outline.cornerRadius`, radius, radius >= 0 && radius <= small * 1.000001, `from 0 to ${small} m`);
  };
  const { ferrite, metal } = side;
  if (ferrite) {
    outline('ferrite', ferrite.outline);
    check(
      'ferrite.thickness',
      ferrite.thickness,
      ferrite.thickness > 0 && ferrite.thickness <= 0.05,
      'from 0 to 0.05 m',
    );
    check(
      'ferrite.standoff',
      ferrite.standoff,
      ferrite.standoff >= 0,
      'at least 0 m: the ferrite may not cross the coil',
    );
    const mu = ferrite.relativePermeability;
    check('ferrite.relativePermeability', mu, mu > 1 && mu < 1e6, 'above 1');
  }
  if (metal) {
    outline('metal', metal.outline);
    check('metal.thickness', metal.thickness, metal.thickness > 0 && metal.thickness <= 0.05, 'from 0 to 0.05 m');
    const behind = ferrite ? 'ferrite' : 'coil';
    check('metal.standoff', metal.standoff, metal.standoff >= 0, `at least 0 m: the metal may not cross the ${behind}`);
    check('metal.conductivity', metal.conductivity, metal.conductivity > 0, 'above 0 S/m');
  }
  if (faults.length > 0) throw new InputError(...faults);
}
