import { InputError } from '../../numerics/errors.ts';
import { coilSpecFaults } from './coil-spec-faults.ts';
import { conductorHeight, conductorWidth } from './conductor-size.ts';
import { outlineFamily } from './outline-family.ts';
import { pieceLength, pieceReach } from './piece-geometry.ts';
import { spiralPath } from './spiral-path.ts';
import type { CoilSpec, Turn, Winding } from './types.ts';

/**
 * The coil as wound: every turn's centre line, layer by layer.
 *
 * Turns are shared evenly over the layers, what is left over goes to the first layers; a layer with fewer turns keeps
 * the outermost places. Within a layer all wires (turns times filars) are evenly spaced between the outline's edges;
 * a `path` is offset inwards by its pitch, filars sharing one pitch.
 * Corner radii belong to conductor edges: the centre line turns half a conductor width inside the outer one. With an
 * inner corner radius the centre line's radius runs linearly over the wires; without, it falls by the smaller pitch
 * per wire (concentric corners) down to half the conductor width.
 * A spiral's size falls linearly along its way, its pitch is the same span over one more step than rings have.
 *
 * @param spec metres; see CoilSpec
 * @returns the winding in the coil's own frame (a path keeps the coordinates it was given)
 * @throws InputError where numbers contradict each other, turns overlap anywhere (with the missing spacing), corners
 *   cannot be wound, a path crosses itself or an inward turn vanishes; paths are relative to the coil
 */
export function windCoil(spec: CoilSpec): Winding {
  const faults = coilSpecFaults(spec);
  if (faults.length > 0) throw new InputError(...faults);
  const { filars, layers, layerPitch } = spec;
  const layerTurns = turnsPerLayer(spec.turns, layers);
  const most = Math.max(...layerTurns);
  const spiral = spec.winding === 'spiral';
  const span = spiral ? filars * (most + 1) - 1 : filars * most - 1;
  const family = outlineFamily(spec, span, spiral);
  const layerZ = (layer: number) => (layer - (layers - 1) / 2) * layerPitch;

  const turns: Turn[] = [];
  if (spiral) {
    const layout = {
      layerTurns,
      layerPitch,
      filars,
      leadDistance: conductorHeight(spec.conductor),
      leadSide: spec.leadSide ?? -1,
    };
    for (let filar = 0; filar < filars; filar++) {
      turns.push({ pieces: spiralPath(family, layout, filar), z: layerZ(0), weight: 1 / filars });
    }
  } else {
    // Layers share one array per place, so that equal pairs of turns can be told by identity.
    const rings = Array.from({ length: filars * most }, (_, position) =>
      family.template(position).filter((piece) => pieceLength(piece) > 1e-12),
    );
    layerTurns.forEach((count, layer) => {
      for (const pieces of rings.slice(0, filars * count)) turns.push({ pieces, z: layerZ(layer), weight: 1 / filars });
    });
  }

  let halfWidth = 0;
  let halfHeight = 0;
  for (const piece of family.template(0)) {
    const [x, y] = pieceReach(piece);
    halfWidth = Math.max(halfWidth, x);
    halfHeight = Math.max(halfHeight, y);
  }
  const half = conductorWidth(spec.conductor) / 2;
  const wire = turns.reduce(
    (sum, turn) => sum + turn.pieces.reduce((length, piece) => length + pieceLength(piece), 0),
    0,
  );
  return {
    spec,
    turns,
    pitchX: span === 0 ? 0 : family.pitchX,
    pitchY: span === 0 ? 0 : family.pitchY,
    halfThickness: ((layers - 1) * layerPitch + conductorHeight(spec.conductor)) / 2,
    halfWidth: halfWidth + half,
    halfHeight: halfHeight + half,
    wireLength: wire / filars,
  };
}

/** Turns in each layer: evenly, what is left over on the first layers, a fraction of a turn on the last. */
function turnsPerLayer(turns: number, layers: number): number[] {
  const whole = Math.floor(turns);
  return Array.from(
    { length: layers },
    (_, layer) =>
      Math.floor(whole / layers) + (layer < whole % layers ? 1 : 0) + (layer === layers - 1 ? turns - whole : 0),
  );
}
