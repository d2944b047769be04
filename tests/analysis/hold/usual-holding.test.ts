import { expect, it } from 'vitest';
import { layoutOf, magnetPlates } from '../../../src/analysis/hold/magnet-setup.ts';
import { usualMagnets, usualRecess } from '../../../src/analysis/hold/usual-holding.ts';
import { linkSidesOf } from '../../../src/design/wind.ts';
import { checkLayout } from '../../../src/physics/magnet/magnet-layout.ts';
import { demo, RECESS } from './demo-design.ts';

it('usual magnets clear both ferrites, on the longer side, and are a layout that can be', () => {
  const design = demo();
  const magnets = usualMagnets(design);
  const layout = layoutOf(magnets);
  expect(() => checkLayout(layout)).not.toThrow();
  const { transmitter, receiver } = linkSidesOf(design);
  expect(magnetPlates(layout, transmitter, receiver, design.placement.gapMm / 1e3).notes).toEqual([]);
  const [[x, y]] = magnets.positionsMm;
  expect(Math.abs(x)).toBeGreaterThan(25 + 4);
  expect(y).toBe(0);
  const upright = { ...RECESS.outline, outerWidthMm: 60, outerHeightMm: 110 } as const;
  const tall = usualMagnets(
    demo({ recess: { ...RECESS, outline: { ...upright, shape: 'roundedRectangle', outerCornerRadiusMm: 8 } } }),
  );
  expect(tall.positionsMm[0][0]).toBe(0);
});

it('the usual recess goes round the receiver’s parts', () => {
  expect(usualRecess(demo({ recess: RECESS })).outline).toMatchObject({ outerWidthMm: 54, outerHeightMm: 42 });
});
