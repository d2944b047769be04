import { html, nothing, type TemplateResult } from 'lit';
import '../charts/feed-divider.ts';
import { type DividerChange, mendingResistor, readDivider } from '../analysis/feed/divider.ts';
import type { FeedReport } from '../analysis/feed/feed-report.ts';
import type { LegParts } from '../charts/feed-divider-layout.ts';
import type { FeedbackDocument, LegDocument } from '../design/types.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { formatQuantity } from '../units/format.ts';
import { pathField } from './feed-fields.ts';
import { label, type TermId } from './glossary.ts';

const NBSP = '\u00a0';

/** What the loads behind a converter want of it, V: the voltage of the largest; null without loads. */
export function wantedOf(report: FeedReport): number | null {
  const loads = report.chain.awayLoads;
  const largest = loads.reduce((most, load) => Math.max(most, load.currentA * load.atV), 0);
  return loads.find((load) => load.currentA * load.atV === largest)?.atV ?? null;
}

const partsOf = (leg: LegDocument): LegParts => ({
  series: leg.seriesKohm > 0,
  trimmer: leg.trimmerKohm > 0,
  parallel: leg.parallelKohm !== null,
});

type LegName = 'top' | 'bottom';

/** The divider with a number at every part, what can be added, and a plain word when a change goes the wrong way. */
export function dividerBody(
  session: Session,
  feedback: FeedbackDocument,
  path: string,
  wantedV: number | null,
  change: DividerChange | null,
): TemplateResult {
  const reading = readDivider(feedback);
  const set = (at: string, value: unknown, what: string, phase: 'once' | 'step' = 'once'): void =>
    session.store.run(setValue, { path: `${path}.${at}`, value, what }, phase);
  const field = (leg: LegName, slot: string, key: keyof LegDocument, term: TermId, caption: string, value: number) =>
    pathField(session, {
      slot: `${leg}-${slot}`,
      term,
      of: leg === 'top' ? label('topLeg') : label('bottomLeg'),
      caption,
      unit: 'kohm',
      path: `${path}.${leg}.${key}`,
      value,
      what: `a resistor of the ${leg} leg`,
    });
  const legFields = (leg: LegName): unknown => {
    const values = feedback[leg];
    const parts = partsOf(values);
    return html`${field(leg, 'resistor', 'resistorKohm', 'resistor', '', values.resistorKohm)}
      ${parts.series ? field(leg, 'series', 'seriesKohm', 'inSeries', label('inSeries'), values.seriesKohm) : nothing}
      ${parts.trimmer ? field(leg, 'trimmer', 'trimmerKohm', 'trimmer', label('trimmer'), values.trimmerKohm) : nothing}
      ${parts.parallel ? field(leg, 'parallel', 'parallelKohm', 'acrossLeg', label('acrossLeg'), values.parallelKohm ?? 0) : nothing}
      <div slot="${leg}-add" class="adds">${adds(leg, values, parts)}</div>`;
  };
  const button = (words: string, name: string, at: string, value: unknown): TemplateResult =>
    html`<button type="button" class="quiet" aria-label=${name} @click=${() => set(at, value, 'the divider')}>${words}</button>`;
  const adds = (leg: LegName, values: LegDocument, parts: LegParts): unknown => {
    const where = leg === 'top' ? label('topLeg') : label('bottomLeg');
    const round = (value: number): number => Number(value.toPrecision(2));
    const option = (
      has: boolean,
      term: TermId,
      key: keyof LegDocument,
      fresh: number | null,
      none: number | null,
    ): TemplateResult =>
      has
        ? button(`\u2212${NBSP}${label(term)}`, `Take out ${label(term)}, ${where}`, `${leg}.${key}`, none)
        : button(`+${NBSP}${label(term)}`, `Put in ${label(term)}, ${where}`, `${leg}.${key}`, fresh);
    return [
      option(parts.series, 'inSeries', 'seriesKohm', round(values.resistorKohm / 50), 0),
      option(parts.trimmer, 'trimmer', 'trimmerKohm', round(values.resistorKohm / 10), 0),
      option(parts.parallel, 'acrossLeg', 'parallelKohm', round(values.resistorKohm * 20), null),
    ];
  };
  const mend = wantedV === null ? null : mendingResistor(feedback, wantedV);
  const kilohm = mend === null ? 0 : Number(mend.parallelKohm.toPrecision(3));
  return html`<oc-feed-divider
      .model=${{ top: partsOf(feedback.top), bottom: partsOf(feedback.bottom), reading, wantedV }}
    >
      <span slot="output" class="said"
        >${label('setOutput').toLowerCase()}
        <b>${formatQuantity(reading.outputV, 'V', { digits: 4, space: NBSP, fixedUnit: true })}</b>${
          wantedV === null ? nothing : `, ${wantedV}${NBSP}V ${label('wantedByLoads')}`
        }</span
      >
      ${pathField(session, {
        slot: 'reference',
        term: 'reference',
        caption: label('reference'),
        unit: 'V',
        path: `${path}.referenceV`,
        value: feedback.referenceV,
        what: 'the reference',
      })}
      ${legFields('top')} ${legFields('bottom')}
    </oc-feed-divider>
    ${(['top', 'bottom'] as const).map((leg) => trimmerSlider(session, feedback, path, leg))}
    <p class="tolerances">
      ${pathField(session, {
        term: 'resistorTolerance',
        caption: `${label('resistorTolerance')} ±`,
        unit: '%',
        path: `${path}.resistorTolerancePercent`,
        value: feedback.resistorTolerancePercent,
        what: 'the tolerance of the resistors',
      })}
      ${pathField(session, {
        term: 'referenceTolerance',
        caption: `${label('referenceTolerance')} ±`,
        unit: '%',
        path: `${path}.referenceTolerancePercent`,
        value: feedback.referenceTolerancePercent,
        what: 'the tolerance of the reference',
      })}
    </p>
    <p class="said ${change?.wrongWay ? 'bad' : ''}" role="status">${change?.sentence ?? ''}</p>
    ${
      mend === null
        ? nothing
        : html`<p class="said">
            One resistor across the ${mend.leg} leg brings ${wantedV}${NBSP}V:
            <button
              type="button"
              class="quiet"
              @click=${() => set(`${mend.leg}.parallelKohm`, combined(feedback[mend.leg], kilohm), 'the divider')}
            >
              put in ${formatQuantity(combined(feedback[mend.leg], kilohm), 'kohm', { digits: 3, space: NBSP })}
            </button>
          </p>`
    }`;
}

