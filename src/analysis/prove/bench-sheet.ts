/** Sheets to print for the bench: a measuring grid at 1:1 and a table to fill in. */
import type { Design } from '../../design/types.ts';
import { PAPERS, type Paper } from '../hold/exports/placement-template.ts';
import { svgPage } from '../hold/exports/plan-svg.ts';
import { plainNumber, xmlText } from '../hold/exports/text-escape.ts';
import { furtherGapMm } from './further-gap.ts';
import { READING_COLUMNS } from './readings-columns.ts';

/** Printers leave this margin free, mm. Common practice, no source. */
const MARGIN = 10;
const INK = '#111111';
const f = (value: number) => plainNumber(value, 4);

const line = (x1: number, y1: number, x2: number, y2: number, width: number, id = ''): string =>
  `<line${id ? ` id="${id}"` : ''} x1="${f(x1)}" y1="${f(y1)}" x2="${f(x2)}" y2="${f(y2)}" stroke="${INK}" stroke-width="${width}"/>`;
const text = (x: number, y: number, size: number, words: string, anchor = 'start'): string =>
  `<text x="${f(x)}" y="${f(y)}" font-size="${size}"${anchor === 'start' ? '' : ` text-anchor="${anchor}"`}>${xmlText(words)}</text>`;

/** A bar of 50 mm both ways, to check the printer's scale. */
function checkBar(x: number, y: number): string {
  return [
    line(x, y, x + 50, y, 0.25, 'check-bar'),
    line(x, y - 2, x, y + 2, 0.25),
    line(x + 50, y - 2, x + 50, y + 2, 0.25),
    line(x, y, x, y - 50, 0.25, 'check-bar-up'),
    line(x - 2, y - 50, x + 2, y - 50, 0.25),
    text(x + 3, y - 3, 3, '50 mm both ways: measure first'),
  ].join('\n');
}

/** Half-width of the grid, mm. */
const GRID_HALF = 60;

/**
 * A measuring grid at 1:1: a line every millimetre, stronger every five and ten, numbered along both axes, with the design's own place
 * marked. The cross goes over the transmitter's axis, the receiver's centre on the offset wanted.
 */
export function gridSheet(design: Design, paper: Paper): string {
  const { widthMm, heightMm } = PAPERS[paper];
  const left = -widthMm / 2;
  const above = -heightMm / 2 + 20;
  const lines: string[] = [];
  for (let at = -GRID_HALF; at <= GRID_HALF; at++) {
    const width = at === 0 ? 0.4 : at % 10 === 0 ? 0.2 : at % 5 === 0 ? 0.12 : 0.05;
    lines.push(line(at, -GRID_HALF, at, GRID_HALF, width), line(-GRID_HALF, at, GRID_HALF, at, width));
    if (at % 10 === 0 && at !== 0) {
      lines.push(text(at, GRID_HALF + 4.5, 3, String(at), 'middle'));
      lines.push(text(-GRID_HALF - 2, -at + 1, 3, String(at), 'end'));
    }
  }
  const { offsetXMm: x, offsetYMm: y } = design.placement;
  if (Math.hypot(x, y) > 0 && Math.max(Math.abs(x), Math.abs(y)) < GRID_HALF)
    lines.push(`<circle cx="${f(x)}" cy="${f(-y)}" r="1.6" fill="none" stroke="${INK}" stroke-width="0.3"/>`);
  const bottom = above + heightMm - MARGIN;
  const body = [
    text(left + MARGIN, above + MARGIN + 5, 5, design.title),
    text(
      left + MARGIN,
      above + MARGIN + 11,
      3.2,
      'Measuring grid, millimetres. The heavy cross goes over the axis of the coil in the dock; move the receiver\u2019s centre along it.',
    ),
    text(
      left + MARGIN,
      above + MARGIN + 16,
      3.2,
      'No metal on or under the sheet but what belongs to the design: it changes the readings and can grow hot enough to burn.',
    ),
    ...lines,
    checkBar(left + MARGIN + 8, bottom - 6),
    text(left + MARGIN + 70, bottom - 6, 3.2, 'Print at 100 % (no scaling).'),
  ].join('\n');
  return svgPage(left, above, widthMm, heightMm, `${design.title}: measuring grid`, body);
}

