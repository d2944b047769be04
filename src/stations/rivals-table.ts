import { html, nothing, type TemplateResult } from 'lit';
import type { Judged, RivalsAnswer } from '../analysis/pair/verdict.ts';
import { formatQuantity } from '../units/format.ts';
import { label, type TermId } from './glossary.ts';

interface Column {
  readonly term: TermId;
  /** May take two lines. */
  readonly breaks?: boolean;
  readonly text: (judged: Judged) => string;
}

const metres = (value: number): string => `${value.toFixed(2)}\u00a0m`;
const ohms = (value: number): string => formatQuantity(value, 'ohm');
const way = (value: number, edge: number): string =>
  value >= edge * 0.999 ? `>\u00a0${edge.toFixed(0)}` : value.toFixed(1);

/** The direction in words: along an axis, or its angle. */
function directionText(degrees: number): string {
  if (!Number.isFinite(degrees)) return '–';
  const turned = ((degrees % 360) + 360) % 360;
  const names: readonly [number, string][] = [
    [0, '+x'],
    [90, '+y'],
    [180, '−x'],
    [270, '−y'],
    [360, '+x'],
  ];
  const near = names.find(([angle]) => Math.abs(angle - turned) < 3);
  return near ? near[1] : `${turned.toFixed(0)}°`;
}

const COLUMNS: readonly Column[] = [
  {
    term: 'inductances',
    text: ({ report: { link } }) =>
      `${formatQuantity(link.transmitterInductanceH, 'H')}, ${formatQuantity(link.receiverInductanceH, 'H')}`,
  },
  {
    term: 'qualities',
    text: ({ report: { link } }) => `${link.transmitterQ.toFixed(0)}, ${link.receiverQ.toFixed(0)}`,
  },
  {
    term: 'limitShort',
    text: ({ report: { link } }) => `${(100 * link.linkEfficiencyLimit).toFixed(1)}\u00a0%`,
  },
  {
    term: 'alongLong',
    text: ({ report: { at, edgeMm } }) => `${way(at.alongXMm, edgeMm)}, ${way(at.alongYMm, edgeMm)}\u00a0mm`,
  },
  { term: 'worstWay', text: ({ report }) => directionText(report.worstDeg) },
  {
    term: 'copperShort',
    breaks: true,
    text: ({ report: { transmitterCopper: a, receiverCopper: b } }) =>
      // Breaks between the coils only.
      `${metres(a.lengthM)},\u00a0${ohms(a.resistanceOhm)}; ${metres(b.lengthM)},\u00a0${ohms(b.resistanceOhm)}`,
  },
  {
    term: 'heatShort',
    text: ({ report }) =>
      `${formatQuantity(report.coilLossW, 'W')}, ${report.operatingPoint.receiverC.toFixed(0)}\u00a0°C`,
  },
];

/** All numbers of the candidates; each can be opened as the design. */
export function rivalsTable(answer: RivalsAnswer, open: (judged: Judged) => void): TemplateResult {
  return html`<div class="wide" tabindex="0" role="region" aria-label="All numbers of the candidates">
    <table>
      <thead>
        <tr>
          <th scope="col">${label('pairName')}</th>
          ${COLUMNS.map(({ term }) => html`<th scope="col">${label(term)}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${answer.judged.map(
          (judged) =>
            html`<tr>
              <th scope="row">
                ${judged.name}
                ${
                  judged.kind === 'own'
                    ? nothing
                    : html`<button
                        type="button"
                        class="quiet small"
                        aria-label="Open ${judged.name}"
                        @click=${() => open(judged)}
                      >
                        open
                      </button>`
                }
                <div class="small">${judged.note}</div>
              </th>
              ${COLUMNS.map(({ term, text, breaks }) => html`<td class=${breaks ? '' : 'nums'} data-name=${label(term)}>${text(judged)}</td>`)}
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

/** The candidates' numbers, one line each. */
export function rivalsCsv({ judged }: RivalsAnswer): string {
  const head =
    'pair,k,k low,k high,largest current A,low A,high A,reach mm,low mm,high mm,along x mm,along y mm,L1 uH,L2 uH,Q1,Q2,efficiency limit,coil loss W,receiver C';
  const rows = judged.map(({ name, report }) => {
    const { link, margin, reachMm, at, operatingPoint } = report;
    const numbers = [
      ...[link.couplingBand, margin.maxOutputBand, reachMm].flatMap(({ value, low, high }) => [value, low, high]),
      at.alongXMm,
      at.alongYMm,
      1e6 * link.transmitterInductanceH,
      1e6 * link.receiverInductanceH,
      link.transmitterQ,
      link.receiverQ,
      link.linkEfficiencyLimit,
      report.coilLossW,
      operatingPoint.receiverC,
    ];
    return [`"${name.replace(/"/g, '""')}"`, ...numbers.map((value) => String(Number(value.toPrecision(6))))].join(',');
  });
  return `${[head, ...rows].join('\n')}\n`;
}
