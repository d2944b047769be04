import type { SideCoil, SidePlate, SideViewModel } from '../charts/side-view-layout.ts';
import { sectionMm, type WindingOutline, windingOutline } from '../charts/turn-edge.ts';
import { ferriteOf, metalOf, poseOf } from '../design/to-si.ts';
import type { Design } from '../design/types.ts';
import { conductorHeight, conductorWidth } from '../physics/coil/conductor-size.ts';
import type { PlateOutline, Winding } from '../physics/coil/types.ts';
import { lookOf } from '../scene/slab-look.ts';
import type { HandleId, LinkSceneData, SceneCoil, ScenePalette } from '../scene/types.ts';
import type { ResolvedDesign } from '../state/resolved-design.ts';
import { firstReceiverLayer } from './layer-sides.ts';

function halfWidthMm(outline: PlateOutline): number {
  return (outline.shape === 'circle' ? outline.diameter : outline.width) * 500;
}

function plateMm(plate: { outline: PlateOutline; thickness: number; standoff: number } | null): SidePlate | null {
  if (!plate) return null;
  return {
    halfWidthMm: halfWidthMm(plate.outline),
    thicknessMm: plate.thickness * 1000,
    standoffMm: plate.standoff * 1000,
  };
}

const sideCoils = new WeakMap<Winding, Omit<SideCoil, 'ferrite' | 'metal'>>();
const outlines = new WeakMap<Winding, WindingOutline>();

function sideCoil(winding: Winding, part: Design['transmitter'] | Design['receiver']): SideCoil {
  let drawn = sideCoils.get(winding);
  if (!drawn) {
    const conductor = winding.spec.conductor;
    drawn = {
      sectionMm: sectionMm(winding),
      conductorWidthMm: conductorWidth(conductor) * 1000,
      conductorHeightMm: conductorHeight(conductor) * 1000,
      round: conductor.kind !== 'trace',
      halfWidthMm: winding.halfWidth * 1000,
      halfThicknessMm: winding.halfThickness * 1000,
    };
    sideCoils.set(winding, drawn);
  }
  return { ...drawn, ferrite: plateMm(ferriteOf(part.ferrite)), metal: plateMm(metalOf(part.metal)) };
}

/** The edges of a winding seen from above; the same object as long as the winding is. */
export function outlineOf(winding: Winding): WindingOutline {
  let outline = outlines.get(winding);
  if (!outline) {
    outline = windingOutline(winding);
    outlines.set(winding, outline);
  }
  return outline;
}

/** What the section drawing shows of a design. */
export function sideViewModel(resolved: ResolvedDesign): SideViewModel {
  const { design, transmitter, receiver } = resolved;
  const first = firstReceiverLayer(design.stack.map((layer) => layer.name));
  return {
    transmitter: sideCoil(transmitter, design.transmitter),
    receiver: sideCoil(receiver, design.receiver),
    layers: design.stack.map((layer, i) => ({
      name: layer.name,
      thicknessMm: layer.thicknessMm,
      material: lookOf(layer.name),
      side: i >= first ? 'receiver' : 'transmitter',
    })),
    gapMm: design.placement.gapMm,
    offsetXMm: design.placement.offsetXMm,
    tiltYDeg: design.placement.tiltYDeg,
  };
}

function sceneCoil(winding: Winding, part: Design['transmitter'] | Design['receiver']): SceneCoil {
  return { winding, ferrite: ferriteOf(part.ferrite), metal: metalOf(part.metal) };
}

/** What the 3-D view shows of a design. */
export function linkSceneData(
  resolved: ResolvedDesign,
  palette: ScenePalette,
  faults: readonly HandleId[],
  fieldLines: readonly Float64Array[] | null,
): LinkSceneData {
  const { design, transmitter, receiver } = resolved;
  const first = firstReceiverLayer(design.stack.map((layer) => layer.name));
  return {
    transmitter: sceneCoil(transmitter, design.transmitter),
    receiver: sceneCoil(receiver, design.receiver),
    pose: poseOf(design, transmitter, receiver),
    slabs: design.stack.map((layer, i) => ({
      name: layer.name,
      thickness: layer.thicknessMm / 1000,
      material: lookOf(layer.name),
      side: i >= first ? ('receiver' as const) : ('transmitter' as const),
    })),
    furtherCoils: design.transmitter.furtherCoils.map((coil) => ({
      x: coil.xMm / 1000,
      y: coil.yMm / 1000,
      z: coil.heightStepMm / 1000,
    })),
    fieldLines,
    palette,
    faults,
    description: `${design.title}: both coils, ${design.placement.gapMm} mm apart.`,
  };
}
