import { MU0 } from '../constants.ts';

/** One published reference level for the magnetic field at one frequency: unperturbed rms value. */
export interface ReferenceLevel {
  /** For a key: short and stable. */
  readonly id: string;
  readonly who: 'public' | 'occupational';
  /** Publication with its year. */
  readonly edition: string;
  readonly table: string;
  /** Over what the rms is taken, and where. */
  readonly averaging: string;
  /** T */
  readonly rmsT: number;
}

const LOW = 'ICNIRP 2010, 1 Hz to 100 kHz (effects on nerves: to 10 MHz)';
const HIGH = 'ICNIRP 2020, 100 kHz to 300 GHz';

/** Lowest and highest frequency for which `referenceLevels` has any, Hz. */
export const LEVELS_RANGE = Object.freeze({ lowest: 400, highest: 30e6 });

/**
 * Published reference levels that apply to a magnetic field of one frequency. For information: what is binding is the law
 * where the device is sold and used, and a reference level may be passed where the basic restriction is shown to be kept.
 *
 * @param frequency Hz. Empty outside 400 Hz to 30 MHz.
 * @returns rms levels, T; those of the public before those for workers, older edition first
 *
 * Source: ICNIRP, "Guidelines for limiting exposure to time-varying electric and magnetic fields (1 Hz to 100 kHz)", Health
 * Physics 99 (2010) 818, Tables 3 and 4; ICNIRP, "Guidelines for limiting exposure to electromagnetic fields (100 kHz to
 * 300 GHz)", Health Physics 118 (2020) 483, Table 6 (local, 6 min) and Table 5 (whole body, 30 min). The values of 2010 and
 * those of Table 6 were seen in a textbook's reprint of the tables; table numbers of 2010 and the values of Table 5 are from
 * memory. Levels of 2020 are stated as field strength: B = mu0 H.
 */
export function referenceLevels(frequency: number): ReferenceLevel[] {
  const megahertz = frequency / 1e6;
  const out: ReferenceLevel[] = [];
  const add = (id: string, who: ReferenceLevel['who'], of: Omit<ReferenceLevel, 'id' | 'who'>): void => {
    out.push({ id, who, ...of });
  };
  const low = (who: ReferenceLevel['who'], table: string, rmsT: number): void =>
    add(`2010-${who}`, who, {
      edition: LOW,
      table,
      averaging: 'at every moment, at the place of the largest field',
      rmsT,
    });
  const high = (id: string, who: ReferenceLevel['who'], table: string, averaging: string, perMegahertz: number): void =>
    add(`2020-${id}-${who}`, who, { edition: HIGH, table, averaging, rmsT: (MU0 * perMegahertz) / megahertz });
  const nerves = frequency >= LEVELS_RANGE.lowest && frequency <= 10e6;
  const heat = frequency >= 100e3 && frequency <= LEVELS_RANGE.highest;
  const sixMinutes = 'over 6 minutes, at the place of the largest field';
  // The largest field stands for the body's mean: never too low.
  const halfHour = 'over 30 minutes and the whole body, for which the largest stands';
  if (nerves) low('public', 'Table 4', frequency < 3e3 ? 0.08 / frequency : 27e-6);
  if (heat) {
    high('local', 'public', 'Table 6', sixMinutes, 4.9);
    high('body', 'public', 'Table 5', halfHour, 2.2);
  }
  if (nerves) low('occupational', 'Table 3', frequency < 3e3 ? 0.3 / frequency : 100e-6);
  if (heat) {
    high('local', 'occupational', 'Table 6', sixMinutes, 10.8);
    high('body', 'occupational', 'Table 5', halfHour, 4.9);
  }
  return out;
}
