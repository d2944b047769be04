import type { ScenePalette } from './types.ts';

/** The page's tokens as the scene needs them, for light paper. */
export const LIGHT_PALETTE: ScenePalette = Object.freeze({
  scheme: 'light',
  paper: '#f7f4ec',
  sheet: '#fffdf8',
  ink: '#22303a',
  soft: '#5b6871',
  rule: '#d9d3c4',
  copper: '#a4551f',
  steel: '#25616f',
  bad: '#9c2832',
  ferrite: '#5a6067',
  metal: '#a3abb0',
  wood: '#dcc39a',
  plain: '#d3d5cf',
  textile: '#b9c19f',
});

/** And for dark paper. */
export const DARK_PALETTE: ScenePalette = Object.freeze({
  scheme: 'dark',
  paper: '#161b1f',
  sheet: '#1d2429',
  ink: '#e9e4d8',
  soft: '#9aa5ab',
  rule: '#38424a',
  copper: '#e09a63',
  steel: '#74bccb',
  bad: '#f09a98',
  ferrite: '#6d757c',
  metal: '#8b949a',
  wood: '#6b5738',
  plain: '#474f53',
  textile: '#54603f',
});

/** Red, green, blue, 0..255, of `#rrggbb`, `rgb(r, g, b)` or `rgb(r g b)`; null for anything else. */
export function parseColour(text: string): readonly [number, number, number] | null {
  const hex = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(text.trim());
  if (hex !== null) return [Number.parseInt(hex[1]!, 16), Number.parseInt(hex[2]!, 16), Number.parseInt(hex[3]!, 16)];
  const rgb = /^rgba?\(\s*([\d.]+)[\s,]+([\d.]+)[\s,]+([\d.]+)/i.exec(text.trim());
  return rgb === null ? null : [Number(rgb[1]), Number(rgb[2]), Number(rgb[3])];
}

const TOKENS = {
  paper: '--paper',
  sheet: '--sheet',
  ink: '--ink',
  soft: '--soft',
  rule: '--rule',
  copper: '--copper',
  steel: '--steel',
  bad: '--bad',
  ferrite: '--ferrite',
  metal: '--metal',
  wood: '--layer-wood',
  plain: '--layer-plain',
  textile: '--layer-soft',
} as const;

/**
 * The palette in force at an element, read from the page's custom properties (which are registered as colours, so that
 * they read as `rgb()` in either theme). Dark or light is told by the paper itself; a missing token falls back.
 */
export function paletteAt(element: Element): ScenePalette {
  const style = getComputedStyle(element);
  const paper = parseColour(style.getPropertyValue('--paper')) ?? [247, 244, 236];
  const scheme = paper[0] + paper[1] + paper[2] < 384 ? 'dark' : 'light';
  const palette: Record<keyof typeof TOKENS, string> = { ...(scheme === 'dark' ? DARK_PALETTE : LIGHT_PALETTE) };
  for (const name of Object.keys(TOKENS) as (keyof typeof TOKENS)[]) {
    const colour = parseColour(style.getPropertyValue(TOKENS[name]));
    if (colour !== null) palette[name] = `rgb(${colour.map(Math.round).join(', ')})`;
  }
  return { ...palette, scheme };
}
