import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import type { CoilRowReport } from '../analysis/pair/coil-row.ts';
import { outerBox } from '../analysis/pair/outline-size.ts';
import type { Uncertain } from '../analysis/types.ts';
import '../charts/rivals-row-chart.ts';
import type { RowPlan } from '../charts/rivals-row-chart.ts';
import type { ValueCommittedDetail } from '../parts/number-entry.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import '../parts/oc-progress.ts';
import '../parts/oc-unit-field.ts';
import type { Session } from '../state/session.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import { outlineOf } from './link-figures.ts';
import { question } from './question.ts';
import { rivalsStyle } from './rivals-style.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

/** Two or three transmitter coils in a row, of which the controller drives the best. */
@customElement('oc-rivals-row')
export class RivalsRow extends StationElement {
  static override readonly styles = [stationStyle, rivalsStyle];

  @state() private _count: 2 | 3 = 3;
  /** Null: half a coil. */
  @state() private _stepMm: number | null = null;

  protected watched({ pair, store }: Session): readonly ReadonlySignal<unknown>[] {
    return [pair.row, pair.rowFresh, pair.rowProgress, pair.rowFailure, store.resolved];
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { pair, store } = session;
    const { design } = store.resolved.value;
    const stepMm = this._stepMm ?? Number((outerBox(design.transmitter.coil).widthMm / 2).toFixed(1));
    const progress = pair.rowProgress.value;
    const answer = pair.row.value;
    return question({
      id: 'row',
      term: 'row',
      answers: 'How far two or three transmitter coils in a row would serve, with the best one driven at each place.',
      body: html`<div class="choices">
        <oc-choice
          label=${label('rowCount')}
          .options=${[{ value: '2', label: label('two') }, { value: '3', label: label('three') }]}
          .value=${String(this._count)}
          @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
            this._count = event.detail.value === '2' ? 2 : 3;
          }}
        ></oc-choice>
        <oc-unit-field
          label=${label('rowStep')}
          unit="mm"
          .value=${stepMm}
          .min=${1}
          .max=${500}
          @value-committed=${(event: CustomEvent<ValueCommittedDetail>) => {
            this._stepMm = event.detail.value;
          }}
        ></oc-unit-field>
      </div>
      <div class="act">
        <button type="button" class="do" @click=${() => pair.askRow(this._count, stepMm)}>Look at the row</button>
        <oc-progress
          ?running=${progress !== null}
          .fraction=${progress?.fraction ?? null}
          stage=${progress?.stage ?? ''}
          @stop-requested=${() => pair.stopRow()}
        ></oc-progress>
      </div>
      ${pair.rowFailure.value === null ? nothing : html`<p role="alert">${pair.rowFailure.value}</p>`}
      <div aria-live="polite">${
        answer && !progress
          ? html`<p class="verdict">
              ${rowSentence(answer)}
              ${pair.rowFresh.value ? nothing : html`<span class="small">Of the design before it was changed.</span>`}
            </p>`
          : nothing
      }</div>
      ${answer ? this.#plan(session, answer) : nothing}
      ${answer ? html`<p class="soft">The open coils: ${idleSentence(answer)}</p>` : nothing}`,
      method:
        'Coils that overlap lie one winding deeper, every other one (of three that all overlap, the third two); the ferrite lies as much deeper and is as long as the row. One coil is driven, the others are open and carry no current. A coil that a switch leaves closed would carry a current and take from the field; that is not computed.',
    });
  }

  #plan(session: Session, answer: CoilRowReport): TemplateResult {
    const { transmitter, receiver } = session.store.resolved.value;
    const moved = (ring: Float64Array, [dx, dy]: readonly [number, number]): Float64Array =>
      ring.map((value, i) => value + (i % 2 === 0 ? dx : dy));
    const xs = answer.centresMm.map(([x]) => x);
    const middle: [number, number] = [(Math.min(...xs) + Math.max(...xs)) / 2, 0];
    const plan: RowPlan = {
      safe: answer.map.safeOutline,
      holds: answer.map.collapseOutline,
      coils: answer.centresMm.map((centre) => moved(outlineOf(transmitter).outerMm, centre)),
      receiver: moved(outlineOf(receiver).outerMm, middle),
      deadSpots: answer.deadSpots,
    };
    return figure(session, {
      title: label('rowFigure'),
      hint: 'green: safe for the receiver’s centre; line: just held',
      chart: () => this.renderRoot.querySelector('oc-rivals-row-chart'),
      csv: () => rowCsv(answer),
      body: html`<oc-rivals-row-chart .plan=${plan} description=${rowSentence(answer)}></oc-rivals-row-chart>`,
    });
  }
}

function rowSentence({ centresMm, map, deadSpots, pieces, safeLengthMm }: CoilRowReport): string {
  const xs = centresMm.map(([x]) => x).toSorted((a, b) => a - b);
  const stepMm = xs[1]! - xs[0]!;
  const row = `${centresMm.length === 2 ? 'Two' : 'Three'} coils, ${Number(stepMm.toFixed(1))} mm apart`;
  if (pieces === 0) return `${row}: nowhere safe with the wanted margin.`;
  const dead =
    pieces > 1
      ? `It falls into ${pieces} separate places: bring the coils closer together.`
      : deadSpots.length > 0
        ? `${deadSpots.length} dead ${deadSpots.length === 1 ? 'spot lies' : 'spots lie'} inside.`
        : 'No dead spots.';
  return `${row}: safe along ${safeLengthMm.toFixed(1)} mm of the row, and ${bandText(map.reachMm)} every way from its middle. ${dead}`;
}

/** 9.8 mm (9.1 to 10.4). */
function bandText({ value, low, high }: Uncertain): string {
  const text = `${value.toFixed(1)} mm`;
  return high - low < 0.1 ? text : `${text} (${low.toFixed(1)}–${high.toFixed(1)})`;
}

/** What the driven coil does to the open ones. */
function idleSentence({ idle: { drivenA, frequencyHz, lossW, openV } }: CoilRowReport): string {
  const watts = lossW < 0.01 ? 'less than 0.01 W' : `at most ${lossW.toFixed(2)} W`;
  return `at ${drivenA.toFixed(2)} A rms and ${(frequencyHz / 1e3).toFixed(0)} kHz in the driven one, ${watts} of eddy loss in all of their copper, and at most ${openV.toFixed(0)} V peak across an open one, which its switches must stand.`;
}

/** Every place of the map: margin, the driven coil (1 is the first), and whether it wakes. */
function rowCsv({ map, driven }: CoilRowReport): string {
  const rows = ['x mm,y mm,margin %,largest current A,driven coil,wakes'];
  map.yMm.forEach((y, j) => {
    map.xMm.forEach((x, i) => {
      const at = j * map.xMm.length + i;
      if (map.marginPercent[at]! <= -100 && map.maxOutputA[at] === 0) return;
      rows.push(
        `${x.toFixed(3)},${y.toFixed(3)},${map.marginPercent[at]!.toFixed(2)},${map.maxOutputA[at]!.toFixed(4)},${driven[at]! + 1},${map.wakes[at]}`,
      );
    });
  });
  return `${rows.join('\n')}\n`;
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-rivals-row': RivalsRow;
  }
}
