import { type FaultDetail, safeText } from '../numerics/errors.ts';
import { chainFaults } from './chain-faults.ts';
import { DESIGN_LIMITS } from './defaults.ts';
import { stackSumMm } from './derived-defaults.ts';
import { nearest } from './nearest.ts';
import type { PartlyFilledDesign } from './schema.ts';
import type { CoilDocument, ConductorDocument, Design, OutlineDocument } from './types.ts';

/** How far `gapMm` may differ from the sum of the stack, mm. */
const GAP_AGREEMENT_MM = 0.01;

function conflict(path: string, required: string, received: string, hint?: string): FaultDetail {
  return { code: 'conflict', path, required, received, ...(hint === undefined ? {} : { hint }) };
}

/** The gap on which placement and stack agree, or the fault. */
export function agreeOnGap(part: PartlyFilledDesign): { gapMm: number } | { fault: FaultDetail } {
  const sum = stackSumMm(part.stack);
  const given = part.placement.gapMm;
  if (sum === null) {
    if (given !== undefined) return { gapMm: given };
    return {
      fault: {
        code: 'missing',
        path: 'placement.gapMm',
        required: 'a number from 0.05 to 1000 mm, or a stack whose layers add up to the gap',
        received: 'nothing',
      },
    };
  }
  if (sum < 0.05 || sum > 1000) {
    return { fault: conflict('stack', 'layers that add up to 0.05 to 1000 mm', `${sum} mm`) };
  }
  if (given !== undefined && Math.abs(given - sum) > GAP_AGREEMENT_MM + 1e-9) {
    return {
      fault: conflict(
        'placement.gapMm',
        `the sum of the stack, ${sum} mm, within ${GAP_AGREEMENT_MM} mm`,
        `${given} mm`,
        'Leave gapMm out, or change the layers, or leave the stack out.',
      ),
    };
  }
  return { gapMm: given ?? sum };
}

function outlineFaults(path: string, outline: OutlineDocument): FaultDetail[] {
  const inside = (inner: string, innerMm: number, outer: string, outerMm: number) =>
    innerMm < outerMm ? [] : [conflict(`${path}.${inner}`, `less than ${outer} (${outerMm} mm)`, `${innerMm} mm`)];
  if (outline.shape === 'path') return [];
  if (outline.shape === 'circle') {
    return inside('innerDiameterMm', outline.innerDiameterMm, 'outerDiameterMm', outline.outerDiameterMm);
  }
  const faults = [
    ...inside('innerWidthMm', outline.innerWidthMm, 'outerWidthMm', outline.outerWidthMm),
    ...inside('innerHeightMm', outline.innerHeightMm, 'outerHeightMm', outline.outerHeightMm),
  ];
  if (outline.shape === 'roundedRectangle') {
    faults.push(
      ...cornerFaults(
        `${path}.outerCornerRadiusMm`,
        outline.outerCornerRadiusMm,
        outline.outerWidthMm,
        outline.outerHeightMm,
      ),
    );
    if (outline.innerCornerRadiusMm !== null) {
      faults.push(
        ...cornerFaults(
          `${path}.innerCornerRadiusMm`,
          outline.innerCornerRadiusMm,
          outline.innerWidthMm,
          outline.innerHeightMm,
        ),
      );
    }
  }
  return faults;
}

function cornerFaults(path: string, radiusMm: number, widthMm: number, heightMm: number): FaultDetail[] {
  const most = Math.min(widthMm, heightMm) / 2;
  return radiusMm <= most + 1e-9 ? [] : [conflict(path, `at most half the shorter side, ${most} mm`, `${radiusMm} mm`)];
}

type AnyPlate =
  | { shape: 'circle' }
  | { shape: 'stadium' }
  | { shape: 'roundedRectangle'; outerWidthMm: number; outerHeightMm: number; outerCornerRadiusMm: number };

function plateFaults(path: string, outline: AnyPlate | undefined): FaultDetail[] {
  return outline?.shape === 'roundedRectangle'
    ? cornerFaults(
        `${path}.outerCornerRadiusMm`,
        outline.outerCornerRadiusMm,
        outline.outerWidthMm,
        outline.outerHeightMm,
      )
    : [];
}

function conductorFaults(path: string, conductor: ConductorDocument): FaultDetail[] {
  if (conductor.kind === 'litz') {
    // Parallel round strands fill at most pi / (2 sqrt 3) of the bundle's section (hexagonal packing).
    const { strands, strandDiameterMm: strand, bundleDiameterMm: bundle } = conductor;
    const least = strands === 1 ? strand : strand * Math.sqrt((strands * 2 * Math.sqrt(3)) / Math.PI);
    if (bundle >= least * (1 - 1e-9)) return [];
    const needed = `at least ${Math.ceil(least * 1000) / 1000} mm to hold ${strands} strands of ${strand} mm`;
    return [conflict(`${path}.bundleDiameterMm`, needed, `${bundle} mm`)];
  }
  if (conductor.kind === 'solid' && conductor.insulatedDiameterMm < conductor.diameterMm) {
    return [
      conflict(
        `${path}.insulatedDiameterMm`,
        `at least diameterMm (${conductor.diameterMm} mm)`,
        `${conductor.insulatedDiameterMm} mm`,
      ),
    ];
  }
  return [];
}

function pathSizeFaults(path: string, coil: CoilDocument): FaultDetail[] {
  if (coil.outline.shape !== 'path') return [];
  const points = coil.outline.pointsMm.length;
  const most = DESIGN_LIMITS.pathCorners;
  if (points * coil.turns * coil.filars <= most) return [];
  const wires = coil.filars === 1 ? '' : ` of ${coil.filars} wires`;
  return [
    conflict(
      `${path}.outline.pointsMm`,
      `at most ${Math.floor(most / (coil.turns * coil.filars))} points with ${coil.turns} turns${wires} (${most} corners in all)`,
      `${points} points`,
      'Draw the path with fewer points: they need only be as close as its bends ask for.',
    ),
  ];
}

