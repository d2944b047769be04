import { html, nothing, type TemplateResult } from 'lit';
import type { Design } from '../design/types.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import type { UnitName } from '../units/unit-table.ts';
import { dimension } from './dimension.ts';
import { label, type TermId } from './glossary.ts';

interface HoldField {
  readonly term: TermId;
  readonly unit: UnitName;
  /** Under `holding`. */
  readonly path: string;
  readonly value: number;
  readonly slot?: string;
  readonly caption?: boolean;
  readonly onDrawing?: boolean;
}

function field(session: Session, spec: HoldField): TemplateResult {
  const path = `holding.${spec.path}`;
  const words = label(spec.term);
  return dimension(session, {
    term: spec.term,
    unit: spec.unit,
    path,
    value: spec.value,
    ...(spec.slot === undefined ? {} : { slot: spec.slot }),
    ...(spec.caption ? { caption: words } : {}),
    onDrawing: spec.onDrawing ?? false,
    commit: (value) => session.store.run(setValue, { path, value, what: words.toLowerCase() }),
  });
}

/** Numbers that stand on the plan. */
export function planFields(session: Session, { holding }: Design): TemplateResult {
  const { recess, magnets } = holding;
  const outline = recess?.outline;
  const sizes: HoldField[] = !outline
    ? []
    : outline.shape === 'circle'
      ? [
          {
            term: 'deviceDiameter',
            unit: 'mm',
            path: 'recess.outline.outerDiameterMm',
            value: outline.outerDiameterMm,
            slot: 'device-width',
          },
        ]
      : [
          {
            term: 'deviceWidth',
            unit: 'mm',
            path: 'recess.outline.outerWidthMm',
            value: outline.outerWidthMm,
            slot: 'device-width',
          },
          {
            term: 'deviceHeight',
            unit: 'mm',
            path: 'recess.outline.outerHeightMm',
            value: outline.outerHeightMm,
            slot: 'device-height',
          },
        ];
  return html`${
    recess
      ? field(session, {
          term: 'clearance',
          unit: 'mm',
          path: 'recess.clearanceMm',
          value: recess.clearanceMm,
          slot: 'clearance',
          onDrawing: true,
        })
      : nothing
  }
  ${sizes.map((size) => field(session, size))}
  ${
    magnets
      ? field(session, {
          term: 'magnetDiameter',
          unit: 'mm',
          path: 'magnets.diameterMm',
          value: magnets.diameterMm,
          slot: 'magnet',
          onDrawing: true,
        })
      : nothing
  }`;
}

/** Tolerances of the recess, in a row. */
export function recessFields(session: Session, { holding }: Design): TemplateResult {
  const { recess } = holding;
  if (!recess) return html``;
  const fields: HoldField[] = [
    { term: 'pocketTolerance', unit: 'mm', path: 'recess.pocketToleranceMm', value: recess.pocketToleranceMm },
    { term: 'deviceTolerance', unit: 'mm', path: 'recess.deviceToleranceMm', value: recess.deviceToleranceMm },
    {
      term: 'coilTolerance',
      unit: 'mm',
      path: 'recess.coilPositionToleranceMm',
      value: recess.coilPositionToleranceMm,
    },
  ];
  return html`<div class="row">${fields.map((one) => field(session, { ...one, caption: true }))}</div>`;
}

/** Numbers that stand on the section through a pair. */
export function sectionFields(session: Session, { holding }: Design): TemplateResult {
  const { magnets } = holding;
  if (!magnets) return html``;
  const fields: HoldField[] = [
    {
      term: 'magnetThickness',
      unit: 'mm',
      path: 'magnets.thicknessMm',
      value: magnets.thicknessMm,
      slot: 'thickness',
    },
    { term: 'magnetGap', unit: 'mm', path: 'magnets.gapMm', value: magnets.gapMm, slot: 'gap' },
  ];
  return html`${fields.map((one) => field(session, one))}`;
}

/** What decides the forces, in a row under them. */
export function forceFields(session: Session, { holding }: Design): TemplateResult {
  const { magnets } = holding;
  const fields: HoldField[] = [
    ...(magnets
      ? ([{ term: 'remanence', unit: 'T', path: 'magnets.remanenceT', value: magnets.remanenceT }] as const)
      : []),
    { term: 'mass', unit: 'g', path: 'deviceMassG', value: holding.deviceMassG },
    { term: 'frictionCoefficient', unit: '1', path: 'friction', value: holding.friction },
    { term: 'slope', unit: 'deg', path: 'tableAngleDeg', value: holding.tableAngleDeg },
  ];
  return html`<div class="row">${fields.map((one) => field(session, { ...one, caption: true }))}</div>`;
}

/** How casually it is put down, where that is a bell curve or even over a region. */
export function scatterFields(session: Session, { holding }: Design): TemplateResult {
  const { kind, sigmaXMm, sigmaYMm, sigmaYawDeg, radiusMm, halfXMm, halfYMm, halfYawDeg } = holding.placing;
  const turn: HoldField = { term: 'evenYaw', unit: 'deg', path: 'placing.halfYawDeg', value: halfYawDeg };
  const bell: HoldField[] = [
    { term: 'scatterX', unit: 'mm', path: 'placing.sigmaXMm', value: sigmaXMm },
    { term: 'scatterY', unit: 'mm', path: 'placing.sigmaYMm', value: sigmaYMm },
    { term: 'scatterYaw', unit: 'deg', path: 'placing.sigmaYawDeg', value: sigmaYawDeg },
  ];
  const rectangle: HoldField[] = [
    { term: 'evenHalfX', unit: 'mm', path: 'placing.halfXMm', value: halfXMm },
    { term: 'evenHalfY', unit: 'mm', path: 'placing.halfYMm', value: halfYMm },
    turn,
  ];
  const disc: HoldField[] = [{ term: 'evenRadius', unit: 'mm', path: 'placing.radiusMm', value: radiusMm }, turn];
  const fields = kind === 'disc' ? disc : kind === 'rectangle' ? rectangle : bell;
  return html`<div class="row">${fields.map((one) => field(session, { ...one, caption: true }))}</div>`;
}
