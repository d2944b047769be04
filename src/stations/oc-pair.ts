import type { ReadonlySignal } from '@preact/signals-core';
import { html, type TemplateResult } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import '../charts/margin-map.ts';
import type { ReceiverMovedDetail, ReceiverTurnedDetail } from '../charts/margin-map-moves.ts';
import type { OutlineDocument } from '../design/types.ts';
import '../parts/oc-answer.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import { paletteAt } from '../scene/palette.ts';
import type { PictureLabel } from '../scene/picture.ts';
import type { DragDetail, HandleId, HandleValue, ReleaseDetail, SceneView, Side } from '../scene/types.ts';
import { moveReceiver } from '../state/commands/move-receiver.ts';
import { type EditableShape, setOutlineShape } from '../state/commands/set-outline-shape.ts';
import { turnReceiver } from '../state/commands/turn-receiver.ts';
import type { Session } from '../state/session.ts';
import { pairAnswer, pairWhy } from './answer-line.ts';
import { coilFields, coilQuantities } from './coil-fields.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import { runHandle, shapeOf } from './handle-command.ts';
import { linkSceneData, outlineOf } from './link-figures.ts';
import { linkNumbers } from './link-numbers.ts';
import './oc-link-view.ts';
import type { LinkView } from './oc-link-view.ts';
import './oc-rivals.ts';
import { pairCsv } from './pair-csv.ts';
import { pairStyle } from './pair-style.ts';
import { type PoseFieldId, poseField } from './pose-fields.ts';
import { sideFigure } from './side-figure.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';
import { scheme } from './theme.ts';
import { windingFacts } from './winding-facts.ts';
import { wordsOf } from './word.ts';

const POSE_FIELDS: readonly PoseFieldId[] = ['offsetX', 'offsetY', 'gap', 'yaw', 'tiltX', 'tiltY'];
const SHAPES: readonly EditableShape[] = ['circle', 'roundedRectangle', 'stadium'];
const VIEWS: readonly { readonly view: SceneView; readonly words: string }[] = [
  { view: 'reset', words: 'from the front' },
  { view: 'top', words: 'from the top' },
  { view: 'side', words: 'from the side' },
];

/** Pair: is this receiver coil on that transmitter coil worth it. */
@customElement('oc-pair')
export class PairStation extends StationElement {
  static override readonly styles = [stationStyle, pairStyle];

  @state() private _drawn = true;
  @query('oc-link-view') private _view!: LinkView | null;
  #held: HandleValue | null = null;

  protected watched({ store, answers, field }: Session): readonly ReadonlySignal<unknown>[] {
    return [
      store.resolved,
      store.faults,
      store.snapshot,
      store.dragging,
      answers.pose,
      answers.quick,
      field.wanted,
      field.lines,
      field.progress,
      field.failure,
      scheme,
    ];
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    super.willUpdate(changed);
    this.session?.answers.want({ mapSpanMm: null, sweeps: null });
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { store, answers } = session;
    const resolved = store.resolved.value;
    const pose = answers.pose.value;
    const quick = answers.quick.value;
    const sources = { demand: resolved.demand, pose, quick };
    return html`<oc-answer .stretches=${pairAnswer(sources)} why=${pairWhy(sources)}
        >${wordsOf('coupling', 'efficiencyLimit')}</oc-answer
      >
      <div class="figs">
        <div>
          ${figure(session, {
            title: label('bothCoils'),
            hint: this._drawn ? 'drag a handle; click a coil for all its sizes' : 'drag the ring',
            chart: () => this.renderRoot.querySelector<HTMLElement>('oc-margin-map'),
            csv: () => pairCsv(session.store.resolved.value),
            ...(this._drawn ? { png: () => this.#picture(session), svg: () => this.#svg(session) } : {}),
            body: this.#view(session),
          })}
          ${this._drawn ? this.#looks(session) : this.#sizes(session)} ${this.#shapes(session)}
        </div>
        <div class="right">
          ${sideFigure(session, this.renderRoot, null)} ${linkNumbers(pose?.link ?? null, quick, true)}
        </div>
      </div>
      <oc-rivals .session=${session}></oc-rivals>`;
  }

