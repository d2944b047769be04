/** What a magnet's steady flux does to a ferrite plate. */
import { MU0 } from '../constants.ts';
import type { PlacedDisc, SoftPlate } from './soft-plate.ts';

/** Steady flux in a plate under its magnets. */
export interface PlateFlux {
  /** Largest flux density in the plane of the plate, T: means over circles about the magnets' axes, added as vectors. */
  readonly peakT: number;
  /** Where, m from the nearest magnet's axis. */
  readonly atRadius: number;
  /** Share of the plate's area where the estimate exceeds the saturation flux density. */
  readonly saturatedShare: number;
  /** Differential relative permeability for small alternating fields: least, and effective for the plate as a whole. */
  readonly leastPermeability: number;
  readonly effectivePermeability: number;
  /** Below 1 with little flux; above it the linear plate overstates the flux and the answer is only "saturated". */
  readonly utilisation: number;
}

/**
 * Differential relative permeability at a steady flux density: 1 + chi (1 - B/Bs)^2 with chi = mu_r - 1, 1 from Bs on.
 * Froehlich's curve M = Ms chi H / (Ms + chi H), differentiated (from memory): a smooth stand-in for a data sheet's curve, good
 * to a factor, not to a digit.
 * @param fluxDensity T. @param saturation T, > 0. @param relativePermeability without flux, >= 1.
 */
export function differentialPermeability(
  relativePermeability: number,
  fluxDensity: number,
  saturation: number,
): number {
  const left = Math.max(0, 1 - Math.abs(fluxDensity) / saturation);
  return 1 + (relativePermeability - 1) * left * left;
}

/**
 * Steady flux from the plate's charges: the flux in its plane through a circle about each magnet is the charge inside, so that
 * the mean flux density on the circle is mu0 Q / (2 pi r t); circles that leave the plate count with the part inside. Between
 * magnets the estimates add as vectors along the lines to their axes.
 *
 * @param plate linear response. @param discs in the plate's frame. @param charges from `plateCharges`, A m.
 * @param saturation flux density of the ferrite, T.
 * An estimate: the plate is linear, so that beyond saturation the true flux density stays near Bs and spreads further; the
 * effective permeability is that of a sheet with patches of these permeabilities (two-dimensional effective-medium rule of
 * Bruggeman, exact for few small patches, from memory). Feed it to the link model in place of mu_r to see what L and k lose.
 */
export function plateFlux(
  plate: SoftPlate,
  discs: readonly PlacedDisc[],
  charges: Float64Array,
  saturation: number,
): PlateFlux {
  const { centre } = plate.response.mesh.panels;
  const rings = 24;
  // Circles smaller than a panel say nothing.
  const coarsest = plate.response.mesh.panels.size.reduce((a, b) => Math.max(a, b), 0);
  const profiles = discs.map(({ disc, x, y }) => {
    const reach = 4 * disc.radius;
    const flux = new Float64Array(rings + 1);
    for (let p = 0; p < plate.panels; p += 1) {
      const r = Math.hypot(centre[3 * p] - x, centre[3 * p + 1] - y);
      const from = Math.ceil((r / reach) * rings);
      for (let k = Math.max(1, from); k <= rings; k += 1) flux[k] += charges[p];
    }
    const density = new Float64Array(rings + 1);
    for (let k = 1; k <= rings; k += 1) {
      const r = (reach * k) / rings;
      const share = shareInside(plate, x, y, r);
      density[k] = share > 0.15 && r >= coarsest ? (MU0 * flux[k]) / (2 * Math.PI * r * share * plate.thickness) : 0;
    }
    return { x, y, reach, density };
  });
  let peak = 0;
  let atRadius = 0;
  let area = 0;
  let saturated = 0;
  const patches: [number, number][] = [];
  let least = plate.relativePermeability;
  const { area: panelArea } = plate.response.mesh.panels;
  for (let p = 0; p < plate.panels; p += 1) {
    // Faces only: their normals point up or down, their centres lie on the surface.
    if (Math.abs(Math.abs(centre[3 * p + 2]) - plate.thickness / 2) > 1e-9 * plate.thickness) continue;
    let bx = 0;
    let by = 0;
    for (const { x, y, reach, density } of profiles) {
      const dx = centre[3 * p] - x;
      const dy = centre[3 * p + 1] - y;
      const r = Math.hypot(dx, dy);
      if (r === 0 || r >= reach) continue;
      const u = (r / reach) * rings;
      const k = Math.floor(u);
      const b = density[k] + (u - k) * (density[k + 1] - density[k]);
      bx += (b * dx) / r;
      by += (b * dy) / r;
    }
    const b = Math.hypot(bx, by);
    if (b > peak) {
      peak = b;
      atRadius = discs.reduce(
        (near, d) => Math.min(near, Math.hypot(centre[3 * p] - d.x, centre[3 * p + 1] - d.y)),
        Number.POSITIVE_INFINITY,
      );
    }
    const mu = differentialPermeability(plate.relativePermeability, b, saturation);
    least = Math.min(least, mu);
    area += panelArea[p];
    patches.push([panelArea[p], mu]);
    if (b >= saturation) saturated += panelArea[p];
  }
  return {
    peakT: peak,
    atRadius,
    saturatedShare: area > 0 ? saturated / area : 0,
    leastPermeability: least,
    effectivePermeability: effectiveMedium(patches),
    utilisation: peak / saturation,
  };
}

/** The m for which the area-weighted mean of (mu - m)/(mu + m) vanishes. */
export function effectiveMedium(patches: readonly (readonly [area: number, permeability: number])[]): number {
  let low = Number.POSITIVE_INFINITY;
  let high = 0;
  for (const [, mu] of patches) {
    low = Math.min(low, mu);
    high = Math.max(high, mu);
  }
  if (!(high > low)) return high;
  for (let i = 0; i < 60; i += 1) {
    const m = Math.sqrt(low * high);
    let sum = 0;
    for (const [area, mu] of patches) sum += (area * (mu - m)) / (mu + m);
    if (sum > 0) low = m;
    else high = m;
  }
  return Math.sqrt(low * high);
}

/** Share of a circle about (x, y) that lies on the plate. */
function shareInside(plate: SoftPlate, x: number, y: number, r: number): number {
  const { outline } = plate;
  let inside = 0;
  const n = 48;
  for (let k = 0; k < n; k += 1) {
    const px = x + r * Math.cos((2 * Math.PI * (k + 0.5)) / n);
    const py = y + r * Math.sin((2 * Math.PI * (k + 0.5)) / n);
    const on =
      outline.shape === 'circle'
        ? Math.hypot(px, py) <= outline.diameter / 2
        : Math.abs(px) <= outline.width / 2 && Math.abs(py) <= outline.height / 2;
    if (on) inside += 1;
  }
  return inside / n;
}
