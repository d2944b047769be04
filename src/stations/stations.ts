import { html, type TemplateResult } from 'lit';
import type { Session } from '../state/session.ts';
import { label, type TermId } from './labels.ts';

export interface Station {
  readonly id: 'pair' | 'feed' | 'place' | 'hold' | 'prove' | 'lessons' | 'beside' | 'report';
  readonly term: TermId;
  /** Brings the station's element; it arrives when it is first looked at. Null: not built yet. */
  readonly load: (() => Promise<unknown>) | null;
  /** The station's element or, where it is not built yet, what will be there. */
  readonly body: (session: Session) => TemplateResult;
}

export const STATIONS: readonly Station[] = Object.freeze([
  {
    id: 'pair',
    term: 'pair',
    load: () => import('./oc-pair.ts'),
    body: (session) => html`<oc-pair .session=${session}></oc-pair>`,
  },
  {
    id: 'feed',
    term: 'feed',
    load: () => import('./oc-feed.ts'),
    body: (session) => html`<oc-feed .session=${session}></oc-feed>`,
  },
  {
    id: 'place',
    term: 'place',
    load: () => import('./oc-place.ts'),
    body: (session) => html`<oc-place .session=${session}></oc-place>`,
  },
  {
    id: 'hold',
    term: 'hold',
    load: () => import('./oc-hold.ts'),
    body: (session) => html`<oc-hold .session=${session}></oc-hold>`,
  },
  {
    id: 'prove',
    term: 'prove',
    load: () => import('./oc-prove.ts'),
    body: (session) => html`<oc-prove .session=${session}></oc-prove>`,
  },
  {
    id: 'lessons',
    term: 'lessons',
    load: () => import('./oc-lessons.ts'),
    body: (session) => html`<oc-lessons .session=${session}></oc-lessons>`,
  },
] satisfies readonly Station[]);

/** What looks at the design as a whole: reached from its menu, not a station. */
const PAGES: readonly Station[] = Object.freeze([
  {
    id: 'beside',
    term: 'compare',
    load: () => import('./oc-beside.ts'),
    body: (session) => html`<oc-beside .session=${session}></oc-beside>`,
  },
  {
    id: 'report',
    term: 'report',
    load: () => import('./oc-report.ts'),
    body: (session) => html`<oc-report .session=${session}></oc-report>`,
  },
] satisfies readonly Station[]);

/** Station or page of a fragment, `lessons/3` as well as `lessons`; Place where it names none. */
export function stationOf(name: string): Station {
  const [wanted] = name.split('/');
  return (
    [...STATIONS, ...PAGES].find(({ id }) => id === wanted) ?? (STATIONS.find(({ id }) => id === 'place') as Station)
  );
}

export function stationLabel(station: Station): string {
  return label(station.term);
}
