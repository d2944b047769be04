import type { LinkAtPose } from '../../../src/analysis/link/link-at-pose.ts';
import type { PoseLinks } from '../../../src/analysis/margin/pose-answer.ts';
import { typicalLink } from '../../physics/circuit/boards.ts';

/** The typical link of the circuit's tests as a solved pose; 4 % of M for the gap's tolerance. */
export function typicalLinks(coupling: number): PoseLinks {
  const at = (k: number): LinkAtPose => ({
    electrical: typicalLink(k),
    air: { l1: 4e-6, l2: 9e-6, m: 2e-6 },
    errors: { l1: 0, l2: 0, m: 0, coupling: 0 },
  });
  return { link: at(coupling), wider: at(0.96 * coupling), narrower: at(1.04 * coupling) };
}
