/** One label on the screens. */
export interface Term {
  /** As it stands on the screens. */
  readonly label: string;
  readonly meaning: string;
  readonly formula?: string;
  readonly source: string;
}

export const OURS = 'a name of ours';
export const TRADE = 'common practice in the trade, no source';
export const CIRCUIT = 'IEC 60050-131, circuit theory (from memory)';
export const DRAWING = 'ISO 129-1, technical drawings, dimensions (from memory)';
export const MAGNETIC = 'IEC 60050-221, magnetic materials and components (from memory)';
export const FRAMES = 'ISO 80000-2 and 80000-3, axes and angles (from memory)';

export const term = (label: string, meaning: string, source: string, formula?: string): Term =>
  formula === undefined ? { label, meaning, source } : { label, meaning, source, formula };