/** A further resistor across a leg that has one: both as one. */
function combined(leg: LegDocument, furtherKohm: number): number {
  const one = leg.parallelKohm === null ? furtherKohm : 1 / (1 / furtherKohm + 1 / leg.parallelKohm);
  return Number(one.toPrecision(3));
}

function trimmerSlider(session: Session, feedback: FeedbackDocument, path: string, leg: LegName): unknown {
  const values = feedback[leg];
  if (!(values.trimmerKohm > 0)) return nothing;
  const run = (event: Event): void =>
    session.store.run(
      setValue,
      {
        path: `${path}.${leg}.trimmerTurn`,
        value: Number((event.target as HTMLInputElement).value),
        what: 'the trimmer',
      },
      'step',
    );
  const used = formatQuantity(values.trimmerTurn * values.trimmerKohm, 'kohm', { digits: 3, space: NBSP });
  return html`<div class="slide">
    <label for="trimmer-${leg}">${label('trimmerTurn')}</label>
    <input
      id="trimmer-${leg}"
      type="range"
      min="0"
      max="1"
      step="0.01"
      .value=${String(values.trimmerTurn)}
      aria-valuetext=${`${Math.round(100 * values.trimmerTurn)} % of the track`}
      @input=${run}
    />
    <output for="trimmer-${leg}">${used}</output>
  </div>`;
}
