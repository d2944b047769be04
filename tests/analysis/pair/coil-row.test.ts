import { describe, expect, it } from 'vitest';
import { type MemberMap, rowAnswer } from '../../../src/analysis/pair/coil-row.ts';
import { idleCoils } from '../../../src/analysis/pair/idle-coils.ts';
import { rowMembers, rowOf } from '../../../src/analysis/pair/row-design.ts';
import type { Design } from '../../../src/design/types.ts';
import { linkSidesOf } from '../../../src/design/wind.ts';
import { InputError } from '../../../src/numerics/errors.ts';
import { mutualInductance } from '../../../src/physics/coil/mutual-inductance.ts';
import { selfInductance } from '../../../src/physics/coil/self-inductance.ts';
import { airPair } from './air-pair.ts';

/** A map whose margin falls evenly from the centre and is zero at `zeroMm`. */
function cone(zeroMm: number, span = 20, points = 81): MemberMap {
  const axis = Float64Array.from({ length: points }, (_, i) => -span + (2 * span * i) / (points - 1));
  const marginPercent = new Float64Array(points * points);
  for (let j = 0; j < points; j++)
    for (let i = 0; i < points; i++)
      marginPercent[j * points + i] = 20 + 10 * (zeroMm - Math.hypot(axis[i]!, axis[j]!));
  const nothing = new Float64Array(points * points);
  return {
    gapMm: 5,
    xMm: axis,
    yMm: axis.slice(),
    maxOutputA: nothing,
    peakOutputA: nothing,
    marginPercent,
    lowPercent: marginPercent.map((value) => value - 15),
    highPercent: marginPercent.map((value) => value + 5),
    wakeSlackV: new Float64Array(points * points).fill(1),
    coupling: nothing,
    mutualInductanceH: nothing,
    wakes: new Uint8Array(points * points).fill(1),
    demandA: 1,
    wantedMarginPercent: 20,
    safeOutline: [],
    collapseOutline: [],
    wakeOutline: [],
    reachMm: { value: 0, low: 0, high: 0 },
    holdReachMm: 0,
    wakeReachMm: 0,
    innerLimitMm: 0,
    peakReachMm: [],
    tightestDeg: 0,
    timing: { linkModelMs: 0, gridMs: 0, circuitMs: 0, totalMs: 0 },
  };
}

function withFerrite(): Design {
  const design = airPair();
  design.transmitter.ferrite = {
    outline: { shape: 'roundedRectangle', outerWidthMm: 50, outerHeightMm: 50, outerCornerRadiusMm: 0 },
    thicknessMm: 1,
    standoffMm: 0.5,
    standoffToleranceMm: 0.1,
    relativePermeability: 700,
    relativePermeabilityTolerancePercent: 20,
    lossTangent: 0.02,
    saturationMt: 350,
  };
  return design;
}

