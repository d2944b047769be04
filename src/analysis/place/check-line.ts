import { demandOf } from '../../design/demand.ts';
import type { Design } from '../../design/types.ts';

/** What the line needs of a check (`MapCheck`). */
export interface LineCheck {
  readonly difference: number;
  readonly wakeRatio: number;
  readonly mutualH?: number;
  readonly fastA?: number;
}

/** A check with its place on the line: of a map, on its diagonal, 0 in the middle, 1 in the corner. */
export interface LineNode<Check extends LineCheck = LineCheck> {
  readonly share: number;
  readonly check: Check;
}

/** First intervals, and how far one is halved. */
const FIRST = 8;
const FINEST = 1 / 256;
/** Parts of the demand: a fall of the current to look into, and a change of the difference that a straight line may bridge. */
const FALL = 0.25;
const BRIDGED = 0.03;
const MOST_NODES = 64;

/**
 * Whether the mutual inductance alone changes over a map: coils without ferrite and metal. Exact and first-harmonic current then differ
 * by a function of it, and checks along one line serve the whole map. Over plates the inductances change too, but mostly together with
 * it: 99 in a hundred places within some ten points of margin of the exact circuit, where bilinear checks left more than a hundred.
 */
export function followsMutual({ transmitter, receiver }: Design): boolean {
  return !(transmitter.ferrite || transmitter.metal || receiver.ferrite || receiver.metal);
}

/**
 * Places on a line to check next, none when it is known well enough. Near collapse both currents fall off within a fraction
 * of a millimetre, each at its own mutual inductance, which nodes of a coarse lattice cannot see.
 *
 * @param nodes known so far, in order of their share. @param steps of a line that is asked at whole steps only: no node between them.
 */
export function nextLineNodes(design: Design, nodes: readonly LineNode[], steps?: number): number[] {
  const onStep = (share: number): number =>
    steps === undefined ? share : Math.round(share * steps) / Math.max(1, steps);
  if (nodes.length === 0) return [...new Set(Array.from({ length: FIRST + 1 }, (_, i) => onStep(i / FIRST)))];
  const { demandA } = demandOf(design);
  const out: number[] = [];
  for (let i = 1; i < nodes.length && nodes.length + out.length < MOST_NODES; i++) {
    const [a, b] = [nodes[i - 1]!, nodes[i]!];
    const width = b.share - a.share;
    const fast = Math.abs((b.check.fastA ?? 0) - (a.check.fastA ?? 0));
    const apart = Math.abs(b.check.difference - a.check.difference);
    const exact = Math.abs((b.check.fastA ?? 0) + b.check.difference - (a.check.fastA ?? 0) - a.check.difference);
    const middle = onStep((a.share + b.share) / 2);
    if (middle === a.share || middle === b.share) continue;
    if (width > FINEST && (Math.max(fast, exact) > FALL * demandA || apart > BRIDGED * demandA)) out.push(middle);
  }
  return out;
}

/** Where a line's check lies, mm. */
export function onDiagonal(xMm: Float64Array, yMm: Float64Array, share: number): [number, number] {
  const along = (axis: Float64Array): number => {
    const middle = (axis[0]! + axis[axis.length - 1]!) / 2;
    return middle + share * (axis[axis.length - 1]! - middle);
  };
  return [along(xMm), along(yMm)];
}

/** What the line's checks say at a mutual inductance, H (its sign does not matter): straight between neighbours, constant beyond. */
export function readLine(checks: readonly LineCheck[]): (m: number, key: 'difference' | 'wakeRatio') => number {
  const nodes = checks
    .filter(({ mutualH }) => mutualH !== undefined)
    .map((check) => ({ m: Math.abs(check.mutualH!), check }))
    .toSorted((a, b) => a.m - b.m);
  return (m, key) => {
    const at = Math.abs(m);
    let low = 0;
    let high = nodes.length - 1;
    if (at <= nodes[low]!.m) return nodes[low]!.check[key];
    if (at >= nodes[high]!.m) return nodes[high]!.check[key];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (nodes[middle]!.m <= at) low = middle;
      else high = middle;
    }
    const [a, b] = [nodes[low]!, nodes[high]!];
    return a.check[key] + ((b.check[key] - a.check[key]) * (at - a.m)) / (b.m - a.m);
  };
}
