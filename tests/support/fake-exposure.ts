import type { ExposureReport, FieldSource } from '../../src/analysis/exposure/exposure-report.ts';
import type { Design } from '../../src/design/types.ts';
import { referenceLevels } from '../../src/physics/exposure/reference-levels.ts';

/** An invented dipole of a field, with the true published levels. */
export function fakeExposure(design: Design, source: FieldSource): ExposureReport {
  const distanceM = design.demand.exposureDistanceMm / 1e3;
  const at = (distance: number): number => 2e-9 / (distance + 0.02) ** 3;
  const band = (value: number) => ({ value, low: 0.9 * value, high: 1.1 * value });
  return {
    frequencyHz: source.frequencyHz,
    transmitterCoilARms: source.transmitterCoilARms,
    receiverCoilARms: source.receiverCoilARms,
    distanceM,
    largestT: band(at(distanceM)),
    atM: [0, 0, distanceM],
    harmonics: { share: 0.08, known: true },
    levels: referenceLevels(source.frequencyHz).map((level) => ({
      ...level,
      share: band(at(distanceM) / level.rmsT),
      metFromM: band((2e-9 / level.rmsT) ** (1 / 3) - 0.02),
      met: 'inside',
    })),
    between: {
      peakT: 1.1e-3,
      objects: [
        { words: 'a coin of 23 mm of brass', powerW: 0.12 },
        { words: 'a scrap of aluminium foil of 30 mm', powerW: 1.7 },
      ],
    },
    field: 'with ferrite and metal',
  };
}
