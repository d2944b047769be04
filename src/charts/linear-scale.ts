import { ticks } from 'd3-array';

/** From a quantity to pixels and back, in a straight line. */
export interface LinearScale {
  (value: number): number;
  readonly domain: () => readonly [number, number];
  readonly range: () => readonly [number, number];
  readonly invert: (pixel: number) => number;
  /** About `count` round values in the domain. */
  readonly ticks: (count: number) => number[];
}

/** A library's scale would bring tens of kilobytes for ticks of dates and colours along with the first page. */
export function linearScale(domain: readonly [number, number], range: readonly [number, number]): LinearScale {
  const [d0, d1] = domain;
  const [r0, r1] = range;
  const perUnit = d1 === d0 ? 0 : (r1 - r0) / (d1 - d0);
  const scale = (value: number): number => r0 + (value - d0) * perUnit;
  return Object.assign(scale, {
    domain: () => domain,
    range: () => range,
    invert: (pixel: number): number => (perUnit === 0 ? d0 : d0 + (pixel - r0) / perUnit),
    ticks: (count: number): number[] => ticks(d0, d1, count),
  });
}
