/** A small map and design for the export tests: invented values. */
import { contourRings } from '../../../../src/analysis/hold/contour.ts';
import type { OffsetMap } from '../../../../src/analysis/types.ts';
import type { Design } from '../../../../src/design/types.ts';

export const HOSTILE = '=cmd|" /C calc"!A0 <script>&\'"\u0007\nGuide – Größe ^ 5 µm 😀';

export function sampleMap(): OffsetMap {
  const n = 21;
  const axis = Float64Array.from({ length: n }, (_, i) => -20 + 2 * i);
  const margin = new Float64Array(n * n);
  for (let j = 0; j < n; j += 1)
    for (let i = 0; i < n; i += 1) margin[j * n + i] = 120 - 0.9 * (axis[i] ** 2 + 1.2 * axis[j] ** 2);
  margin[3] = Number.NEGATIVE_INFINITY;
  const field = { x: axis, y: axis, values: margin };
  return {
    gapMm: 5.9,
    xMm: axis,
    yMm: axis,
    maxOutputA: margin.map((m) => 0.48 * (1 + m / 100)),
    peakOutputA: margin.map((m) => 0.5 * (1 + m / 100)),
    marginPercent: margin,
    coupling: margin.map((m) => 0.5 + m / 1000),
    mutualInductanceH: margin.map((m) => 1e-6 * (5 + m / 100)),
    wakes: Uint8Array.from(margin, (m) => (m > -10 ? 1 : 0)),
    demandA: 0.48,
    wantedMarginPercent: 20,
    safeOutline: contourRings(field, 20),
    collapseOutline: contourRings(field, 0),
    wakeOutline: contourRings(field, -10),
    reachMm: { value: 9.6, low: 9.1, high: 10 },
    holdReachMm: 10.5,
    wakeReachMm: 11,
    innerLimitMm: 0,
    peakReachMm: [{ name: HOSTILE, reachMm: 5 }],
    tightestDeg: 90,
    timing: { linkModelMs: 1, gridMs: 1, circuitMs: 1, totalMs: 3 },
  };
}

/** Only the parts of a design that drawings read. */
export function sampleDesign(): Design {
  const design = {
    title: HOSTILE,
    transmitter: {
      coil: { outline: { shape: 'circle', outerDiameterMm: 44, innerDiameterMm: 20.5 } },
      furtherCoils: [],
    },
    receiver: {
      coil: {
        outline: {
          shape: 'roundedRectangle',
          outerWidthMm: 46,
          outerHeightMm: 33,
          innerWidthMm: 28,
          innerHeightMm: 15,
          outerCornerRadiusMm: 10,
          innerCornerRadiusMm: 2,
        },
      },
    },
    placement: { gapMm: 5.9, offsetXMm: 1.5, offsetYMm: -0.5, yawDeg: 0, tiltXDeg: 0, tiltYDeg: 0 },
    holding: {
      recess: {
        outline: { shape: 'roundedRectangle', outerWidthMm: 72, outerHeightMm: 58, outerCornerRadiusMm: 8 },
        clearanceMm: 1,
        pocketToleranceMm: 0.2,
        deviceToleranceMm: 0.2,
        coilPositionToleranceMm: 0.3,
        draftDeg: 1,
      },
      magnets: {
        positionsMm: [
          [-30, 0],
          [30, 0],
        ],
        diameterMm: 8,
        thicknessMm: 2,
        remanenceT: 1.2,
        facing: 'magnet',
        gapMm: 3,
      },
    },
  };
  return design as unknown as Design;
}
