import { demandOf } from '../../design/demand.ts';
import { withValueAt } from '../../design/edit.ts';
import { parsePath } from '../../design/path.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { randomSource } from '../../numerics/random.ts';
import { correctionAt } from '../../physics/circuit/correction.ts';
import type { LinkElectrical } from '../../physics/circuit/types.ts';
import { linkContext } from '../link/link-context.ts';
import { type LinkModel, linkFromModel, poseAt } from '../link/link-model.ts';
import { fastOutput } from '../margin/fast-output.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import { type CheckKind, FIRST_HARMONIC, type MapCheck } from '../place/map-check.ts';
import { type OffsetGrid, offsetGrid } from '../place/offset-grid.ts';
import type { LinkScales } from './bench-links.ts';
import { stateAt } from './bench-state.ts';
import { bandOf } from './consequence.ts';
import { drawAbout } from './drawn-answers.ts';
import { valueAt } from './fit-parameters.ts';
import type { FittedEnsemble } from './fit-report.ts';

/**
 * The design with the fitted values of the best optimum where the format has a key for them, and its gap moved by the gap's common error.
 * What has no key (scales of inductance, coupling and resistance) is in `LinkScales` of the state.
 */
export function fittedDesign(design: Design, ensemble: FittedEnsemble): Design {
  const z = ensemble.optima[0].z;
  let out: Design = { ...design, stack: [] };
  ensemble.parameters.forEach((parameter, j) => {
    const value = valueAt(parameter, z[j]);
    if (parameter.id === 'gap') {
      const gapMm = Math.max(0.1 * design.placement.gapMm, design.placement.gapMm + value);
      out = { ...out, placement: { ...out.placement, gapMm } };
    }
    if (parameter.path === null) return;
    const path = parsePath(parameter.path);
    const edited = path.ok ? withValueAt(out, path.segments, Math.max(0, value)) : null;
    if (edited?.ok) out = edited.document as Design;
  });
  return out;
}

function scalesOf(design: Design, ensemble: FittedEnsemble): LinkScales {
  return stateAt(boardsOf(design), ensemble.parameters, ensemble.optima[0].z).scales;
}

function scaledLink(link: LinkElectrical, by: LinkScales): LinkElectrical {
  const law = (of: LinkElectrical['r1'], r: number) => ({
    dc: of.dc * r,
    linear: of.linear * r,
    quadratic: of.quadratic * r,
    quartic: of.quartic * r,
  });
  return {
    l1: link.l1 * by.l1,
    l2: link.l2 * by.l2,
    m: link.m * by.coupling * Math.sqrt(by.l1 * by.l2),
    r1: law(link.r1, by.r1),
    r2: law(link.r2, by.r2),
  };
}

/** The offset grid with the fitted link: what `mapCircuit` takes, together with `fittedDesign`. */
export function fittedGrid(design: Design, model: LinkModel, ensemble: FittedEnsemble, points: number): OffsetGrid {
  const grid = offsetGrid(fittedDesign(design, ensemble), model, points, null);
  const { l1, l2, coupling, r1, r2 } = scalesOf(design, ensemble);
  return {
    ...grid,
    l1: grid.l1.map((value) => value * l1),
    l2: grid.l2.map((value) => value * l2),
    m: grid.m.map((value) => value * coupling * Math.sqrt(l1 * l2)),
    r1: grid.r1.map((value) => value * r1),
    r2: grid.r2.map((value) => value * r2),
  };
}

/** Draws behind the band at each node of the check. */
const DRAWS = 60;

/**
 * Checks one node of the fitted map: the map's method against the exact circuit, and the band that the fitted values leave, in place of
 * the tolerances' band of `checkMap`.
 */
export function checkFittedMap(
  design: Design,
  model: LinkModel,
  ensemble: FittedEnsemble,
  x: number,
  y: number,
  kind: CheckKind = 'whole',
): MapCheck {
  const fitted = fittedDesign(design, ensemble);
  const context = linkContext(design);
  const base = boardsOf(design);
  const { parameters, optima } = ensemble;
  const charging = chargesCell(design, demandOf(design));
  const linkWith = (z: Float64Array): { link: LinkElectrical; boards: ReturnType<typeof stateAt>['boards'] } => {
    const state = stateAt(base, parameters, z);
    const gap = Math.max(0.1e-3 * design.placement.gapMm, design.placement.gapMm / 1e3 + state.gapShift);
    const pose = poseAt(context, model.attitude, x / 1e3, y / 1e3, gap);
    return { link: scaledLink(linkFromModel(context, model, pose).electrical, state.scales), boards: state.boards };
  };
  const best = linkWith(optima[0].z);
  const corrected = kind === 'band' ? FIRST_HARMONIC : correctionAt(best.link, boardsOf(fitted), { charging });
  const { difference, relative, wakeRatio } = corrected;
  if (kind === 'mutual')
    return { difference, relative, wakeRatio, less: 0, more: 0, mutualH: best.link.m, fastA: corrected.fastA };
  const current = ({ link, boards }: ReturnType<typeof linkWith>): number =>
    fastOutput([link], boards, { charging })[0];
  const middle = current(best);
  if (!(middle > 0)) return { difference, relative, wakeRatio, less: 0, more: 0 };
  const random = randomSource(21);
  const draws = Array.from({ length: DRAWS }, () => current(linkWith(drawAbout(optima, random))));
  const band = bandOf(middle, draws);
  return {
    difference,
    relative,
    wakeRatio,
    less: Math.min(1, 1 - band.low / middle),
    more: band.high / middle - 1,
  };
}
