import type { ReadonlySignal } from '@preact/signals-core';
import { html, type TemplateResult } from 'lit';
import { customElement } from 'lit/decorators.js';
import { keyed } from 'lit/directives/keyed.js';
import '../charts/margin-map.ts';
import '../charts/side-view.ts';
import { exposureSentences } from '../analysis/exposure/exposure-words.ts';
import { type ListedInput, listedInputs } from '../design/listing.ts';
import type { Session } from '../state/session.ts';
import { type AnswerSpan, pairAnswer, placeAnswer, placeWhy } from './answer-line.ts';
import { LEFT_OUT } from './cautions.ts';
import { label } from './glossary.ts';
import { outlineOf, sideViewModel } from './link-figures.ts';
import { linkNumbers } from './link-numbers.ts';
import { mapSpan } from './ranges.ts';
import { operatingNumbers } from './report-numbers.ts';
import { reportStyle } from './report-style.ts';
import { StationElement } from './station-element.ts';

/** One page to print: the pair, the numbers, the map, the cautions and the inputs. */
@customElement('oc-report')
export class ReportPage extends StationElement {
  static override readonly styles = reportStyle;

  protected watched({ store, answers, exposure, feed }: Session): readonly ReadonlySignal<unknown>[] {
    return [
      store.resolved,
      store.document,
      answers.pose,
      answers.poseFresh,
      answers.map,
      answers.mapFresh,
      answers.busy,
      exposure.report,
      exposure.failure,
      feed.spread,
      feed.running,
    ];
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.session?.exposure.want(false);
    this.session?.feed.want(false);
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    super.willUpdate(changed);
    const session = this.session;
    if (!session) return;
    session.answers.want({ mapSpanMm: mapSpan(session.store.resolved.peek()), sweeps: null });
    session.exposure.want(true);
    session.feed.want(true);
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { store, answers } = session;
    const resolved = store.resolved.value;
    const { design, demand } = resolved;
    const pose = answers.poseFresh.value ? answers.pose.value : null;
    const map = answers.mapFresh.value ? answers.map.value : null;
    const sources = { design, demand, map, pose, quick: null, gapCentred: null };
    const { offsetXMm: xMm, offsetYMm: yMm, yawDeg } = design.placement;
    const failed = session.exposure.failure.value !== null;
    const exposure = pose ? session.exposure.report.value : undefined;
    const field = exposure ? exposureSentences(exposure, '\u00a0') : [];
    const worked = pose !== null && map !== null && !answers.busy.value && !session.feed.running.value;
    const ready = worked && (exposure !== undefined || failed);
    return html`<article class=${ready ? '' : 'coming'}>
      <header>
        <h1>${design.title || 'Untitled'}</h1>
        <p>${label('report')}, Offcentre, ${new Date().toISOString().slice(0, 10)}</p>
        <button class="print" ?disabled=${!ready} @click=${() => window.print()}>
          ${ready ? 'Print this page' : 'Being worked out …'}
        </button>
      </header>
      <p class="answer">${spans(placeAnswer(sources))}</p>
      <p class="why">${spans(pairAnswer({ demand, pose, quick: null }))} ${placeWhy(sources)}</p>
      <div class="figs">
        <figure>
          <figcaption class="named">${label('marginOverOffset')}, gap ${design.placement.gapMm.toFixed(1)} mm</figcaption>
          <oc-margin-map
            still
            .map=${map}
            .pose=${{ xMm, yMm, yawDeg }}
            .transmitter=${outlineOf(resolved.transmitter)}
            .receiver=${outlineOf(resolved.receiver)}
            .peaks=${demand.peaks}
            .tallest=${240}
          >
            <span slot="offset-x">x ${xMm} mm</span><span slot="offset-y">y ${yMm} mm</span
            ><span slot="yaw">${label('yaw').toLowerCase()} ${yawDeg}°</span>
          </oc-margin-map>
        </figure>
        <div>
          <figure>
            <figcaption class="named">${label('stack')}</figcaption>
            <oc-side-view still .model=${sideViewModel(resolved)}>
              <span slot="gap">${design.placement.gapMm} mm</span>
              ${design.stack.map(
                (layer, i) =>
                  html`<span slot=${`layer-${i}`}>${layer.name} ${layer.thicknessMm} ± ${layer.toleranceMm} mm</span>`,
              )}
              ${(['transmitter', 'receiver'] as const).flatMap((side) =>
                (['ferrite', 'metal'] as const).flatMap((what) => {
                  const plate = design[side][what];
                  return plate ? [html`<span slot=${`${side}-${what}`}>${what} ${plate.thicknessMm} mm</span>`] : [];
                }),
              )}
            </oc-side-view>
          </figure>
          ${linkNumbers(pose?.link ?? null, null, false)}
        </div>
      </div>
      <div class="below">
        <section>
          ${operatingNumbers(pose, map, pose ? session.feed.spread.value : null)}
          <h2>${label('leavesOut')}</h2>
          <ul>
            ${LEFT_OUT.map((text) => html`<li>${text}</li>`)}
          </ul>
        </section>
        <section class="cautions">
          <h2>${label('cautions')}</h2>
          <ul>
            ${[...field, ...(pose?.cautions ?? [])].map((text) => html`<li>${text}</li>`)}
          </ul>
        </section>
      </div>
      <section class="inputs">
        <h2>${label('inputs')}</h2>
        ${this.#inputs(session)}
      </section>
    </article>`;
  }

