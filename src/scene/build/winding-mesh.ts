import type { Conductor, Winding } from '../../physics/coil/types.ts';
import { type MeshData, MeshWriter } from './mesh-data.ts';
import { flatProfile, type Profile, roundProfile, sweep } from './sweep.ts';
import { turnPath } from './turn-path.ts';

export interface WindingMesh {
  readonly mesh: MeshData;
  /** Index of the first triangle of each turn, and the number of triangles last: [turns + 1]. */
  readonly turnStarts: Uint32Array;
}

export interface WindingMeshOptions {
  /** Triangles to aim for; fine detail is given up on windings of many turns. Not a hard bound. */
  readonly triangleBudget: number;
}

export const WINDING_MESH_DEFAULTS: WindingMeshOptions = Object.freeze({ triangleBudget: 12_000 });

/** Diameter drawn for a round conductor, m: the litz bundle, or the bare wire. */
export function drawnDiameter(conductor: Exclude<Conductor, { kind: 'trace' }>): number {
  return conductor.kind === 'litz' ? conductor.bundleDiameter : conductor.diameter;
}

const DETAIL: readonly { readonly sides: number; readonly arcStep: number }[] = [
  { sides: 10, arcStep: Math.PI / 36 },
  { sides: 8, arcStep: Math.PI / 32 },
  { sides: 6, arcStep: Math.PI / 32 },
  { sides: 6, arcStep: Math.PI / 24 },
  { sides: 5, arcStep: Math.PI / 20 },
  { sides: 4, arcStep: Math.PI / 16 },
  { sides: 4, arcStep: Math.PI / 8 },
];

/** Triangles a winding costs at a level of detail, without building it. */
function cost(winding: Winding, sides: number, arcStep: number): number {
  let rows = 0;
  for (const turn of winding.turns)
    for (const piece of turn.pieces)
      rows += piece.kind === 'line' ? 1 : Math.max(1, Math.ceil(Math.abs(piece.sweep) / arcStep));
  return rows * sides * 2;
}

/**
 * A winding turn by turn with its real conductor size: tubes for litz and solid wire, flat boxes for traces.
 * Round conductors keep their cross-section's area. Texture coordinates: u around the wire (0..1), v metres along it.
 */
export function windingMesh(winding: Winding, options: WindingMeshOptions = WINDING_MESH_DEFAULTS): WindingMesh {
  const { conductor } = winding.spec;
  const flat = conductor.kind === 'trace';
  const fits = ({ sides, arcStep }: (typeof DETAIL)[number]): boolean =>
    cost(winding, flat ? 4 : sides, arcStep) <= options.triangleBudget;
  const detail = DETAIL.find(fits) ?? DETAIL[DETAIL.length - 1]!;
  const profile: Profile = flat
    ? flatProfile(conductor.width, conductor.thickness)
    : roundProfile(drawnDiameter(conductor) / 2, detail.sides);
  const out = new MeshWriter();
  const turnStarts = new Uint32Array(winding.turns.length + 1);
  winding.turns.forEach((turn, i) => {
    turnStarts[i] = out.triangleCount;
    sweep(turnPath(turn, detail.arcStep), turn.z, profile, out);
  });
  turnStarts[winding.turns.length] = out.triangleCount;
  return { mesh: out.finish(), turnStarts };
}

/** The turn that a triangle belongs to. */
export function turnOfTriangle(turnStarts: Uint32Array, triangle: number): number {
  let turn = 0;
  while (turn + 2 < turnStarts.length && turnStarts[turn + 1]! <= triangle) turn++;
  return turn;
}
