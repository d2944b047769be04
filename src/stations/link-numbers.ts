import { html, type TemplateResult } from 'lit';
import type { LinkAnswer } from '../analysis/types.ts';
import type { QuickAnswer } from '../engine/types.ts';
import { formatQuantity } from '../units/format.ts';
import { factor, shownError } from './answer-line.ts';
import { label, type TermId } from './glossary.ts';
import { word } from './word.ts';

interface Row {
  readonly term: TermId;
  readonly cells: readonly string[];
}

const henries = (value: number, error: number): string =>
  formatQuantity(value, 'H', { error: shownError(value, error) });

/**
 * What the link is made of: numbers of each coil and of the pair, with what is known about their error.
 * @param explained each label says on request what it means; not on paper
 */
export function linkNumbers(link: LinkAnswer | null, quick: QuickAnswer | null, explained: boolean): TemplateResult {
  const blank = '–';
  const value = (make: (from: LinkAnswer) => string): string => (link ? make(link) : blank);
  const coils: Row[] = [
    {
      term: 'inductance',
      cells: [
        value((l) => henries(l.transmitterInductanceH, l.errors.transmitterInductanceH)),
        value((l) => henries(l.receiverInductanceH, l.errors.receiverInductanceH)),
      ],
    },
    {
      term: 'resistance',
      cells: [
        value((l) => formatQuantity(l.transmitterResistanceOhm, 'ohm')),
        value((l) => formatQuantity(l.receiverResistanceOhm, 'ohm')),
      ],
    },
    {
      term: 'quality',
      cells: [value((l) => formatQuantity(l.transmitterQ, '1')), value((l) => formatQuantity(l.receiverQ, '1'))],
    },
  ];
  const pair: Row[] = [
    {
      term: 'coupling',
      cells: [
        quick
          ? factor(quick.coupling)
          : value((l) => `${factor(l.coupling)} (${factor(l.couplingBand.low)}–${factor(l.couplingBand.high)})`),
      ],
    },
    {
      term: 'mutualInductance',
      cells: [
        quick
          ? formatQuantity(quick.mutualInductanceH, 'H')
          : value((l) => henries(l.mutualInductanceH, l.errors.mutualInductanceH)),
      ],
    },
    { term: 'efficiencyLimit', cells: [value((l) => `${(100 * l.linkEfficiencyLimit).toFixed(1)}\u00a0%`)] },
  ];
  const row = ({ term, cells }: Row): TemplateResult =>
    html`<tr>
      <th scope="row">${explained ? word(term) : label(term)}</th>
      ${cells.map((cell) => html`<td colspan=${cells.length === 1 ? 2 : 1}>${cell}</td>`)}
    </tr>`;
  return html`<table class="numbers">
    <thead>
      <tr>
        <td></td>
        <th scope="col" class="transmitter">${label('transmitter')}</th>
        <th scope="col" class="receiver">${label('receiver')}</th>
      </tr>
    </thead>
    <tbody>
      ${coils.map(row)} ${pair.map(row)}
    </tbody>
  </table>`;
}
