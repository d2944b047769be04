/** The demo design, resolved, with nothing that holds it unless the test says so. */
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import type { Design, MagnetsDocument, RecessDocument } from '../../../src/design/types.ts';

export function demo(holding: { recess?: RecessDocument | null; magnets?: MagnetsDocument | null } = {}): Design {
  const result = parseDesign(DEMO_DESIGN);
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  return { ...result.design, holding: { ...result.design.holding, recess: null, magnets: null, ...holding } };
}

export const RECESS: RecessDocument = {
  outline: { shape: 'roundedRectangle', outerWidthMm: 72, outerHeightMm: 58, outerCornerRadiusMm: 8 },
  clearanceMm: 1,
  pocketToleranceMm: 0.2,
  deviceToleranceMm: 0.2,
  coilPositionToleranceMm: 0.3,
  draftDeg: 1,
};

export const MAGNETS: MagnetsDocument = {
  positionsMm: [
    [-31, 0],
    [31, 0],
  ],
  diameterMm: 8,
  thicknessMm: 2,
  remanenceT: 1.2,
  facing: 'magnet',
  gapMm: 3,
};