  #inputs({ store }: Session): TemplateResult {
    // The drawings above show where it lies and what lies between.
    const groups = listedInputs(store.resolved.value.design).filter(
      ({ title }) => title !== 'Place' && title !== 'Stack',
    );
    // Boards and coils without a name of their own go by the title of their group.
    const taken = groups.flatMap(({ title, inputs }) =>
      merged(inputs.filter(({ assumed }) => assumed)).map((input) => ({
        ...input,
        owner: input.owner === '' ? title.toLowerCase() : input.owner,
      })),
    );
    return html`${groups.map(({ title, inputs }) => {
      const given = merged(inputs.filter(({ assumed }) => !assumed));
      return given.length === 0 ? '' : html`<p><b>${title}.</b> ${given.map(item)}</p>`;
    })}
      ${
        taken.length === 0
          ? ''
          : html`<p class="taken">
              <b>Not given, defaults taken.</b>
              ${taken.map(item)}
            </p>`
      }`;
  }
}

/** Same words and value of several owners as one, those of an owner one after the other. */
function merged(inputs: readonly ListedInput[]): readonly ListedInput[] {
  const found = new Map<string, ListedInput>();
  for (const input of inputs) {
    const key = `${input.words}|${input.text}`;
    const known = found.get(key);
    const owner = known && known.owner !== input.owner ? `${known.owner}, ${input.owner}` : input.owner;
    found.set(key, { ...input, owner });
  }
  const all = [...found.values()];
  const owners = [...new Set(['', ...all.map(({ owner }) => owner)])];
  return owners.flatMap((owner) => all.filter((input) => input.owner === owner));
}

/** An input; whose it is stands before the first of several. */
const item = ({ owner, words, text }: ListedInput, i: number, list: readonly ListedInput[]): TemplateResult => {
  const first = owner !== (list[i - 1]?.owner ?? '');
  return html`${i > 0 ? (first ? '; ' : ' · ') : ''}${first ? html`<b class="owner">${owner}:</b> ` : ''}${words} <i>${text}</i>`;
};

/** Another sentence is made anew, so that no part of the last one moves. */
function spans(answer: readonly AnswerSpan[]): unknown {
  return keyed(
    answer.map(({ tone }) => tone).join(),
    answer.map(({ text, tone }) =>
      tone === 'plain' ? html`${text}` : tone === 'uncertain' ? html`<small>${text}</small>` : html`<b>${text}</b>`,
    ),
  );
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-report': ReportPage;
  }
}
