const widths = new Map<string, number>();
let context: CanvasRenderingContext2D | null | undefined;

/** Mean advance of the page's text face, as a fraction of the size: only for where nothing can be measured (Node). */
const ROUGH_ADVANCE = 0.56;

/**
 * Width of a line of text in px as the browser sets it, remembered per text and font.
 * @param font as in CSS: `500 12.5px "Atkinson Hyperlegible Next Variable"`
 */
export function textWidth(text: string, font: string): number {
  const key = `${font}|${text}`;
  const known = widths.get(key);
  if (known !== undefined) return known;
  if (context === undefined) {
    context = typeof document === 'undefined' ? null : document.createElement('canvas').getContext('2d');
  }
  let width: number;
  if (context) {
    context.font = font;
    width = context.measureText(text).width;
  } else {
    width = text.length * ROUGH_ADVANCE * Number.parseFloat(/([\d.]+)px/.exec(font)?.[1] ?? '12');
  }
  if (widths.size > 2000) widths.clear();
  widths.set(key, width);
  return width;
}

/** Forgets every width: to be called when a font has arrived. */
export function forgetTextWidths(): void {
  widths.clear();
}
