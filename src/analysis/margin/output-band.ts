import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import type { Boards, LinkElectrical } from '../../physics/circuit/types.ts';
import type { LinkAtPose } from '../link/link-at-pose.ts';
import { fastOutput } from './fast-output.ts';
import type { PlateSensitivity } from './plate-sensitivity.ts';
import { toleranceEnds } from './tolerance-ends.ts';
import type { Tolerance } from './tolerances.ts';

/** What one uncertain input does to the largest output current. */
export interface OutputChange {
  readonly name: string;
  readonly path: string;
  readonly tolerance: string;
  /** Relative to the undisturbed current, for the input moved up and down by its tolerance. */
  readonly up: number;
  readonly down: number;
}

export interface OutputBand {
  /** Relative half-widths, 95 %: root sum of squares of the changes towards less and towards more current. */
  readonly less: number;
  readonly more: number;
  readonly changes: readonly OutputChange[];
}

export interface BandInputs {
  readonly design: Design;
  readonly link: LinkAtPose;
  /** The link at the gap widened and narrowed by its tolerance. */
  readonly wider: LinkAtPose;
  readonly narrower: LinkAtPose;
  readonly plates: readonly PlateSensitivity[];
  readonly charging: boolean;
}

/**
 * The band of the largest output current: each uncertain input is moved to both ends of its tolerance and the circuit
 * solved again by first harmonic; the changes are combined as independent. The numerical error of the link enters as
 * one more input.
 */
export function outputBand(inputs: BandInputs, tolerances: readonly Tolerance[]): OutputBand {
  const { design, link, wider, narrower, plates, charging } = inputs;
  const boards = boardsOf(design);
  const current = (electrical: LinkElectrical, with_: Boards): number =>
    fastOutput([electrical], with_, { charging })[0]!;
  const base = current(link.electrical, boards);
  if (!(base > 0)) return { less: 0, more: 0, changes: [] };
  const scaled = (l1: number, l2: number, m: number): LinkElectrical => ({
    ...link.electrical,
    l1: link.electrical.l1 * (1 + l1),
    l2: link.electrical.l2 * (1 + l2),
    m: link.electrical.m * (1 + m),
  });
  const relative = (value: number): number => value / base - 1;
  const gapEnd = (by: number): LinkElectrical => (by > 0 ? wider : narrower).electrical;
  const changes = tolerances.map((tolerance): OutputChange => {
    const [up, down] = toleranceEnds(design, tolerance, link.electrical, boards, plates, gapEnd).map((end) =>
      relative(current(...end)),
    );
    return { name: tolerance.name, path: tolerance.path, tolerance: tolerance.text, up, down };
  });
  const { l1, l2, m } = link.electrical;
  const numeric = {
    l1: relative(current(scaled(link.errors.l1 / l1, 0, 0), boards)),
    l2: relative(current(scaled(0, link.errors.l2 / l2, 0), boards)),
    m: relative(current(scaled(0, 0, link.errors.m / Math.max(Math.abs(m), 1e-15)), boards)),
  };
  const numerical = Math.hypot(numeric.l1, numeric.l2, numeric.m);
  const less = Math.hypot(numerical, ...changes.map(({ up, down }) => Math.min(0, up, down)));
  const more = Math.hypot(numerical, ...changes.map(({ up, down }) => Math.max(0, up, down)));
  return { less: Math.min(1, less), more, changes };
}
