import { formatBand, formatQuantity } from '../../units/format.ts';
import type { ExposureReport, LevelAnswer } from './exposure-report.ts';

/** Always said beside the numbers. */
export const EXPOSURE_PROVISO =
  'For information, not a certification: published reference levels, not the law of your country; measured proof and licensed practice come first.';

/** From which distance on a level is met: `16.4 mm (15.6–17.6 mm)`, both to the same place. */
export function metDistanceWords({ met, metFromM }: LevelAnswer, space: string): string {
  if (met === 'met at the nearest') return `5${space}mm or nearer`;
  if (met === 'not met at the farthest') return `beyond 2${space}m`;
  const { value, low, high } = metFromM;
  const places = high < 0.02 ? 1 : 0;
  const mm = (metres: number): string => (1e3 * metres).toFixed(places);
  return `${mm(value)}${space}mm (${mm(low)}–${mm(high)})`;
}

/** A flux density with its band. */
export function fluxWords({ largestT: { value, low, high } }: ExposureReport, space: string): string {
  return `${formatQuantity(value, 'T', { space, digits: 2 })} (${formatBand(low, high, 'T', { space })})`;
}

/** Name of a level: `ICNIRP 2010, Table 4, general public`. */
export function levelName({ edition, table, who }: LevelAnswer): string {
  return `${edition.slice(0, 11)}, ${table}, ${who === 'public' ? 'general public' : 'workers'}`;
}

/** Orders of magnitude: one digit. */
export function roughWatts(watts: number, space: string): string {
  return `about ${formatQuantity(Number(watts.toPrecision(1)), 'W', { space, digits: 1 })}`;
}

/** What the harmonics add. */
export function harmonicWords({ harmonics: { share, known } }: ExposureReport): string {
  const percent = `${(100 * share).toFixed(share < 0.1 ? 1 : 0)} %`;
  return known
    ? `its harmonics, added up, make ${percent} of it`
    : `its harmonics, added up, make at most ${percent} of it`;
}

/** The whole in three sentences, for a page to print. */
export function exposureSentences(report: ExposureReport, space: string): string[] {
  const { distanceM, levels, between } = report;
  const flux = (tesla: number): string => formatQuantity(tesla, 'T', { space, digits: 2 });
  const first = levels.filter(({ id }) => id.startsWith('2010'));
  const told = (first.length > 0 ? first : levels).map(
    (level) => `${levelName(level)}: ${flux(level.rmsT)}, met from ${metDistanceWords(level, space)}`,
  );
  const objects = between.objects.map(({ words, powerW }) => `${words} ${roughWatts(powerW, space)}`);
  return [
    `Field around the link, ${formatQuantity(1e3 * distanceM, 'mm', { space, digits: 3, fixedUnit: true })} from coils and plates: at most ${fluxWords(report, space)} rms. ${told.join('; ')}. ${EXPOSURE_PROVISO}`,
    `Metal half-way between the coils would take, as an order of magnitude: ${objects.join(', ')}.`,
  ];
}
