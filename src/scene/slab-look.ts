import type { SlabMaterial } from './types.ts';

const WORDS: readonly (readonly [SlabMaterial, RegExp])[] = [
  ['air', /\b(air|clearance|void|space)\b/i],
  ['textile', /\b(felt|cloth|fabric|leather|cork|foam|rubber|silicone|tape|carpet|wool|textile)/i],
  [
    'wood',
    /\b(oak|wood|ply|plywood|beech|birch|pine|walnut|maple|ash|bamboo|mdf|cardboard|veneer|timber|shelf|table)/i,
  ],
  ['glass', /\b(glass|acrylic|mica|sapphire)/i],
  ['stone', /\b(stone|slate|marble|granite|ceramic|tile|quartz|concrete)/i],
];

/** How a stack layer of this name is drawn; plastic where the name says nothing. */
export function lookOf(name: string): SlabMaterial {
  return WORDS.find(([, words]) => words.test(name))?.[0] ?? 'plastic';
}
