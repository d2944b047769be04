import type { Design } from '../../design/types.ts';
import type { ResistanceLaw } from '../../physics/circuit/types.ts';
import { airOffsetMap } from '../../physics/coil/kernel/offset-map.ts';
import { assembleLink } from '../link/link-at-pose.ts';
import { contextOf } from '../link/link-context.ts';
import { type LinkModel, modelAtGap, poseAt } from '../link/link-model.ts';
import type { PlateChange } from '../link/plates.ts';

/** The link over a grid of offsets at one gap, row-major [y][x]. */
export interface OffsetGrid {
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  readonly l1: Float64Array;
  readonly l2: Float64Array;
  readonly m: Float64Array;
  /** Resistance laws, [points, 4] row-major: dc, linear, quadratic, quartic. */
  readonly r1: Float64Array;
  readonly r2: Float64Array;
  /** Error bound of the air values over the grid, H. */
  readonly airError: number;
}

/** What comes on top of the model's link at an offset, m: mutual inductance in air, H, and the plates' change. */
export type LinkOnTop = (x: number, y: number) => { readonly airM: number; readonly change: PlateChange };

/** Grid of `points` per axis over ±span about the design's resting place (the transmitter's axis). */
export function offsetGrid(
  design: Design,
  model: LinkModel,
  points: number,
  spanMm: number | null,
  onTop: LinkOnTop | null = null,
): OffsetGrid {
  const context = contextOf(design, model);
  const { attitude, domain } = model;
  const half = Math.min(domain.halfX, domain.halfY) * 1e3;
  const span = spanMm === null ? half : Math.min(spanMm, half);
  const axis = Float64Array.from({ length: points }, (_, i) =>
    points === 1 ? 0 : span * ((2 * i) / (points - 1) - 1),
  );
  const metres = axis.map((value) => value / 1e3);
  const gap = design.placement.gapMm / 1e3;
  const plates = modelAtGap(model, gap);
  const count = points * points;
  const l1 = new Float64Array(count);
  const l2 = new Float64Array(count);
  const m = new Float64Array(count);
  const r1 = new Float64Array(4 * count);
  const r2 = new Float64Array(4 * count);
  const parallel = attitude.tiltX === 0 && attitude.tiltY === 0;
  const centre = poseAt(context, attitude, 0, 0, gap);
  let airError = 0;
  let air: Float64Array | null = null;
  if (parallel) {
    const { transmitter, receiver } = context;
    const map = airOffsetMap(transmitter.winding, receiver.winding, centre.z, attitude.yaw, metres, metres);
    air = map.m;
    airError = map.errorEstimate;
  }
  for (let j = 0, at = 0; j < points; j++) {
    for (let i = 0; i < points; i++, at++) {
      const x = metres[i]!;
      const y = metres[j]!;
      let airM: number;
      if (air) airM = air[at]!;
      else {
        const direct = context.kernel.mutual({ ...centre, x, y });
        airM = direct.value;
        airError = Math.max(airError, direct.errorEstimate);
      }
      let change = plates(x, y);
      if (onTop) {
        const more = onTop(x, y);
        airM += more.airM;
        change = addChanges(change, more.change);
      }
      const { electrical } = assembleLink(context, airM, 0, change);
      l1[at] = electrical.l1;
      l2[at] = electrical.l2;
      m[at] = electrical.m;
      putLaw(electrical.r1, r1, at);
      putLaw(electrical.r2, r2, at);
    }
  }
  return { xMm: axis, yMm: axis.slice(), l1, l2, m, r1, r2, airError };
}

/** The sum of what the plates add, without errors. */
function addChanges(a: PlateChange, b: PlateChange): PlateChange {
  return {
    ...a,
    dL1: a.dL1 + b.dL1,
    dL2: a.dL2 + b.dL2,
    dM: a.dM + b.dM,
    core1: a.core1 + b.core1,
    core2: a.core2 + b.core2,
    metal1: a.metal1 + b.metal1,
    metal2: a.metal2 + b.metal2,
  };
}

function putLaw(law: ResistanceLaw, out: Float64Array, at: number): void {
  out[4 * at] = law.dc;
  out[4 * at + 1] = law.linear;
  out[4 * at + 2] = law.quadratic;
  out[4 * at + 3] = law.quartic;
}
