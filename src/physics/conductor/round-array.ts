import type { Station } from './stations.ts';

/**
 * Parallel round wires in each other's fields, in the plane of their sections: exact multipoles of solid cylinders.
 * Complex places w = across + i up; the potential near a wire is A/mu0 = sum of p_n w^n + q_n conj(w)^n.
 */

/** Multipole orders kept; touching wires in an outside field need about this many for one percent. */
export const ORDERS = 5;
const CIRCLE_POINTS = 12;
const MOST_SWEEPS = 200;

/**
 * Moments of the field of all other turns and of what lies around at each station, before any wire answers.
 *
 * @param radius circle on which the field is sampled, at most to the nearest neighbour's middle, m
 * @returns [stations, ORDERS, 2] row-major: re im of g_n, with the potential A/mu0 = Re sum g_n w^n per coil ampere
 */
export function incidentMoments(stations: readonly Station[], radius: number): Float64Array {
  const out = new Float64Array(2 * ORDERS * stations.length);
  const field = new Float64Array(2);
  stations.forEach((station, s) => {
    for (let k = 0; k < CIRCLE_POINTS; k++) {
      const angle = (2 * Math.PI * (k + 0.5)) / CIRCLE_POINTS;
      station.field(radius * Math.cos(angle), radius * Math.sin(angle), field);
      // H_z + i H_across is the derivative of the complex potential.
      for (let n = 1; n <= ORDERS; n++) {
        const scale = 1 / (CIRCLE_POINTS * n * radius ** (n - 1));
        const cos = Math.cos((n - 1) * angle) * scale;
        const sin = Math.sin((n - 1) * angle) * scale;
        const at = 2 * (s * ORDERS + n - 1);
        out[at] += field[1] * cos + field[0] * sin;
        out[at + 1] += field[0] * cos - field[1] * sin;
      }
    }
  });
  return out;
}

/** Mean square over a disc of the field with these moments, per square ampere, 1/m2, one value for each station. */
export function meanSquareField(moments: Float64Array, radius: number): Float64Array {
  const out = new Float64Array(moments.length / (2 * ORDERS));
  for (let s = 0; s < out.length; s++) {
    for (let n = 1; n <= ORDERS; n++) {
      const at = 2 * (s * ORDERS + n - 1);
      out[s] += n * (moments[at] ** 2 + moments[at + 1] ** 2) * radius ** (2 * n - 2);
    }
  }
  return out;
}

/**
 * Loss of solid wires that answer the incident field and each other.
 *
 * @param answers beta_n of one wire, [ORDERS, 2]; see multipoleAnswers
 * @returns per station, sum over n of n |Im beta_n| a^(2n) 2 (|p_n|^2 + |q_n|^2): times 2 pi omega mu0 the loss per metre
 *   per square (rms) ampere; NaN where the sweeps did not settle
 * Method: Gauss-Seidel over stations; each neighbour's answer is re-expanded about the station.
 */
