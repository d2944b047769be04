import { describe, expect, it } from 'vitest';
import { gaussLegendre } from '../../../src/numerics/gauss-legendre.ts';
import { plateMesh } from '../../../src/physics/field/plate-mesh.ts';
import { plateResponse } from '../../../src/physics/field/plate-response.ts';
import { discField } from '../../../src/physics/magnet/disc-field.ts';
import { layoutForceOnPlates } from '../../../src/physics/magnet/layout-on-plates.ts';
import type { MagnetLayout } from '../../../src/physics/magnet/magnet-layout.ts';
import {
  type PlateInFlux,
  permeabilityIn,
  permeabilityLeft,
  saturatePlates,
  saturationRound,
  shareLeft,
} from '../../../src/physics/magnet/saturation.ts';
import { softPlate } from '../../../src/physics/magnet/soft-plate.ts';

const MU0 = 4e-7 * Math.PI;

describe('the curve', () => {
  it('share is M / (chi H) of Froehlich’s curve, its square the slope', () => {
    const chi = 699;
    const ms = 0.35 / MU0;
    const magnetisation = (h: number) => (ms * chi * h) / (ms + chi * h);
    for (const h of [0, 10, 200, 2000, 1e5]) {
      const share = shareLeft(h, chi, 0.35);
      if (h > 0) expect(share).toBeCloseTo(magnetisation(h) / (chi * h), 12);
      const step = Math.max(1e-3, h * 1e-4);
      const slope = (magnetisation(h + step) - magnetisation(Math.max(0, h - step))) / (h > step ? 2 * step : step + h);
      expect(permeabilityLeft(700, share, 'along')).toBeCloseTo(1 + slope, 1);
      expect(permeabilityLeft(700, share, 'across')).toBeCloseTo(1 + chi * share, 9);
      expect(permeabilityLeft(700, share, 'mean') - 1).toBeCloseTo(
        Math.sqrt((permeabilityLeft(700, share, 'along') - 1) * (permeabilityLeft(700, share, 'across') - 1)),
        9,
      );
    }
  });
});

describe('a plate with less susceptibility in its cells', () => {
  const mesh = plateMesh(
    { shape: 'roundedRectangle', width: 40e-3, height: 30e-3, cornerRadius: 4e-3 },
    1e-3,
    5e-3,
    1,
    1,
  );

  it('the same share everywhere is a plate of that susceptibility', () => {
    const shared = plateResponse(mesh, 699, new Float64Array(mesh.faceOrbits).fill(0.3));
    const plain = plateResponse(mesh, 699 * 0.3);
    shared.blocks.forEach((block, c) => {
      const scale = plain.blocks[c].reduce((most, v) => Math.max(most, Math.abs(v)), 0);
      block.forEach((value, k) => {
        expect(Math.abs(value - plain.blocks[c][k])).toBeLessThan(1e-9 * scale);
      });
    });
  });

  it('a band with next to nothing left cuts the plate: it answers a field along x like two halves', () => {
    // Pull of a magnet beside the cut, against a plate that ends there, is beyond both: only the order is asked for.
    const shares = new Float64Array(mesh.faceOrbits).fill(1);
    const { cellsY } = mesh.grid;
    for (let j = 0; j < cellsY; j += 1) shares[j] = 1e-4;
    const uniform = new Float64Array(mesh.panels.count);
    for (let p = 0; p < uniform.length; p += 1) uniform[p] = -mesh.panels.centre[3 * p];
    const moment = (response: ReturnType<typeof plateResponse>) => {
      // Class odd in x, even in y and z; its potential is odd in x.
      const n = mesh.orbits;
      const block = response.blocks[1];
      let sum = 0;
      for (let i = 0; i < n; i += 1)
        for (let j = 0; j < n; j += 1) sum += mesh.panels.centre[3 * i] * block[i * n + j] * mesh.panels.centre[3 * j];
      return sum;
    };
    const whole = moment(plateResponse(mesh, 699));
    const cut = moment(plateResponse(mesh, 699, shares));
    // Dipole moment of a thin body grows faster than its length: two halves have well under the whole.
    expect(cut).toBeLessThan(0.6 * whole);
    expect(cut).toBeGreaterThan(0.1 * whole);
  });
});

