import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import { solveOperatingPoint } from '../../physics/circuit/operating-point.ts';
import type { LinkElectrical, LinkState } from '../../physics/circuit/types.ts';
import { chargesCell } from '../margin/pose-answer.ts';

/** What the exact circuit says of one point of a line: its largest current, A, and what it does at the demand. */
export interface ExactPoint {
  readonly maxOutputA: number;
  readonly point: { readonly state: LinkState; readonly efficiency: number; readonly frequencyHz: number } | null;
}

/** Solves one point of a line by the exact circuit, 3 to 40 ms. @param whole with its operating point at the demand, half as much again */
export function exactPoint(design: Design, link: LinkElectrical, whole: boolean): ExactPoint {
  const boards = boardsOf(design);
  const demand = demandOf(design);
  const charging = chargesCell(design, demand);
  const { current } = maxOutput(link, boards, { charging });
  if (!whole) return { maxOutputA: current, point: null };
  const { state, efficiency, frequency } = solveOperatingPoint(link, boards, demand.demandA, { charging });
  return { maxOutputA: current, point: { state, efficiency, frequencyHz: frequency } };
}
