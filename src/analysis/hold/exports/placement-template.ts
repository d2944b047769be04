/** A sheet to print at 1:1, cut out and lay on the dock. */
import { InputError } from '../../../numerics/errors.ts';
import { type PlanShape, planBox } from './plan-shapes.ts';
import { svgPage, svgShape } from './plan-svg.ts';
import { plainNumber, xmlText } from './text-escape.ts';

/** Paper sizes, mm, upright. ISO 216 and ANSI/ASME Y14.1. */
export const PAPERS = Object.freeze({
  a4: Object.freeze({ widthMm: 210, heightMm: 297 }),
  letter: Object.freeze({ widthMm: 215.9, heightMm: 279.4 }),
});
export type Paper = keyof typeof PAPERS;

/** Printers leave this margin free, mm. Common practice, no source. */
const MARGIN = 10;
const f = (value: number) => plainNumber(value, 4);

export interface TemplateOptions {
  readonly paper: Paper;
  readonly title: string;
  /** Further lines of text, for example the answer and its date. */
  readonly lines: readonly string[];
}

/**
 * SVG of one sheet: the shapes at 1:1 about the middle of the paper, marks at the transmitter's axis and at the edges, a
 * 50 mm check bar in each direction, and what to do. Turned on its side where only that fits.
 * @throws InputError where the drawing fits neither way.
 */
export function placementTemplate(shapes: readonly PlanShape[], options: TemplateOptions): string {
  const paper = PAPERS[options.paper];
  const box = planBox(shapes);
  // The axis stays in the middle so that folding the sheet in four finds it.
  const needX = 2 * Math.max(-box.fromX, box.toX, 30);
  const needY = 2 * Math.max(-box.fromY, box.toY, 30);
  const top = 24;
  const fits = (w: number, h: number) => needX <= w - 2 * MARGIN && needY <= h - 2 * (MARGIN + top);
  const upright = fits(paper.widthMm, paper.heightMm);
  if (!upright && !fits(paper.heightMm, paper.widthMm))
    throw new InputError({
      code: 'template-size',
      path: 'holding.recess.outline',
      required: `a drawing that fits ${options.paper} paper (${paper.heightMm - 2 * MARGIN} x ${paper.widthMm - 2 * (MARGIN + top)} mm on its side)`,
      received: `${f(needX)} x ${f(needY)} mm about the axis`,
      hint: 'Export the SVG or DXF drawing instead and print it on a larger sheet.',
    });
  const width = upright ? paper.widthMm : paper.heightMm;
  const height = upright ? paper.heightMm : paper.widthMm;
  const left = -width / 2;
  const above = -height / 2;
  const line = (x1: number, y1: number, x2: number, y2: number, id = '') =>
    `<line${id ? ` id="${id}"` : ''} x1="${f(x1)}" y1="${f(y1)}" x2="${f(x2)}" y2="${f(y2)}" stroke="#111111" stroke-width="0.2"/>`;
  const text = (x: number, y: number, size: number, words: string) =>
    `<text x="${f(x)}" y="${f(y)}" font-size="${size}">${xmlText(words)}</text>`;
  const barY = -above - MARGIN - 6;
  const barX = left + MARGIN + 4;
  const body = [
    ...shapes.map(svgShape),
    // Long centre lines with a gap in the middle of nothing: they meet at the axis.
    line(left + MARGIN, 0, left + MARGIN + 15, 0),
    line(-left - MARGIN - 15, 0, -left - MARGIN, 0),
    line(0, above + MARGIN + 12, 0, above + MARGIN + 20),
    line(0, -above - MARGIN - 16, 0, -above - MARGIN - 9),
    line(-8, 0, 8, 0, 'centre-across'),
    line(0, -8, 0, 8, 'centre-up'),
    `<circle cx="0" cy="0" r="1.5" fill="none" stroke="#111111" stroke-width="0.2"/>`,
    line(barX, barY, barX + 50, barY, 'check-bar'),
    line(barX, barY - 2, barX, barY + 2),
    line(barX + 50, barY - 2, barX + 50, barY + 2),
    line(barX, barY - 2, barX, barY - 52, 'check-bar-up'),
    line(barX - 2, barY - 52, barX + 2, barY - 52),
    text(barX + 3, barY - 2.5, 3, '50 mm both ways: measure first'),
    text(left + MARGIN, above + MARGIN + 4, 4.5, options.title),
    ...options.lines.slice(0, 3).map((words, k) => text(left + MARGIN, above + MARGIN + 9 + 4 * k, 3, words)),
    text(barX + 60, barY, 3, 'Print at 100 % (no scaling). The cross is the axis of the coil in the dock.'),
  ].join('\n');
  return svgPage(left, above, width, height, options.title, body);
}
