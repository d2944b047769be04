import { html, nothing, type TemplateResult } from 'lit';
import { tableCsv } from '../analysis/hold/exports/map-csv.ts';
import type { BeforeAfter } from '../analysis/prove/consequence.ts';
import type { FitReport, FittedValue } from '../analysis/prove/fit-report.ts';
import { meterSigma } from '../analysis/prove/meter-accuracy.ts';
import { readingFacts } from '../analysis/prove/reading-checks.ts';
import type { Uncertain } from '../analysis/types.ts';
import type { MeasuredPoint, ModelCurve } from '../charts/prove-efficiency.ts';
import type { ValueBar } from '../charts/prove-values.ts';
import type { Design, ReadingDocument } from '../design/types.ts';
import { formatQuantity } from '../units/format.ts';
import type { UnitName } from '../units/unit-table.ts';
import { label } from './glossary.ts';

const NBSP = '\u00a0';

const show = (value: number, unit: UnitName, digits = 3): string =>
  formatQuantity(value, unit, { space: NBSP, digits, fixedUnit: true });

function span({ low, high }: Uncertain, unit: UnitName): string {
  return `${show(low, '1').trim()} to ${show(high, unit)}`;
}

/** The curves of a report, named by what tells them apart. */
export function modelCurves(report: FitReport): ModelCurve[] {
  const places = new Set(report.curves.map(({ pose }) => pose)).size;
  const supplies = new Set(report.curves.map(({ supplyV }) => Math.round(supplyV))).size;
  return report.curves.map(({ supplyV, poseName, loadA, efficiency, collapseA }) => {
    const volts = `${supplyV.toFixed(1).replace(/\.0$/, '')}${NBSP}V`;
    const parts = [...(supplies > 1 || places === 1 ? [volts] : []), ...(places > 1 ? [poseName] : [])];
    return { label: parts.join(', '), loadA, efficiency, collapseA };
  });
}

/** Every reading with a load as a point; its half-width from the accuracy of the four meters. */
export function measuredPoints(design: Design, report: FitReport | null): MeasuredPoint[] {
  return design.readings.flatMap((reading, index): MeasuredPoint[] => {
    if (reading.outputA === null) return [];
    const { efficiency } = readingFacts(design.meters, reading);
    return [
      {
        reading: index,
        curve: report?.curves.findIndex(({ readings }) => readings.includes(index)) ?? -1,
        loadA: reading.outputA,
        efficiency,
        halfWidth: efficiency === null ? 0 : 1.96 * efficiency * relativeSigma(design, reading),
        collapsed: !reading.regulated,
      },
    ];
  });
}

function relativeSigma({ meters }: Design, { supplyV, supplyA, outputV, outputA }: ReadingDocument): number {
  const of = (kind: 'voltage' | 'current', value: number | null): number =>
    value === null || !(value > 0) ? 0 : meterSigma(meters, kind, value) / value;
  return Math.hypot(of('voltage', supplyV), of('current', supplyA), of('voltage', outputV), of('current', outputA));
}

const DECIDED: Readonly<Record<FittedValue['decidedBy'], string>> = Object.freeze({
  readings: 'decided by the readings',
  both: 'by readings and what was known before',
  prior: 'hardly touched by the readings',
});

/** Values as bars, those that moved or narrowed most first. */
export function valueBars(report: FitReport, most: number): ValueBar[] {
  const size = ({ shrink, pull }: FittedValue): number => 1 - shrink + 0.3 * Math.abs(pull);
  return [...report.parameters]
    .sort((a, b) => size(b) - size(a))
    .slice(0, most)
    .map((value): ValueBar => {
      const { name, unit, prior, fitted, because, decidedBy } = value;
      const ratio = prior.value > 0 && prior.low > 0;
      // Places on the prior's own scale: logarithmic where it is a ratio.
      const place = (at: number): number =>
        ratio
          ? Math.log(Math.max(at, 1e-12) / prior.value) / Math.log(prior.high / prior.value)
          : (at - prior.value) / (prior.high - prior.value);
      const text = span(fitted, unit);
      return {
        name,
        text,
        said: `${name}: ${show(fitted.value, unit, 4)}, ${text}; before ${span(prior, unit)} (${because}); ${DECIDED[decidedBy]}`,
        best: place(fitted.value),
        low: place(fitted.low),
        high: place(fitted.high),
        byReadings: decidedBy === 'readings',
      };
    });
}

/** All values as CSV. */
export function valuesCsv(report: FitReport): string {
  return tableCsv(
    ['value', 'path', 'unit', 'prior', 'prior_low', 'prior_high', 'fitted', 'low', 'high', 'decided_by'],
    report.parameters.map(({ name, path, unit, prior, fitted, decidedBy }) => [
      name,
      path ?? '',
      unit,
      prior.value,
      prior.low,
      prior.high,
      fitted.value,
      fitted.low,
      fitted.high,
      decidedBy,
    ]),
  );
}

/** Points and lines of the efficiency picture as CSV. */
export function efficiencyCsv(curves: readonly ModelCurve[], points: readonly MeasuredPoint[]): string {
  return tableCsv(
    ['what', 'curve', 'load_A', 'efficiency', 'half_width', 'collapsed'],
    [
      ...points.map((p) => [
        `reading ${p.reading + 1}`,
        curves[p.curve]?.label ?? '',
        p.loadA,
        p.efficiency ?? '',
        p.halfWidth,
        p.collapsed ? 'yes' : 'no',
      ]),
      ...curves.flatMap((c) => Array.from(c.loadA, (load, i) => ['model', c.label, load, c.efficiency[i], '', ''])),
    ],
  );
}

const mm = (value: number): string => `${Math.max(0, value).toFixed(1)}${NBSP}mm`;

/** Reach, play and margins before and after. */
export function followsTable({ consequence }: FitReport): TemplateResult {
  const { reachMm, reachEndMm, recessPlayMm, supplies } = consequence;
  const reach = ({ low, high }: Uncertain): string =>
    low >= reachEndMm - 1e-6
      ? `at least ${mm(reachEndMm)}`
      : `${low.toFixed(1)} to ${high >= reachEndMm - 1e-6 ? 'at least ' : ''}${mm(high)}`;
  const percent = ({ low, high }: Uncertain): string =>
    `${Math.round(low)} to ${Math.round(high)}${NBSP}%`.replaceAll('-', '\u2212');
  const row = (name: TemplateResult | string, of: BeforeAfter, text: (value: Uncertain) => string, verdict = '') =>
    html`<tr>
      <th scope="row">${name}</th>
      <td>${text(of.before)}</td>
      <td>${text(of.after)}${verdict === '' ? nothing : html`<span class="soft">, ${verdict}</span>`}</td>
    </tr>`;
  return html`<table class="follows">
    <thead>
      <tr>
        <td></td>
        <th scope="col">${label('beforeFit')}</th>
        <th scope="col">${label('afterFit')}</th>
      </tr>
    </thead>
    <tbody>
      ${row(label('reachByMargin'), reachMm, reach)}
      <tr>
        <th scope="row">${label('playInRecess')}</th>
        <td>${mm(recessPlayMm.before)}</td>
        <td>${mm(recessPlayMm.after)}</td>
      </tr>
      ${supplies.map(({ supplyV, marginPercent, verdict }) =>
        row(html`${label('marginAt')} ${supplyV}${NBSP}V`, marginPercent, percent, verdict),
      )}
    </tbody>
  </table>`;
}
