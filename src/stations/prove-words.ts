import { html, nothing, type TemplateResult } from 'lit';
import { fitAnswer, fitRests } from '../analysis/prove/answer-words.ts';
import { gridSheet, readingsSheet, sheetGaps } from '../analysis/prove/bench-sheet.ts';
import type { FitReport } from '../analysis/prove/fit-report.ts';
import { worthOf } from '../analysis/prove/reading-worth.ts';
import type { AnswerStretch } from '../parts/oc-answer.ts';
import '../parts/oc-note.ts';
import { fileNameOf } from '../state/design-text.ts';
import type { Session } from '../state/session.ts';
import { label } from './glossary.ts';
import { followsTable } from './prove-numbers.ts';
import { saveFile } from './save-file.ts';

/** No line breaks within a range. */
const unbroken = (text: string): string => text.replaceAll('–', '\u2060–\u2060');

/** The answer line. */
export function proveAnswer(
  report: FitReport | null,
  count: number,
  failure: string | null,
  held: boolean,
): AnswerStretch[] {
  if (failure !== null) return [{ text: failure, tone: 'bad' }];
  if (count === 0) {
    return [
      { text: 'No readings yet. ', tone: 'strong' },
      { text: 'A USB meter and an electronic load are enough to learn how far the map can be trusted.', tone: 'plain' },
    ];
  }
  if (report) {
    const { agreement, reach } = fitAnswer(report);
    return [
      { text: agreement, tone: report.explains ? 'plain' : 'bad' },
      { text: unbroken(reach), tone: report.explains ? 'strong' : 'plain' },
    ];
  }
  const readings = count === 1 ? 'one reading' : `${count} readings`;
  if (held) return [{ text: `Stopped before the ${readings} were laid beside the model.`, tone: 'plain' }];
  return [
    { text: `Laying ${readings} beside the model`, tone: 'plain' },
    { text: ' …', tone: 'uncertain' },
  ];
}

/** What the answer rests on. */
export function proveWhy(report: FitReport | null, fresh: boolean): string {
  if (!report) return '';
  return `${unbroken(fitRests(report))}${fresh ? '' : ' Of the readings before the last change.'}`;
}

/** What a misfit suggests; room is not kept for it, because it stands beneath what is edited. */
export function proveSuggestions({ explains, suggestions }: FitReport): TemplateResult | typeof nothing {
  if (explains) return nothing;
  return html`<ul class="bad">
    ${
      suggestions.length === 0
        ? html`<li>No single cause explains the pattern.</li>`
        : suggestions.map(({ sentence }) => html`<li>${sentence}</li>`)
    }
  </ul>`;
}

/** What the fit means: consequences, what is fixed, what to read next, sheets to print. */
export function proveBelow(session: Session, report: FitReport | null): TemplateResult {
  const coming = html`<p class="soft">Comes with the fit.</p>`;
  return html`<div class="below">
    <section class="after">
      <h3>${label('whatFollows')}</h3>
      ${report ? followsTable(report) : coming}
    </section>
    <section class="fixed">
      <h3>${label('whatIsFixed')}</h3>
      ${report ? fixed(report) : coming}
    </section>
    <section class="next">
      <h3>${label('readNext')}</h3>
      ${report ? nextList(report) : coming}
    </section>
    ${provePrint(session)}
  </div>`;
}

function fixed({ combinations, notes, chi2, probability }: FitReport): TemplateResult {
  return html`${
    combinations.length === 0
      ? html`<p class="soft">Nothing better than it was known.</p>`
      : html`<ul>
          ${combinations.map(({ words, shrink }) => html`<li>${words} <span class="soft">to ${Math.round(100 * shrink)} % of its width</span></li>`)}
        </ul>`
  }
  ${notes.map((note) => html`<p class="soft">${note}</p>`)}
  <p class="soft">
    Bands are 95 %. Chi-square ${chi2.toFixed(0)} with the priors, as large in ${Math.round(100 * probability)} % of benches
    if all is right.
  </p>`;
}

function nextList({ next }: FitReport): TemplateResult {
  return html`<ol>
    ${next.slice(0, 4).map((reading) => html`<li>${reading.sentence} <span class="soft">${worthOf(reading)}</span></li>`)}
  </ol>`;
}

/** What to do at the bench, for somebody without a reading yet. */
export function proveFirst(session: Session): TemplateResult {
  const { design } = session.store.resolved.value;
  const [own, ...wider] = sheetGaps(design);
  const { supplyV } = design.transmitter.drive;
  return html`<section class="first">
    <h3>${label('howToBegin')}</h3>
    <ol>
      <li>Put the receiver in place at ${own}\u00a0mm gap, centred; the printed grid helps. A USB meter goes before the transmitter, the load behind the receiver.</li>
      <li>At ${supplyV}\u00a0V set a light, a middle and a heavy load, and note volts and amps on both sides: a row each.</li>
      <li>Raise the load until the output collapses, note that load, and untick “${label('readRegulated')}” in its row.</li>
      <li>Do the same with the gap at ${wider.map((gap) => `${gap}\u00a0mm`).join(' or ')}, and once off centre.</li>
      <li>Two or three rows give a first answer; from then on it says which reading would help most.</li>
    </ol>
  </section>`;
}

/** Sheets to print, and the caution that belongs to a bench. */
export function provePrint(session: Session): TemplateResult {
  const { design } = session.store.resolved.value;
  const save = (name: string, text: string) => {
    const title = session.store.document.value.title ?? '';
    saveFile(fileNameOf(`${title} ${name}`, 'svg'), new Blob([text], { type: 'image/svg+xml' }));
  };
  return html`<section class="print"><h3>${label('toPrint')}</h3>
      <p class="tools">
        <button type="button" class="quiet" @click=${() => save('grid a4', gridSheet(design, 'a4'))}>measuring grid, A4</button>
        <button type="button" class="quiet" @click=${() => save('grid letter', gridSheet(design, 'letter'))}>measuring grid, US letter</button>
        <button type="button" class="quiet" @click=${() => save('readings a4', readingsSheet(design, 'a4'))}>readings sheet, A4</button>
        <button type="button" class="quiet" @click=${() => save('readings letter', readingsSheet(design, 'letter'))}>readings sheet, US letter</button>
      </p>
      <oc-note>
        Loose metal between the coils can grow hot enough to burn, and a board fed above its rating can fail: its data
        sheet and local codes come first.
      </oc-note></section>`;
}
