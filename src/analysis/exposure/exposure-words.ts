import { formatBand, formatQuantity } from '../../units/format.ts';
import type { ExposureReport, LevelAnswer } from './exposure-report.ts';

/** Always said beside the numbers. */
export const EXPOSURE_PROVISO =
  'For information, not a certification: published reference levels, not the law of your country; measured proof and licensed practice come first.';

/** Watts in an object between the coils from which a burn is feared. Common practice, no source. */
export const BURNING_W = 0.5;

/** A length with its band, in the unit that suits it. */
function length(value: number, low: number, high: number, space: string): string {
  const unit = { space, fixedUnit: true } as const;
  const text = formatQuantity(1e3 * value, 'mm', { ...unit, digits: 2 });
  return low < high ? `${text} (${formatBand(1e3 * low, 1e3 * high, 'mm', unit)})` : text;
}

/** From which distance on a level is met, in words. */
export function metWords({ met, metFromM }: LevelAnswer, space: string): string {
  if (met === 'met at the nearest') return `met from 5${space}mm on, the nearest that is looked at`;
  if (met === 'not met at the farthest') return `not met within 2${space}m`;
  return `met from ${length(metFromM.value, metFromM.low, metFromM.high, space)} on`;
}

/** A flux density with its band. */
export function fluxWords({ largestT: { value, low, high } }: ExposureReport, space: string): string {
  return `${formatQuantity(value, 'T', { space, digits: 2 })} (${formatBand(low, high, 'T', { space })})`;
}

/** Name of a level: `ICNIRP 2010, Table 4, public`. */
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
