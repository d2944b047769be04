import { tableCsv } from '../analysis/hold/exports/map-csv.ts';
import type { ResolvedDesign } from '../state/resolved-design.ts';
import { coilQuantities } from './coil-fields.ts';
import { label } from './glossary.ts';

/** The numbers that stand on the drawing of both coils: sizes, turns and where the receiver lies. */
export function pairCsv({ design, transmitter, receiver }: ResolvedDesign): string {
  const rows: (string | number)[][] = [];
  for (const [side, winding] of [
    ['transmitter', transmitter],
    ['receiver', receiver],
  ] as const) {
    rows.push([side, label('shape'), design[side].coil.outline.shape, '']);
    for (const { term, quantity, value } of coilQuantities(design, side)) {
      rows.push([side, label(term), value, quantity === 'turns' ? '' : 'mm']);
    }
    rows.push([side, `${label('pitch')} x`, Number((1000 * winding.pitchX).toFixed(4)), 'mm']);
    rows.push([side, `${label('pitch')} y`, Number((1000 * winding.pitchY).toFixed(4)), 'mm']);
  }
  const { gapMm, offsetXMm, offsetYMm, yawDeg, tiltXDeg, tiltYDeg } = design.placement;
  for (const [term, value, unit] of [
    ['gap', gapMm, 'mm'],
    ['offsetX', offsetXMm, 'mm'],
    ['offsetY', offsetYMm, 'mm'],
    ['yaw', yawDeg, 'deg'],
    ['tiltX', tiltXDeg, 'deg'],
    ['tiltY', tiltYDeg, 'deg'],
  ] as const) {
    rows.push(['placement', label(term), value, unit]);
  }
  return tableCsv(['of', 'quantity', 'value', 'unit'], rows);
}