function coilFaults(path: string, coil: CoilDocument): FaultDetail[] {
  const faults = [
    ...pathSizeFaults(path, coil),
    ...outlineFaults(`${path}.outline`, coil.outline),
    ...conductorFaults(`${path}.conductor`, coil.conductor),
  ];
  if (coil.winding === 'rings' && !Number.isInteger(coil.turns)) {
    faults.push(
      conflict(
        `${path}.turns`,
        'a whole number of turns for winding "rings"',
        `${coil.turns} turns`,
        'A "spiral" may have a fraction.',
      ),
    );
  }
  if (coil.layers > coil.turns) {
    faults.push(conflict(`${path}.layers`, `at most the number of turns, ${coil.turns}`, String(coil.layers)));
  }
  return faults;
}

function driveFaults(design: Design): FaultDetail[] {
  const drive = design.transmitter.drive;
  const at = 'transmitter.drive';
  const faults: FaultDetail[] = [];
  if (drive.frequencyMinKhz >= drive.frequencyMaxKhz) {
    faults.push(
      conflict(
        `${at}.frequencyMinKhz`,
        `less than frequencyMaxKhz (${drive.frequencyMaxKhz} kHz)`,
        `${drive.frequencyMinKhz} kHz`,
      ),
    );
  } else if (drive.pingKhz < drive.frequencyMinKhz / 2 || drive.pingKhz > drive.frequencyMaxKhz * 2) {
    faults.push(
      conflict(
        `${at}.pingKhz`,
        `from half the lowest to twice the highest frequency, ${drive.frequencyMinKhz / 2} to ${drive.frequencyMaxKhz * 2} kHz`,
        `${drive.pingKhz} kHz`,
      ),
    );
  }
  if (drive.bridge === 'half' && drive.dutyMin > 0.5) {
    faults.push(
      conflict(
        `${at}.dutyMin`,
        'at most 0.5 for a half bridge (high-side fraction of the cycle)',
        String(drive.dutyMin),
      ),
    );
  }
  return faults;
}

function pickupFaults(design: Design): FaultDetail[] {
  const { target, regulator } = design.receiver.pickup;
  const at = 'receiver.pickup';
  const faults: FaultDetail[] = [];
  if (target.lowV > target.highV) {
    faults.push(conflict(`${at}.target.lowV`, `at most highV (${target.highV} V)`, `${target.lowV} V`));
  }
  if (regulator.overvoltageV <= target.highV) {
    faults.push(
      conflict(
        `${at}.regulator.overvoltageV`,
        `more than target.highV (${target.highV} V)`,
        `${regulator.overvoltageV} V`,
      ),
    );
  }
  return faults;
}

function loadFaults(design: Design): FaultDetail[] {
  const loads = design.demand.loads;
  const names = loads.map((load) => load.name);
  const faults: FaultDetail[] = [];
  loads.forEach((load, i) => {
    const at = `demand.loads[${i}]`;
    if (names.indexOf(load.name) < i) {
      faults.push(conflict(`${at}.name`, 'a name that no other load has', JSON.stringify(safeText(load.name))));
    }
    if (load.kind !== 'peak' && load.durationMs !== 0) {
      faults.push(
        conflict(
          `${at}.durationMs`,
          `0 for a load that is no peak (this one is "${load.kind}")`,
          `${load.durationMs} ms`,
        ),
      );
    }
    load.alongside.forEach((name, j) => {
      const other = loads.find((candidate) => candidate.name === name);
      const here = `${at}.alongside[${j}]`;
      if (name === load.name) faults.push(conflict(here, 'the name of another load', `"${safeText(name)}"`));
      else if (other === undefined) {
        const meant = nearest(name, names);
        faults.push(
          conflict(
            here,
            `the name of a load: ${names.map((n) => `"${safeText(n)}"`).join(', ')}`,
            `"${safeText(name)}"`,
            meant === null ? undefined : `Did you mean "${safeText(meant)}"?`,
          ),
        );
      } else if (other.kind === 'peak') {
        faults.push(conflict(here, 'a load that lasts: a peak is judged by itself', `"${safeText(name)}"`));
      }
    });
  });
  return faults;
}

function placingFaults({ holding: { placing } }: Design): FaultDetail[] {
  return placing.kind === 'list' && placing.placements.length === 0
    ? [
        conflict(
          'holding.placing.placements',
          'at least one placement where holding.placing.kind is "list"',
          'none',
          'List placements as { "xMm": 1.5, "yMm": -0.8, "yawDeg": 3 }, or let kind be "gaussian", "disc" or "rectangle".',
        ),
      ]
    : [];
}

/** What no single key can show: faults between keys of a design whose every key is in range. */
export function crossFaults(design: Design): FaultDetail[] {
  return [
    ...coilFaults('transmitter.coil', design.transmitter.coil),
    ...plateFaults('transmitter.ferrite.outline', design.transmitter.ferrite?.outline),
    ...plateFaults('transmitter.metal.outline', design.transmitter.metal?.outline),
    ...driveFaults(design),
    ...coilFaults('receiver.coil', design.receiver.coil),
    ...plateFaults('receiver.ferrite.outline', design.receiver.ferrite?.outline),
    ...plateFaults('receiver.metal.outline', design.receiver.metal?.outline),
    ...pickupFaults(design),
    ...loadFaults(design),
    ...chainFaults(design),
    ...plateFaults('holding.recess.outline', design.holding.recess?.outline),
    ...placingFaults(design),
  ];
}
