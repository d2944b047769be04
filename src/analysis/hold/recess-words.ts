/** What a recommended clearance ends at, in words, for page and command alike. */
import type { CheckedRecess } from './recess-report.ts';

/** Points over the wanted margin from which an end is a cliff: settled clearances come within a twentieth. */
const CLIFF = 1;

/** Says that there is no slope to go by, where a hair more clearance loses the link at once; else nothing. */
export function endsAtOnce({ clearanceMm, directPercent, unlimited }: CheckedRecess, wantedPercent: number): string {
  if (clearanceMm === null || directPercent === null || unlimited) return '';
  return directPercent - wantedPercent > CLIFF
    ? '; it ends there at once: a hair looser the link collapses or does not wake'
    : '';
}