  #view(session: Session): TemplateResult {
    const { store } = session;
    const resolved = store.resolved.value;
    const { design } = resolved;
    const { offsetXMm: xMm, offsetYMm: yMm, yawDeg } = design.placement;
    return html`<oc-link-view
      .data=${linkSceneData(resolved, paletteAt(this), this.#refused(session), session.field.lines.value)}
      @view-changed=${(event: CustomEvent<{ drawn: boolean }>) => {
        this._drawn = event.detail.drawn;
      }}
      @handle-dragged=${(event: CustomEvent<DragDetail>) => this.#drag(session, event.detail)}
      @handle-released=${(event: CustomEvent<ReleaseDetail>) => this.#release(session, event.detail)}
    >
      <oc-anchors>
        ${POSE_FIELDS.map((id) => poseField(session, design, id, { anchor: id, onDrawing: true, side: 'receiver' }))}
        ${coilFields(session, design, 'transmitter', true)} ${coilFields(session, design, 'receiver', true)}
      </oc-anchors>
      <oc-margin-map
        slot="plan"
        .pose=${{ xMm, yMm, yawDeg }}
        .transmitter=${outlineOf(resolved.transmitter)}
        .receiver=${outlineOf(resolved.receiver)}
        .tallest=${420}
        @receiver-moved=${(event: CustomEvent<ReceiverMovedDetail>) => {
          const { phase, ...to } = event.detail;
          store.run(moveReceiver, to, phase);
        }}
        @receiver-turned=${(event: CustomEvent<ReceiverTurnedDetail>) => {
          store.run(turnReceiver, { yawDeg: event.detail.yawDeg }, event.detail.phase);
        }}
      >
        ${poseField(session, design, 'offsetX', { slot: 'offset-x', caption: 'x' })}
        ${poseField(session, design, 'offsetY', { slot: 'offset-y', caption: 'y' })}
        ${poseField(session, design, 'yaw', { slot: 'yaw' })}
      </oc-margin-map>
    </oc-link-view>`;
  }

  /** The first move opens the gesture: a handle that is only touched leaves no step. */
  #drag(session: Session, { change }: DragDetail): void {
    if (this.#held === null) runHandle(session.store, change, 'start');
    this.#held = change;
    runHandle(session.store, change, 'move');
  }

  #release(session: Session, { cancelled }: ReleaseDetail): void {
    if (this.#held) runHandle(session.store, this.#held, cancelled ? 'cancel' : 'end');
    this.#held = null;
  }

  /** Handles whose value the design refuses. */
  #refused(session: Session): HandleId[] {
    const paths = session.store.faults.value.map((fault) => fault.path);
    const { design } = session.store.resolved.value;
    return (['transmitter', 'receiver'] as const).flatMap((side) =>
      coilQuantities(design, side)
        .filter(({ quantity }) => paths.some((path) => path.startsWith(`${side}.coil`) && path.endsWith(quantity)))
        .map(({ anchor }) => anchor as HandleId)
        .filter((handle) => shapeOf(handle) !== null),
    );
  }

  #looks({ field }: Session): TemplateResult {
    const wanted = field.wanted.value;
    const progress = field.progress.value;
    return html`<p class="looks">
      <span>${label('look')}</span>
      ${VIEWS.map(
        ({ view, words }) =>
          html`<button type="button" class="quiet" @click=${() => this._view?.view(view)}>${words}</button>`,
      )}
      <button type="button" class="switch" aria-pressed=${wanted} @click=${() => field.want(!wanted)}>
        ${label('fieldLines').toLowerCase()}
      </button>
      <span class="said" role="status"
        >${wanted ? (field.failure.value ?? (progress ? `${Math.round(100 * progress.fraction)} %` : '')) : ''}</span
      >
    </p>`;
  }

  /** Without the 3-D view the sizes stand in rows beneath the plan. */
  #sizes(session: Session): TemplateResult {
    const { design } = session.store.resolved.value;
    return html`<div class="sizes">
      ${(['transmitter', 'receiver'] as const).map(
        (side) =>
          html`<div class=${side}>
            <h3>${label(side)}</h3>
            ${coilQuantities(design, side).map(
              ({ term }, i) => html`<p><span>${label(term)}</span>${coilFields(session, design, side, false)[i]}</p>`,
            )}
          </div>`,
      )}
      <div>
        <h3>${label('receiver')}</h3>
        ${(['gap', 'tiltX', 'tiltY'] as const).map(
          (id) => html`<p><span>${label(id)}</span>${poseField(session, design, id, {})}</p>`,
        )}
      </div>
    </div>`;
  }

  #shapes(session: Session): TemplateResult {
    const { design } = session.store.resolved.value;
    const choice = (side: Side): TemplateResult => {
      const shape: OutlineDocument['shape'] = design[side].coil.outline.shape;
      const shapes = shape === 'path' ? [...SHAPES, 'path' as const] : SHAPES;
      return html`<oc-choice
        label=${label(side)}
        .options=${shapes.map((value) => ({ value, label: label(value) }))}
        .value=${shape}
        @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
          session.store.run(setOutlineShape, { side, shape: event.detail.value as EditableShape });
        }}
      ></oc-choice>`;
    };
    const { resolved } = session.store;
    const told = (side: Side): TemplateResult => html`<div>${choice(side)}${windingFacts(resolved.value[side])}</div>`;
    return html`<div class="shapes">${told('transmitter')} ${told('receiver')}</div>`;
  }

  async #picture(session: Session): Promise<Blob | null> {
    return (await this._view?.picture(this.#pictureLabels(session))) ?? null;
  }

  #svg(session: Session): string | null {
    return this._view?.pictureSvg(label('bothCoils'), this.#pictureLabels(session)) ?? null;
  }

  #pictureLabels(session: Session): readonly PictureLabel[] {
    const { design } = session.store.resolved.value;
    const labels = (['transmitter', 'receiver'] as const).flatMap((side) =>
      coilQuantities(design, side).map(({ anchor, quantity, value }) => ({
        id: anchor as Exclude<HandleId, 'offset'>,
        text: quantity === 'turns' ? `${value} turns` : `${value} mm`,
      })),
    );
    const gap = { id: 'gap' as const, text: `${design.placement.gapMm} mm` };
    return [...labels, gap];
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-pair': PairStation;
  }
}