export function solidWireLoss(
  stations: readonly Station[],
  moments: Float64Array,
  radius: number,
  answers: Float64Array,
): Float64Array {
  const n = stations.length;
  const shifts = stations.map((station) =>
    station.neighbours.map(({ across, height }) => shift(-across, -height, radius)),
  );
  // Orders scaled by a^n, so that all moments are amperes per metre times metre.
  const incident = new Float64Array(2 * ORDERS * n);
  for (let s = 0; s < n; s++) {
    for (let k = 0; k < ORDERS; k++) {
      const at = 2 * (s * ORDERS + k);
      incident[at] = (moments[at] * radius ** (k + 1)) / 2;
      incident[at + 1] = (moments[at + 1] * radius ** (k + 1)) / 2;
    }
  }
  // p starts as the incident moments, q as their conjugates.
  const p = incident.slice();
  const q = incident.map((value, k) => (k % 2 === 0 ? value : -value));
  // What each wire sends out: answers times its moments, from p (analytic in conj(w)) and from q (analytic in w).
  const fromP = new Float64Array(p.length);
  const fromQ = new Float64Array(p.length);
  const send = (s: number): void => {
    for (let k = 0; k < ORDERS; k++) {
      const at = 2 * (s * ORDERS + k);
      const re = answers[2 * k];
      const im = answers[2 * k + 1];
      fromP[at] = re * p[at] - im * p[at + 1];
      fromP[at + 1] = re * p[at + 1] + im * p[at];
      fromQ[at] = re * q[at] - im * q[at + 1];
      fromQ[at + 1] = re * q[at + 1] + im * q[at];
    }
  };
  for (let s = 0; s < n; s++) send(s);
  const next = new Float64Array(4 * ORDERS);
  let change = Number.POSITIVE_INFINITY;
  let size = 0;
  for (let sweep = 0; sweep < MOST_SWEEPS && change > 1e-5 * size; sweep++) {
    change = 0;
    size = 0;
    for (let s = 0; s < n; s++) {
      const own = 2 * s * ORDERS;
      for (let k = 0; k < 2 * ORDERS; k++) {
        next[k] = incident[own + k];
        next[2 * ORDERS + k] = k % 2 === 0 ? incident[own + k] : -incident[own + k];
      }
      const { neighbours } = stations[s];
      for (let j = 0; j < neighbours.length; j++) {
        const table = shifts[s][j];
        const other = 2 * neighbours[j].station * ORDERS;
        for (let m = 0; m < ORDERS; m++) {
          for (let k = 0; k < ORDERS; k++) {
            const cRe = table[2 * (m * ORDERS + k)];
            const cIm = table[2 * (m * ORDERS + k) + 1];
            const uRe = fromQ[other + 2 * k];
            const uIm = fromQ[other + 2 * k + 1];
            const vRe = fromP[other + 2 * k];
            const vIm = fromP[other + 2 * k + 1];
            next[2 * m] += cRe * uRe - cIm * uIm;
            next[2 * m + 1] += cRe * uIm + cIm * uRe;
            next[2 * (ORDERS + m)] += cRe * vRe + cIm * vIm;
            next[2 * (ORDERS + m) + 1] += cRe * vIm - cIm * vRe;
          }
        }
      }
      for (let k = 0; k < 2 * ORDERS; k++) {
        change = Math.max(change, Math.abs(next[k] - p[own + k]), Math.abs(next[2 * ORDERS + k] - q[own + k]));
        size = Math.max(size, Math.abs(next[k]));
        p[own + k] = next[k];
        q[own + k] = next[2 * ORDERS + k];
      }
      send(s);
    }
  }
  const loss = new Float64Array(n);
  if (change > 1e-4 * size) return loss.fill(Number.NaN);
  for (let s = 0; s < n; s++) {
    for (let k = 0; k < ORDERS; k++) {
      const at = 2 * (s * ORDERS + k);
      const square = p[at] ** 2 + p[at + 1] ** 2 + q[at] ** 2 + q[at + 1] ** 2;
      loss[s] += (k + 1) * Math.abs(answers[2 * k + 1]) * 2 * square;
    }
  }
  return loss;
}

/**
 * Re-expansion of (w + D)^-n about w = 0: the coefficient of w^m, m and n from 1, scaled by a^m and a^n.
 * [m, n, 2] row-major, re im.
 */
function shift(re: number, im: number, radius: number): Float64Array {
  const out = new Float64Array(2 * ORDERS * ORDERS);
  const norm = re * re + im * im;
  const inverseRe = (radius * re) / norm;
  const inverseIm = (-radius * im) / norm;
  const powers = new Float64Array(2 * (2 * ORDERS + 1));
  powers[0] = 1;
  for (let k = 1; k <= 2 * ORDERS; k++) {
    powers[2 * k] = powers[2 * k - 2] * inverseRe - powers[2 * k - 1] * inverseIm;
    powers[2 * k + 1] = powers[2 * k - 2] * inverseIm + powers[2 * k - 1] * inverseRe;
  }
  for (let m = 1; m <= ORDERS; m++) {
    // Binomial (n + m - 1 over m), n = 1 gives 1.
    let binomial = 1;
    for (let n = 1; n <= ORDERS; n++) {
      if (n > 1) binomial *= (n + m - 1) / (n - 1);
      const at = 2 * ((m - 1) * ORDERS + n - 1);
      const sign = m % 2 === 0 ? 1 : -1;
      out[at] = sign * binomial * powers[2 * (n + m)];
      out[at + 1] = sign * binomial * powers[2 * (n + m) + 1];
    }
  }
  return out;
}
