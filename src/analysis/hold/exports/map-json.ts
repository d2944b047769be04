/** The tolerance map as one self-describing JSON object: the same on the command line, in its files and from the page. */
import type { OffsetMap } from '../../types.ts';

export const MAP_JSON_FORMAT = 'offcentre-map';
export const MAP_JSON_VERSION = 1;

/** What stands under a key: its unit, what it is, and how it is laid out. */
interface FieldNote {
  readonly unit: string;
  readonly meaning: string;
  readonly shape: 'number' | 'axis' | 'grid' | 'rings' | 'band' | 'list' | 'object';
}

const note = (shape: FieldNote['shape'], unit: string, meaning: string): FieldNote => ({ unit, meaning, shape });

/** Every key of the document that carries numbers; first looks are not written. */
export const MAP_FIELDS: Readonly<Record<Exclude<keyof OffsetMap, 'firstLook'>, FieldNote>> = Object.freeze({
  gapMm: note('number', 'mm', 'clear distance between the facing surfaces of the two windings'),
  xMm: note('axis', 'mm', "receiver's centre from the transmitter's axis along x"),
  yMm: note('axis', 'mm', "receiver's centre from the transmitter's axis along y"),
  maxOutputA: note('grid', 'A', 'largest output current that is followed in regulation'),
  peakOutputA: note('grid', 'A', 'the same for a short load, for which heat does not count'),
  marginPercent: note('grid', '%', 'maxOutputA / demandA - 1'),
  coupling: note('grid', '1', 'coupling factor k'),
  mutualInductanceH: note('grid', 'H', 'mutual inductance'),
  wakes: note('grid', '1', '1 where the receiver reaches its wake voltage at the ping, else 0'),
  demandA: note('number', 'A', 'worst continuous load at the receiver’s output'),
  wantedMarginPercent: note('number', '%', 'margin that the safe region keeps'),
  safeOutline: note('rings', 'mm', 'where it wakes and keeps the wanted margin'),
  collapseOutline: note('rings', 'mm', 'where the margin is at least zero'),
  wakeOutline: note('rings', 'mm', 'where it wakes'),
  reachMm: note('band', 'mm', 'radius of the largest disc about the axis inside the safe region, with its band'),
  holdReachMm: note('number', 'mm', 'the same for a margin of zero'),
  wakeReachMm: note('number', 'mm', 'the same for waking'),
  innerLimitMm: note('number', 'mm', 'radius from which it is safe, where the middle is not; 0 where it is'),
  peakReachMm: note('list', 'mm', 'the same reach for each short load'),
  tightestDeg: note('number', 'degrees', 'direction in which the safe region ends first, from +x'),
  timing: note('object', 'ms', 'time the calculation took'),
});

/**
 * Everything needed to read the map without this program: format and version, conventions, and for every key its unit, meaning
 * and layout. Numbers at full precision; what is not finite is null.
 */
export function mapDocument(map: OffsetMap, title: string): Readonly<Record<string, unknown>> {
  const plain = (value: number) => (Number.isFinite(value) ? value : null);
  const list = (values: ArrayLike<number>) => Array.from(values, plain);
  const rings = (of: readonly Float64Array[]) =>
    of.map((ring) => Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i], ring[2 * i + 1]]));
  return {
    format: MAP_JSON_FORMAT,
    version: MAP_JSON_VERSION,
    title,
    conventions: {
      axes: 'right-handed, z from transmitter to receiver, seen from the receiver: x to the right, y up',
      grid: 'row-major: entry [yIndex * xMm.length + xIndex]',
      rings:
        'closed, points [x, y], first point not repeated; outer boundary first, counter-clockwise around the region and clockwise around a hole',
      band: 'value with its low and high end',
      missing: 'null stands for a number that is not known or not finite',
    },
    fields: MAP_FIELDS,
    xMm: list(map.xMm),
    yMm: list(map.yMm),
    safeOutline: rings(map.safeOutline),
    collapseOutline: rings(map.collapseOutline),
    wakeOutline: rings(map.wakeOutline),
    gapMm: map.gapMm,
    maxOutputA: list(map.maxOutputA),
    peakOutputA: list(map.peakOutputA),
    marginPercent: list(map.marginPercent),
    coupling: list(map.coupling),
    mutualInductanceH: list(map.mutualInductanceH),
    wakes: list(map.wakes),
    demandA: map.demandA,
    wantedMarginPercent: map.wantedMarginPercent,
    reachMm: { value: plain(map.reachMm.value), low: plain(map.reachMm.low), high: plain(map.reachMm.high) },
    holdReachMm: plain(map.holdReachMm),
    wakeReachMm: plain(map.wakeReachMm),
    innerLimitMm: plain(map.innerLimitMm),
    peakReachMm: map.peakReachMm.map(({ name, reachMm }) => ({ name, reachMm: plain(reachMm) })),
    tightestDeg: plain(map.tightestDeg),
    timing: map.timing,
  };
}

/** The document as text. */
export function mapJson(map: OffsetMap, title: string): string {
  return `${JSON.stringify(mapDocument(map, title), null, 1)}\n`;
}