/** Things of known thickness that are easily had, mm: cards by ISO/IEC 7810 ID-1 (from memory), the others common practice, no source. */
const SPACERS = Object.freeze([
  { name: '3 mm acrylic sheet', mm: 3 },
  { name: '2 mm acrylic sheet', mm: 2 },
  { name: 'plastic card (0.76 mm)', mm: 0.76 },
  { name: 'sheet of office paper (0.1 mm)', mm: 0.1 },
]);

/** What to lay between to add a thickness, in words: largest first. */
export function spacersFor(addMm: number): string {
  let left = addMm;
  const parts: string[] = [];
  for (const { name, mm } of SPACERS) {
    const count = Math.floor(left / mm + (mm < 0.5 ? 0.5 : 1e-9));
    if (count === 0) continue;
    left -= count * mm;
    parts.push(count === 1 ? `one ${name}` : `${count} \u00d7 ${name}`);
  }
  return parts.length === 0 ? 'nothing more' : parts.join(' + ');
}

/** Gaps worth reading at, mm: the design's own, and two wider ones. */
export function sheetGaps(design: Design): number[] {
  const { gapMm } = design.placement;
  const further = furtherGapMm(design);
  return [gapMm, Number(((gapMm + further) / 2).toFixed(1)), further];
}

const ROW = 8;
const SHORT: Readonly<Record<string, string>> = Object.freeze({
  supplyV: 'supply V',
  supplyA: 'supply A',
  outputV: 'output V',
  outputA: 'output A',
  gapMm: 'gap mm',
  offsetXMm: 'x mm',
  offsetYMm: 'y mm',
  frequencyKhz: 'freq. kHz',
  rectifiedV: 'rect. V',
  receiverC: 'rec. \u00b0C',
  transmitterC: 'trans. \u00b0C',
  regulated: 'holds?',
});

/** A blank readings sheet, lying: one column for each number, spacers to use, what to read first. */
export function readingsSheet(design: Design, paper: Paper): string {
  const width = PAPERS[paper].heightMm;
  const height = PAPERS[paper].widthMm;
  const gaps = sheetGaps(design);
  const words = [
    'With the load set, wait until the meters stand still. Read volts and amps at the supply and at the output; the frequency on a coil lead and the rectified voltage help most.',
    `Gaps: ${gaps.map((gap, i) => `${f(gap)} mm (${i === 0 ? 'the design\u2019s own' : `add ${spacersFor(gap - gaps[0])}`})`).join('; ')}.`,
    'Raise the load in steps until the output falls out of regulation, note the load there with "holds? no", and go back at once: parts grow hot. Watch the board\u2019s data sheet for its highest voltage.',
  ];
  const top = MARGIN + 26;
  const columns = READING_COLUMNS.length + 1;
  const step = (width - 2 * MARGIN) / columns;
  const rows = Math.floor((height - top - MARGIN - 10) / ROW);
  const out: string[] = [
    text(MARGIN, MARGIN + 4, 5, `${design.title}: bench readings`),
    text(width - MARGIN - 60, MARGIN + 4, 3.2, 'date:                  by:'),
  ];
  for (const [k, said] of words.entries()) out.push(text(MARGIN, MARGIN + 10 + 4.4 * k, 2.9, said));
  for (let r = 0; r <= rows; r++)
    out.push(line(MARGIN, top + ROW * r, width - MARGIN, top + ROW * r, r <= 1 ? 0.3 : 0.12));
  for (let c = 0; c <= columns; c++) out.push(line(MARGIN + step * c, top, MARGIN + step * c, top + ROW * rows, 0.12));
  out.push(text(MARGIN + step / 2, top + 5.2, 3, 'no.', 'middle'));
  for (const [c, { key }] of READING_COLUMNS.entries())
    out.push(text(MARGIN + step * (c + 1.5), top + 5.2, 3, SHORT[key], 'middle'));
  for (let r = 1; r < rows; r++) out.push(text(MARGIN + step / 2, top + ROW * r + 5.4, 3, String(r), 'middle'));
  return svgPage(0, 0, width, height, `${design.title}: readings sheet`, out.join('\n'));
}

/** Both sheets as files, A4. */
export function benchSheets(design: Design): Record<string, string> {
  return { 'grid.svg': gridSheet(design, 'a4'), 'readings-sheet.svg': readingsSheet(design, 'a4') };
}
