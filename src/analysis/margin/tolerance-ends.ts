import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import type { Boards, LinkElectrical } from '../../physics/circuit/types.ts';
import { moved } from './moved.ts';
import type { PlateSensitivity } from './plate-sensitivity.ts';
import type { Tolerance } from './tolerances.ts';

/**
 * Link and boards with one input moved up, then down, by its tolerance. An inductance's tolerance moves M by half of it, as
 * k stays; a plate whose answer is not known moves nothing.
 *
 * @param here the undisturbed link
 * @param at the link with the gap changed by so much, m
 */
export function toleranceEnds(
  design: Design,
  tolerance: Tolerance,
  here: LinkElectrical,
  boards: Boards,
  plates: readonly PlateSensitivity[],
  at: (by: number) => LinkElectrical,
): [LinkElectrical, Boards][] {
  const { enters, path } = tolerance;
  const scaled = (l1: number, l2: number, m: number): LinkElectrical => ({
    ...here,
    l1: here.l1 * (1 + l1),
    l2: here.l2 * (1 + l2),
    m: here.m * (1 + m),
  });
  const both = (link: (sign: number) => LinkElectrical): [LinkElectrical, Boards][] =>
    [1, -1].map((sign) => [link(sign), boards]);
  switch (enters.kind) {
    case 'gap':
      return both((sign) => at(sign * enters.by));
    case 'l1':
      return both((sign) => scaled(sign * enters.by, 0, (sign * enters.by) / 2));
    case 'l2':
      return both((sign) => scaled(0, sign * enters.by, (sign * enters.by) / 2));
    case 'plate': {
      const answer = plates.find((entry) => entry.path === path) ?? { l1: 0, l2: 0, m: 0 };
      return both((sign) => scaled(sign * answer.l1, sign * answer.l2, sign * answer.m));
    }
    case 'board':
      return [1, -1].map((sign) => [here, boardsOf(moved(design, path, sign * enters.by))]);
  }
}
