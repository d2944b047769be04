import { type BatchMaxOptions, batchMaxOutput, maxOutputBatch } from '../../physics/circuit/batch-max-output.ts';
import type { Boards, LinkElectrical } from '../../physics/circuit/types.ts';

/** Largest output current of several links on the same boards, A, by first harmonic: some microseconds each. */
export function fastOutput(
  links: readonly LinkElectrical[],
  boards: Boards,
  options: Partial<BatchMaxOptions> = {},
): Float64Array {
  const laws = (side: 'r1' | 'r2'): Float64Array =>
    Float64Array.from(
      links.flatMap((link) => [link[side].dc, link[side].linear, link[side].quadratic, link[side].quartic]),
    );
  const batch = {
    l1: Float64Array.from(links, (link) => link.l1),
    l2: Float64Array.from(links, (link) => link.l2),
    m: Float64Array.from(links, (link) => link.m),
    r1: laws('r1'),
    r2: laws('r2'),
  };
  return batchMaxOutput(batch, boards, maxOutputBatch(links.length), options).current;
}
