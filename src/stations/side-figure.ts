import { html, nothing, type TemplateResult } from 'lit';
import { layersCsv } from '../charts/csv.ts';
import '../charts/side-view.ts';
import type { LayerDraggedDetail, ReceiverShiftedDetail, SideView } from '../charts/side-view.ts';
import { moveReceiver } from '../state/commands/move-receiver.ts';
import { setGap } from '../state/commands/set-gap.ts';
import { setLayer } from '../state/commands/set-layer.ts';
import type { Session } from '../state/session.ts';
import { figure } from './figure.ts';
import { label } from './labels.ts';
import { layerFields } from './layer-fields.ts';
import { sideViewModel } from './link-figures.ts';
import { poseField } from './pose-fields.ts';
import { stackTable } from './stack-table.ts';

/**
 * The stack to scale, as every station that has it shows it.
 * @param root where the figure stands, to find its drawing
 * @param ghostGapMm gap under the reading line of another figure
 */
export function sideFigure(session: Session, root: ParentNode, ghostGapMm: number | null): TemplateResult {
  const { store } = session;
  const resolved = store.resolved.value;
  const { design } = resolved;
  return figure(session, {
    title: label('stack'),
    hint: 'drag a layer, or the ring',
    chart: () => root.querySelector<SideView>('oc-side-view'),
    csv: () => layersCsv(design.stack, design.placement.gapMm),
    body: html`<oc-side-view
      .model=${sideViewModel(resolved)}
      .ghostGapMm=${ghostGapMm}
      @layer-dragged=${(event: CustomEvent<LayerDraggedDetail>) => {
        const { index, thicknessMm, phase } = event.detail;
        store.run(setLayer, { index, thicknessMm }, phase);
      }}
      @receiver-shifted=${(event: CustomEvent<ReceiverShiftedDetail>) => {
        const { axis, value, phase } = event.detail;
        if (axis === 'gap') store.run(setGap, { gapMm: value }, phase);
        else store.run(moveReceiver, { xMm: value, yMm: design.placement.offsetYMm }, phase);
      }}
    >
      ${poseField(session, design, 'gap', { slot: 'gap' })}
      ${design.placement.offsetXMm === 0 ? nothing : poseField(session, design, 'offsetX', { slot: 'offset-x', caption: 'x' })}
      ${layerFields(session, design)}
    </oc-side-view>
    ${stackTable(session, design)}`,
  });
}
