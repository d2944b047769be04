import type { CoilSpec, Piece, Turn, Winding } from '../../../src/physics/coil/types.ts';
import { LIGHT_PALETTE } from '../../../src/scene/palette.ts';
import type { LinkSceneData, SceneCoil } from '../../../src/scene/types.ts';

/** The demo pair of the project's own scenario, wound here by hand so that the scene's tests need no other layer. */

const MM = 1e-3;

function circleTurn(radius: number, z: number): Turn {
  return { pieces: [{ kind: 'arc', cx: 0, cy: 0, radius, start: 0, sweep: 2 * Math.PI }], z, weight: 1 };
}

/** Counter-clockwise from the right side; half-widths and corner radius of the centre line. */
function rectangleTurn(hw: number, hh: number, r: number, z: number): Turn {
  const pieces: Piece[] = [];
  const corners = [
    [hw - r, hh - r],
    [-(hw - r), hh - r],
    [-(hw - r), -(hh - r)],
    [hw - r, -(hh - r)],
  ] as const;
  for (let i = 0; i < 4; i++) {
    const [cx, cy] = corners[i]!;
    const start = (i * Math.PI) / 2;
    const [px, py] = corners[(i + 3) % 4]!;
    pieces.push({
      kind: 'line',
      x0: px + r * Math.cos(start),
      y0: py + r * Math.sin(start),
      x1: cx + r * Math.cos(start),
      y1: cy + r * Math.sin(start),
    });
    pieces.push({ kind: 'arc', cx, cy, radius: r, start, sweep: Math.PI / 2 });
  }
  return { pieces, z, weight: 1 };
}

export function circleWinding(outerMm = 44, innerMm = 20.5, turns = 10, bundleMm = 1.1): Winding {
  const spec: CoilSpec = {
    outline: { shape: 'circle', outerDiameter: outerMm * MM, innerDiameter: innerMm * MM },
    turns,
    layers: 1,
    layerPitch: 1.2 * MM,
    filars: 1,
    winding: 'rings',
    conductor: { kind: 'litz', strands: 105, strandDiameter: 0.08 * MM, bundleDiameter: bundleMm * MM },
  };
  const pitch = turns > 1 ? (((outerMm - innerMm) / 2 - bundleMm) / (turns - 1)) * MM : 0;
  const outermost = ((outerMm - bundleMm) / 2) * MM;
  return {
    spec,
    turns: Array.from({ length: turns }, (_, i) => circleTurn(outermost - i * pitch, 0)),
    pitchX: pitch,
    pitchY: pitch,
    halfThickness: (bundleMm / 2) * MM,
    halfWidth: (outerMm / 2) * MM,
    halfHeight: (outerMm / 2) * MM,
    wireLength: 1,
  };
}

export function rectangleWinding(perLayer = 7, layers = 2): Winding {
  const bundle = 0.75;
  const spec: CoilSpec = {
    outline: {
      shape: 'roundedRectangle',
      outerWidth: 46 * MM,
      outerHeight: 33 * MM,
      innerWidth: 28 * MM,
      innerHeight: 15 * MM,
      outerCornerRadius: 10 * MM,
      innerCornerRadius: 2 * MM,
    },
    turns: perLayer * layers,
    layers,
    layerPitch: 0.8 * MM,
    filars: 1,
    winding: 'rings',
    conductor: { kind: 'litz', strands: 60, strandDiameter: 0.08 * MM, bundleDiameter: bundle * MM },
  };
  const pitch = (9 - bundle) / (perLayer - 1);
  const turns: Turn[] = [];
  for (let layer = 0; layer < layers; layer++)
    for (let i = 0; i < perLayer; i++) {
      const inset = bundle / 2 + i * pitch;
      const radius = 10 - bundle / 2 + ((2 + bundle / 2 - (10 - bundle / 2)) * i) / (perLayer - 1);
      const z = (layer - (layers - 1) / 2) * 0.8;
      turns.push(rectangleTurn((23 - inset) * MM, (16.5 - inset) * MM, radius * MM, z * MM));
    }
  return {
    spec,
    turns,
    pitchX: pitch * MM,
    pitchY: pitch * MM,
    halfThickness: ((bundle + 0.8 * (layers - 1)) / 2) * MM,
    halfWidth: 23 * MM,
    halfHeight: 16.5 * MM,
    wireLength: 1,
  };
}

export function demoCoils(): { transmitter: SceneCoil; receiver: SceneCoil } {
  return {
    transmitter: {
      winding: circleWinding(),
      ferrite: {
        outline: { shape: 'roundedRectangle', width: 50 * MM, height: 50 * MM, cornerRadius: 1 * MM },
        thickness: 1 * MM,
        standoff: 0.5 * MM,
      },
      metal: null,
    },
    receiver: {
      winding: rectangleWinding(),
      ferrite: {
        outline: { shape: 'roundedRectangle', width: 48 * MM, height: 36 * MM, cornerRadius: 2 * MM },
        thickness: 0.6 * MM,
        standoff: 0.3 * MM,
      },
      metal: {
        outline: { shape: 'roundedRectangle', width: 44 * MM, height: 32 * MM, cornerRadius: 3 * MM },
        thickness: 0.5 * MM,
        standoff: 1 * MM,
      },
    },
  };
}

/** The demo link at its gap of 5.9 mm. */
export function demoLink(change: Partial<LinkSceneData> = {}): LinkSceneData {
  const coils = demoCoils();
  const gap = 5.9 * MM;
  return {
    ...coils,
    pose: {
      x: 0,
      y: 0,
      z: gap + coils.transmitter.winding.halfThickness + coils.receiver.winding.halfThickness,
      yaw: 0,
      tiltX: 0,
      tiltY: 0,
    },
    slabs: [
      { name: 'oak', thickness: 4 * MM, material: 'wood', side: 'transmitter' },
      { name: 'felt', thickness: 0.3 * MM, material: 'textile', side: 'transmitter' },
      { name: 'case', thickness: 1.2 * MM, material: 'plastic', side: 'receiver' },
      { name: 'air', thickness: 0.4 * MM, material: 'air', side: 'receiver' },
    ],
    palette: LIGHT_PALETTE,
    ...change,
  };
}