describe('a row of transmitter coils', () => {
  it('has the union of discs as its safe region (areas by geometry)', () => {
    const design = rowOf(airPair(), 3, 12);
    const members = rowMembers(design);
    const answer = rowAnswer(
      design,
      members,
      members.map(() => cone(10)),
    );
    // Three discs of radius 10 at 12 mm: 3 pi r^2 less two lenses, each 2 r^2 acos(d/2r) - d/2 sqrt(4 r^2 - d^2).
    const lens = 200 * Math.acos(0.6) - 6 * Math.sqrt(400 - 144);
    expect(answer.safeAreaMm2 / (300 * Math.PI - 2 * lens)).toBeCloseTo(1, 2);
    expect(answer.safeLengthMm).toBeCloseTo(44, 0);
    expect([answer.pieces, answer.deadSpots.length]).toEqual([1, 0]);
    // Narrowest where two discs meet, 8 mm from the line at x = 6: the disc about the middle ends on the rim of the first coil, or there.
    expect(answer.map.reachMm.value).toBeCloseTo(10, 1);
    // 10 % of margin to a millimetre: 15 % less takes 1.5 mm, 5 % more adds 0.5 mm.
    expect(answer.map.reachMm.low).toBeCloseTo(8.5, 1);
    expect(answer.map.reachMm.high).toBeCloseTo(10.5, 1);
    const middle = answer.map.xMm.findIndex((x) => Math.abs(x - 12) < 1e-6);
    const row = answer.map.yMm.findIndex((y) => Math.abs(y) < 1e-6);
    expect(answer.driven[row * answer.map.xMm.length + middle]).toBe(2);
  });

  it('shows what no coil serves', () => {
    const design = rowOf(airPair(), 2, 30);
    const members = rowMembers(design);
    const apart = rowAnswer(
      design,
      members,
      members.map(() => cone(10)),
    );
    expect(apart.pieces).toBe(2);
    expect(apart.map.reachMm.value).toBe(0);
    expect(apart.safeLengthMm).toBeCloseTo(20, 0);
    // Four discs in a ring leave their middle out.
    const square: Design = {
      ...airPair(),
      transmitter: {
        ...airPair().transmitter,
        furtherCoils: [
          { xMm: 16, yMm: 0, heightStepMm: 0 },
          { xMm: 0, yMm: 16, heightStepMm: 0 },
          { xMm: 16, yMm: 16, heightStepMm: 0 },
        ],
      },
    };
    const four = rowMembers(square);
    const ring = rowAnswer(
      square,
      four,
      four.map(() => cone(10)),
    );
    expect(ring.deadSpots).toHaveLength(1);
    expect(ring.deadSpots[0]?.xMm).toBeCloseTo(8, 1);
    expect(ring.deadSpots[0]?.yMm).toBeCloseTo(8, 1);
  });

  it('lays overlapping coils one winding lower and the plate with them', () => {
    const design = rowOf(withFerrite(), 3, 22);
    expect(design.transmitter.furtherCoils.map((coil) => [coil.xMm, coil.heightStepMm])).toEqual([
      [-22, -1.1],
      [22, -1.1],
    ]);
    // Of coils 44 mm wide the outer two would lie in each other at 40 mm: the third lies deeper still.
    const close = rowOf(withFerrite(), 3, 20);
    expect(close.transmitter.furtherCoils.map(({ heightStepMm }) => heightStepMm)).toEqual([-1.1, -2.2]);
    expect(close.transmitter.ferrite?.standoffMm).toBeCloseTo(2.7, 12);
    expect(design.transmitter.ferrite?.standoffMm).toBeCloseTo(1.6, 12);
    expect(design.transmitter.ferrite?.outline).toMatchObject({ outerWidthMm: 94, outerHeightMm: 50 });
    const [first, left] = rowMembers(design);
    expect(left?.design.transmitter.ferrite?.standoffMm).toBeCloseTo(0.5, 12);
    expect(left?.design.placement.gapMm).toBeCloseTo(airPair().placement.gapMm + 1.1, 12);
    expect(left?.shiftMm).toEqual([0, 0]);
    // The polygon off the middle is the same coil: its inductance in air within 0.3 %, which is its 48 corners.
    const l = [first, left].map((member) => selfInductance(linkSidesOf(member!.design).transmitter.winding).value);
    expect(Math.abs(l[1]! / l[0]! - 1)).toBeLessThan(0.003);
  });

  it('tells what the driven coil does to the open ones, at most', () => {
    const design = rowOf(airPair(), 3, 20);
    const [first] = rowMembers(design);
    const idle = idleCoils(design, first!.design);
    // The voltage by the mutual inductance of the farthest overlap, solved another way: the same coil as a receiver (a hair apart, as there).
    const asReceiver = { ...airPair() };
    asReceiver.receiver = { ...asReceiver.receiver, coil: design.transmitter.coil };
    const { winding } = linkSidesOf(asReceiver).receiver;
    const pose = { x: 0.02 * 1.001, y: 0, z: 1.1e-3 * 1.001, yaw: 0, tiltX: 0, tiltY: 0 };
    const m = mutualInductance(linkSidesOf(asReceiver).transmitter.winding, winding, pose, { tolerance: 1e-5 }).value;
    const volts = (mutual: number): number =>
      Math.SQRT2 * 2 * Math.PI * idle.frequencyHz * Math.abs(mutual) * idle.drivenA;
    expect(idle.openV).toBeGreaterThanOrEqual(volts(m) * 0.999);
    expect(idle.openV).toBeLessThan(3 * volts(m));
    // Far apart nothing is left: the field of a dipole falls with the cube, its square with the sixth power.
    const loss = (stepMm: number): number => {
      const row = rowOf(airPair(), 2, stepMm);
      return idleCoils(row, rowMembers(row)[0]!.design).lossW;
    };
    expect(loss(200) / loss(400)).toBeGreaterThan(0.9 * 2 ** 6);
    expect(loss(200) / loss(400)).toBeLessThan(1.1 * 2 ** 6);
    expect(idle.lossW).toBeGreaterThan(loss(200));
    // Half a coil apart the outer two lie side by side and touch: no reason to refuse.
    const touching = rowOf(airPair(), 3, 22);
    expect(idleCoils(touching, rowMembers(touching)[0]!.design).openV).toBeGreaterThan(0);
    // Over a plate at most four times as much, as the images double the field.
    const plate = rowOf(withFerrite(), 3, 20);
    const over = idleCoils(plate, { ...rowMembers(plate)[0]!.design });
    const share = (over.drivenA / idle.drivenA) ** 2 * (over.frequencyHz / idle.frequencyHz) ** 2;
    expect(over.lossW / idle.lossW / share).toBeCloseTo(4, 1);
  });

  it('refuses what it cannot describe', () => {
    expect(() => rowMembers(airPair())).toThrow(InputError);
    const flat = withFerrite();
    flat.transmitter.furtherCoils = [{ xMm: 20, yMm: 0, heightStepMm: -1.1 }];
    expect(() => rowMembers(flat)).toThrow(/stays above its plate/);
    const high = airPair();
    high.transmitter.furtherCoils = [{ xMm: 20, yMm: 0, heightStepMm: 7 }];
    expect(() => rowMembers(high)).toThrow(/below the gap/);
  });
});
