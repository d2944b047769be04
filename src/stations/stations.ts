import { label, type TermId } from './glossary.ts';

export interface Station {
  readonly id: 'pair' | 'feed' | 'place' | 'hold' | 'prove' | 'lessons';
  readonly term: TermId;
  /** Where it is not built yet: what will be there. */
  readonly toCome: string | null;
}

export const STATIONS: readonly Station[] = Object.freeze([
  { id: 'pair', term: 'pair', toCome: null },
  {
    id: 'feed',
    term: 'feed',
    toCome: 'Feed will show the load, the supply, the losses and the heat along the whole chain. It is not built yet.',
  },
  { id: 'place', term: 'place', toCome: null },
  {
    id: 'hold',
    term: 'hold',
    toCome: 'Hold will size a recess or magnets and say how often a casual placement works. It is not built yet.',
  },
  {
    id: 'prove',
    term: 'prove',
    toCome: 'Prove will lay your bench readings beside the model and fit what is unknown. It is not built yet.',
  },
  {
    id: 'lessons',
    term: 'lessons',
    toCome: 'Lessons will explain the link with the same model you work with. They are not written yet.',
  },
] as const);

/** Station of a fragment; Place where it names none. */
export function stationOf(name: string): Station {
  return STATIONS.find((station) => station.id === name) ?? (STATIONS.find(({ id }) => id === 'place') as Station);
}

export function stationLabel(station: Station): string {
  return label(station.term);
}
