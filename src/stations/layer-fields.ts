import { html, type TemplateResult } from 'lit';
import type { Design } from '../design/types.ts';
import { setLayer } from '../state/commands/set-layer.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { dimension } from './dimension.ts';

/** Labels of the section drawing: each layer's name with its thickness, and the plates behind the coils. */
export function layerFields(session: Session, design: Design): TemplateResult[] {
  const { store } = session;
  const layers = design.stack.map((layer, index) =>
    dimension(session, {
      slot: `layer-${index}`,
      term: 'layer',
      of: layer.name,
      caption: layer.name,
      unit: 'mm',
      path: `stack[${index}].thicknessMm`,
      value: layer.thicknessMm,
      commit: (thicknessMm) => store.run(setLayer, { index, thicknessMm }),
    }),
  );
  const plates = (['transmitter', 'receiver'] as const).flatMap((side) =>
    (['ferrite', 'metal'] as const).flatMap((what) => {
      const plate = design[side][what];
      if (!plate) return [];
      const path = `${side}.${what}.thicknessMm`;
      return [
        dimension(session, {
          slot: `${side}-${what}`,
          term: what,
          of: side,
          caption: what,
          unit: 'mm',
          path,
          value: plate.thicknessMm,
          commit: (value) => store.run(setValue, { path, value, what: `the ${side}'s ${what}` }),
        }),
      ];
    }),
  );
  return [...layers, ...plates].map((field) => html`${field}`);
}
