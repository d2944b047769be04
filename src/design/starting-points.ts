import type { DesignDocument } from './schema.ts';

export interface StartingPoint {
  readonly id: 'wearable' | 'handheld' | 'printed' | 'tool';
  readonly name: string;
  readonly description: string;
  readonly document: DesignDocument;
}

const HEAD = { format: 'offcentre-design', version: 1 } as const;

const round = (outerDiameterMm: number, innerDiameterMm: number) =>
  ({ shape: 'circle', outerDiameterMm, innerDiameterMm }) as const;

const litz = (strands: number, bundleDiameterMm: number) =>
  ({ kind: 'litz', strands, strandDiameterMm: 0.08, bundleDiameterMm }) as const;

const disc = (outerDiameterMm: number, thicknessMm: number) => ({
  outline: { shape: 'circle', outerDiameterMm } as const,
  thicknessMm,
});

/**
 * Four generic designs of ours to begin with; none is a real product. They say only what a maker would know and leave
 * the rest to the defaults.
 */
export const STARTING_POINTS: readonly StartingPoint[] = Object.freeze([
  {
    id: 'wearable',
    name: 'Small and round',
    description: 'A wearable of 30 mm on a puck: two small round coils, 2.5 mm apart, 0.15 A.',
    document: {
      ...HEAD,
      title: 'Small round wearable on a puck',
      transmitter: {
        coil: { outline: round(30, 12), turns: 12, conductor: litz(40, 0.7) },
        ferrite: disc(32, 0.8),
        drive: { supplyV: 5, seriesCapacitanceNf: 390 },
      },
      receiver: {
        coil: { outline: round(26, 10), turns: 14, conductor: litz(30, 0.55) },
        ferrite: disc(27, 0.4),
        pickup: { seriesCapacitanceNf: 180, regulator: { outputV: 5, currentLimitA: 0.5 } },
      },
      stack: [
        { name: 'puck shell', thicknessMm: 1.2, toleranceMm: 0.1 },
        { name: 'air', thicknessMm: 0.3 },
        { name: 'case back', thicknessMm: 1, toleranceMm: 0.1 },
      ],
      demand: {
        loads: [
          { name: 'standing by', kind: 'idle', currentA: 0.02 },
          { name: 'charging', kind: 'charging', currentA: 0.15 },
        ],
      },
    },
  },
  {
    id: 'handheld',
    name: 'Handheld on a dock',
    description: 'A round transmitter coil of published-standard size under a rectangular receiver coil, 5 V, 0.5 A.',
    document: {
      ...HEAD,
      title: 'Handheld on a dock',
      transmitter: {
        coil: { outline: round(44, 20.5), turns: 10, conductor: litz(105, 1.1) },
        ferrite: { ...disc(48, 1), standoffMm: 0.3 },
        drive: { supplyV: 5, seriesCapacitanceNf: 400, pingKhz: 200 },
      },
      receiver: {
        coil: {
          outline: {
            shape: 'roundedRectangle',
            outerWidthMm: 42,
            outerHeightMm: 32,
            innerWidthMm: 26,
            innerHeightMm: 16,
            outerCornerRadiusMm: 10,
          },
          turns: 14,
          layers: 2,
          conductor: litz(50, 0.7),
        },
        ferrite: {
          outline: { shape: 'roundedRectangle', outerWidthMm: 44, outerHeightMm: 34, outerCornerRadiusMm: 2 },
          thicknessMm: 0.5,
        },
        pickup: { seriesCapacitanceNf: 120, parallelCapacitanceNf: 1.8, regulator: { outputV: 5 } },
      },
      stack: [
        { name: 'dock wall', thicknessMm: 3, toleranceMm: 0.1 },
        { name: 'air', thicknessMm: 0.5 },
        { name: 'case wall', thicknessMm: 1.5, toleranceMm: 0.1 },
      ],
      demand: {
        loads: [
          { name: 'idle', kind: 'idle', currentA: 0.05 },
          { name: 'charging', kind: 'charging', currentA: 0.5 },
        ],
      },
    },
  },
  {
    id: 'printed',
    name: 'Printed coils',
    description: 'Two spirals etched on circuit boards, no ferrite, 5 mm apart, 0.2 A.',
    document: {
      ...HEAD,
      title: 'Printed coils face to face',
      transmitter: {
        coil: {
          outline: round(44, 16),
          turns: 10,
          winding: 'spiral',
          conductor: { kind: 'trace', widthMm: 1, thicknessMm: 0.07 },
        },
        drive: { supplyV: 5, seriesCapacitanceNf: 820 },
      },
      receiver: {
        coil: {
          outline: round(40, 14),
          turns: 12,
          winding: 'spiral',
          conductor: { kind: 'trace', widthMm: 0.7, thicknessMm: 0.07 },
        },
        pickup: { seriesCapacitanceNf: 390, wakeV: 3, regulator: { outputV: 3.3, currentLimitA: 0.5 } },
      },
      stack: [
        { name: 'dock wall', thicknessMm: 2.5, toleranceMm: 0.1 },
        { name: 'air', thicknessMm: 0.5 },
        { name: 'case wall', thicknessMm: 2, toleranceMm: 0.1 },
      ],
      demand: {
        loads: [
          { name: 'sleeping', kind: 'idle', currentA: 0.005 },
          { name: 'running', kind: 'typical', currentA: 0.2 },
        ],
      },
    },
  },
  {
    id: 'tool',
    name: 'Larger, on 12 V',
    description: 'A workshop tool on its holder: large coils, 8 mm apart, 12 V supply, 9 V and 1 A out.',
    document: {
      ...HEAD,
      title: 'Workshop tool on its holder',
      transmitter: {
        coil: { outline: round(90, 40), turns: 12, conductor: litz(180, 1.7) },
        ferrite: { ...disc(96, 2), standoffMm: 0.5 },
        drive: { supplyV: 12, supplyCurrentLimitA: 3, seriesCapacitanceNf: 120 },
      },
      receiver: {
        coil: {
          outline: { shape: 'stadium', outerWidthMm: 90, outerHeightMm: 60, innerWidthMm: 54, innerHeightMm: 24 },
          turns: 12,
          conductor: litz(120, 1.3),
        },
        ferrite: {
          outline: { shape: 'stadium', outerWidthMm: 94, outerHeightMm: 64 },
          thicknessMm: 1,
        },
        pickup: {
          seriesCapacitanceNf: 82,
          wakeV: 6,
          regulator: { kind: 'switching', outputV: 9, currentLimitA: 1.5, overvoltageV: 24 },
          target: { lowV: 10.5, highV: 14 },
        },
      },
      stack: [
        { name: 'holder', thicknessMm: 4, toleranceMm: 0.2 },
        { name: 'air', thicknessMm: 1 },
        { name: 'tool shell', thicknessMm: 3, toleranceMm: 0.2 },
      ],
      demand: {
        loads: [
          { name: 'idle', kind: 'idle', currentA: 0.05 },
          { name: 'charging', kind: 'charging', currentA: 1 },
        ],
      },
      holding: { deviceMassG: 900 },
    },
  },
]);
