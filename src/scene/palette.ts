import type { ScenePalette } from './types.ts';

/** The page's tokens as the scene needs them, for light paper. */
export const LIGHT_PALETTE: ScenePalette = Object.freeze({
  scheme: 'light',
  paper: '#f7f4ec',
  sheet: '#fffdf8',
  ink: '#22303a',
  soft: '#6a7780',
  rule: '#d9d3c4',
  copper: '#b4632b',
  steel: '#2f6f7e',
  bad: '#a8323a',
});

/** And for dark paper. */
export const DARK_PALETTE: ScenePalette = Object.freeze({
  scheme: 'dark',
  paper: '#161b1f',
  sheet: '#1d2429',
  ink: '#e9e4d8',
  soft: '#9aa5ab',
  rule: '#343d43',
  copper: '#e09a63',
  steel: '#74bccb',
  bad: '#ef8d8d',
});

const NAMES = ['paper', 'sheet', 'ink', 'soft', 'rule', 'copper', 'steel', 'bad'] as const;

/** The palette in force at an element, read from the page's custom properties; a missing or odd one falls back. */
export function paletteAt(element: Element, scheme: 'light' | 'dark'): ScenePalette {
  const fallback = scheme === 'dark' ? DARK_PALETTE : LIGHT_PALETTE;
  const style = getComputedStyle(element);
  const read = (name: (typeof NAMES)[number]): string => {
    const value = style.getPropertyValue(`--${name}`).trim();
    return /^#[0-9a-f]{6}$/i.test(value) ? value : fallback[name];
  };
  return {
    scheme,
    paper: read('paper'),
    sheet: read('sheet'),
    ink: read('ink'),
    soft: read('soft'),
    rule: read('rule'),
    copper: read('copper'),
    steel: read('steel'),
    bad: read('bad'),
  };
}
