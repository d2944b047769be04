/** The tolerance map as one self-describing JSON object. */
import type { OffsetMap } from '../../types.ts';

export const MAP_JSON_FORMAT = 'offcentre-tolerance-map';
export const MAP_JSON_VERSION = 1;

/**
 * Everything needed to read the map without this program: units, axes, order, meaning of each field. Numbers at full
 * precision; what is not finite is null.
 */
export function mapJson(map: OffsetMap, title: string): string {
  const plain = (values: ArrayLike<number>) => Array.from(values, (v) => (Number.isFinite(v) ? v : null));
  const rings = (list: readonly Float64Array[]) =>
    list.map((ring) => {
      const points: [number, number][] = [];
      for (let k = 0; k < ring.length; k += 2) points.push([ring[k], ring[k + 1]]);
      return points;
    });
  const field = (unit: string, meaning: string, values: ArrayLike<number>) => ({
    unit,
    meaning,
    values: plain(values),
  });
  return JSON.stringify(
    {
      format: MAP_JSON_FORMAT,
      version: MAP_JSON_VERSION,
      title,
      conventions: {
        axes: 'right-handed, z from transmitter to receiver, seen from the receiver: x to the right, y up',
        offset: "receiver's centre from the transmitter's axis",
        order: 'row-major: index = yIndex * (number of x) + xIndex',
        rings: 'closed, first point not repeated; counter-clockwise around the region, clockwise around a hole',
      },
      axes: { x: { unit: 'mm', values: plain(map.xMm) }, y: { unit: 'mm', values: plain(map.yMm) } },
      gap: { unit: 'mm', value: map.gapMm },
      demand: { unit: 'A', value: map.demandA },
      wantedMargin: { unit: '%', value: map.wantedMarginPercent },
      fields: {
        maxOutput: field('A', 'largest output current that is followed in regulation', map.maxOutputA),
        margin: field('%', 'maxOutput / demand - 1', map.marginPercent),
        coupling: field('1', 'coupling factor k', map.coupling),
        mutualInductance: field('H', 'mutual inductance', map.mutualInductanceH),
        wakes: field('1', '1 where the receiver reaches its wake voltage at ping', map.wakes),
      },
      outlines: {
        unit: 'mm',
        safe: rings(map.safeOutline),
        collapse: rings(map.collapseOutline),
        wake: rings(map.wakeOutline),
      },
      reach: {
        unit: 'mm',
        value: map.reachMm.value,
        low: map.reachMm.low,
        high: map.reachMm.high,
        hold: map.holdReachMm,
        wake: map.wakeReachMm,
        innerLimit: map.innerLimitMm,
        tightestDegrees: Number.isFinite(map.tightestDeg) ? map.tightestDeg : null,
        peaks: map.peakReachMm,
      },
    },
    null,
    1,
  );
}
