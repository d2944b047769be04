import { describe, expect, it } from 'vitest';
import { sideRadius, startingDomain } from '../../../src/analysis/link/link-domain.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { linkSidesOf } from '../../../src/design/wind.ts';
import { InputError } from '../../../src/numerics/errors.ts';
import { createFieldModel } from '../../../src/physics/field/field-model.ts';

const parsed = parseDesign(DEMO_DESIGN);
if (!parsed.ok) throw new Error('the demo design must parse');
const { transmitter, receiver } = linkSidesOf(parsed.design);
const thickness = transmitter.winding.halfThickness + receiver.winding.halfThickness;
const degrees = Math.PI / 180;
const LEVEL = { yaw: 0, tiltX: 0, tiltY: 0 };

describe('the box of a link model', () => {
  it('is that of the level receiver where nothing is tilted', () => {
    expect(startingDomain(transmitter, receiver, 5.9e-3, { ...LEVEL, yaw: 0.4 })).toEqual(
      startingDomain(transmitter, receiver, 5.9e-3, LEVEL),
    );
    expect(startingDomain(transmitter, receiver, 5.9e-3, LEVEL)).toMatchObject({ gapMin: 1e-3, gapMax: 15e-3 });
    expect(startingDomain(transmitter, receiver, 1e-3, LEVEL).gapMin).toBeLessThan(0.8e-3);
    expect(startingDomain(transmitter, receiver, 16e-3, LEVEL).gapMax).toBeGreaterThan(16e-3);
  });

  it('starts where the tilted receiver is clear of the transmitter at every offset', () => {
    // Half the receiver's sheet, 24 mm, times the sine of five degrees: 2.1 mm, by hand.
    const attitude = { yaw: 0, tiltX: 0, tiltY: 5 * degrees };
    const { gapMin, halfX, halfY } = startingDomain(transmitter, receiver, 5.9e-3, attitude);
    expect(gapMin).toBeGreaterThan(24e-3 * Math.sin(5 * degrees) - 0.2e-3);
    expect(gapMin).toBeLessThan(0.8 * 5.9e-3);
    const model = createFieldModel(transmitter, receiver);
    for (const [x, y] of [
      [0, 0],
      [halfX, 0],
      [-halfX, halfY],
      [0, -halfY],
    ] as const) {
      // A touching pose is refused before anything is solved: the rough grid is enough.
      expect(() => model.solve({ x, y, z: gapMin + thickness, ...attitude }, 'rough')).not.toThrow();
    }
  });

  it('refuses a gap that the tilted receiver hangs through, and says which gap would do', () => {
    const attitude = { yaw: 0, tiltX: 0, tiltY: 12 * degrees };
    expect(() => startingDomain(transmitter, receiver, 3e-3, attitude)).toThrow(InputError);
    expect(() => startingDomain(transmitter, receiver, 3e-3, attitude)).toThrow(/above \d\.\d mm/);
  });

  it('knows the radius of a side: corners, round corners and discs', () => {
    const bare = { winding: transmitter.winding, metal: null };
    const plate = { thickness: 1e-3, standoff: 1e-3, relativePermeability: 700, lossTangent: 0 };
    const square = {
      ...plate,
      outline: { shape: 'roundedRectangle' as const, width: 0.08, height: 0.06, cornerRadius: 0 },
    };
    expect(sideRadius({ ...bare, ferrite: square })).toBeCloseTo(0.05, 12);
    const round = { ...square, outline: { ...square.outline, cornerRadius: 0.03 } };
    expect(sideRadius({ ...bare, ferrite: round })).toBeCloseTo(0.04, 12);
    expect(sideRadius({ ...bare, ferrite: null })).toBeCloseTo(transmitter.winding.halfWidth, 12);
  });
});