const magnet = { radius: 4e-3, thickness: 1e-3, remanence: 1.2 };
const lone: MagnetLayout = {
  positions: Float64Array.of(0, 0),
  polarity: null,
  lower: magnet,
  upper: magnet,
  facing: 'steel',
  steel: { radius: 1e-5, thickness: 1e-5, relativePermeability: 1.0001 },
  gap: 6e-3,
};
const wide = (saturation: number, cell = 3.5e-3): PlateInFlux => ({
  outline: { shape: 'circle', diameter: 50e-3 },
  thickness: 2e-3,
  relativePermeability: 2000,
  saturation,
  height: -4e-3,
  options: { cell, layers: 1 },
});

describe('a magnet over a wide plate', () => {
  it('far from saturation: the flux that enters inside a circle runs out through it (image method)', () => {
    const { dock, settled, rounds } = saturatePlates(lone, { dock: wide(500, 2e-3), device: null });
    expect(settled).toBe(true);
    expect(rounds).toBeLessThanOrEqual(2);
    // The magnet's middle is 3.5 mm over the mid-plane, the plate's face 3 mm under it. Twice its normal field, integrated.
    const rule = gaussLegendre(40);
    const field = new Float64Array(2);
    const density = (r: number) => {
      let entering = 0;
      for (let k = 0; k < 40; k += 1) {
        const rho = (r * (1 + rule.nodes[k])) / 2;
        discField(magnet, rho, -6.5e-3, field);
        entering += 2 * Math.PI * rho * 2 * field[1] * rule.weights[k] * (r / 2);
      }
      return Math.abs(entering) / (2 * Math.PI * r * 2e-3);
    };
    const flux = dock!;
    let compared = 0;
    for (let cell = 0; cell < flux.density.length; cell += 1) {
      const r = Math.hypot(flux.centres[2 * cell], flux.centres[2 * cell + 1]);
      if (r < 4e-3 || r > 10e-3) continue;
      compared += 1;
      expect(Math.abs(flux.density[cell] / density(r) - 1)).toBeLessThan(0.08);
    }
    expect(compared).toBeGreaterThan(5);
    expect(flux.halvedShare).toBe(0);
    expect(flux.leastPermeability).toBeGreaterThan(0.99 * 2000);
  });

  it('no cell carries more than saturation and its own field; the lower the limit, the more is taken and the less pulled', () => {
    let before = { halved: -1, pull: Number.POSITIVE_INFINITY };
    for (const saturation of [10, 0.05, 0.015]) {
      const state = saturatePlates(lone, { dock: wide(saturation), device: null });
      expect(state.settled).toBe(true);
      const flux = state.dock!;
      flux.density.forEach((b, cell) => {
        const share = flux.shares[cell];
        // H from the share: chi H = (Bs / mu0) (1 / share - 1).
        const field = ((saturation / MU0) * (1 / share - 1)) / 1999;
        expect(b).toBeLessThan((saturation + MU0 * field) * 1.05 + 1e-6);
      });
      expect(flux.halvedShare).toBeGreaterThanOrEqual(before.halved);
      expect(state.pullN).toBeLessThan(before.pull);
      before = { halved: flux.halvedShare, pull: state.pullN };
    }
    expect(before.halved).toBeGreaterThan(0.02);
  });

  it('the first round is the linear plate’s; without plates nothing is asked', () => {
    const plate = wide(0.35);
    const first = saturationRound(lone, { dock: plate, device: null }, null);
    const soft = softPlate(plate.outline, plate.thickness, plate.relativePermeability, plate.options);
    const linear = layoutForceOnPlates(lone, { dock: { plate: soft, height: plate.height }, device: null }, 0, 0, 0);
    expect(first.pullN).toBeCloseTo(-linear.total.fz, 12);
    expect(saturatePlates(lone, { dock: null, device: null })).toMatchObject({ dock: null, device: null, rounds: 1 });
  });

  it('a place takes the permeability of its nearest cell, whichever quarter it lies in', () => {
    const { dock } = saturatePlates(lone, { dock: wide(0.02), device: null });
    const at = permeabilityIn(dock!, 2000, 'across');
    expect(at(dock!.centres[6], dock!.centres[7])).toBeCloseTo(permeabilityLeft(2000, dock!.shares[3], 'across'), 9);
    expect(at(-5e-3, 3e-3)).toBe(at(5e-3, -3e-3));
  });
});
