import { add, cross, dot, scale, subtract, type Vec3 } from './vectors.ts';

/** Where the viewer stands: about `target`, at azimuth (rad from +x) and elevation (rad above the plane). */
export interface CameraState {
  readonly azimuth: number;
  readonly elevation: number;
  readonly distance: number;
  readonly target: Vec3;
}

export interface CameraBasis {
  readonly position: Vec3;
  /** Unit vectors of the picture: right, up, and from the target towards the viewer. */
  readonly right: Vec3;
  readonly up: Vec3;
  readonly back: Vec3;
}

/** A long lens: nearly parallel projection, as a drawing has it. Vertical field of view, rad. */
export const FIELD_OF_VIEW = (14 * Math.PI) / 180;
/** Time constant of the damping, ms. */
const DAMPING_MS = 55;
/** Each round leaves about a tenth of the remaining error. */
const CENTRING_ROUNDS = 4;
const DEGREE = Math.PI / 180;
const PRESETS = {
  reset: { azimuth: -58 * DEGREE, elevation: 33 * DEGREE },
  top: { azimuth: -90 * DEGREE, elevation: 90 * DEGREE },
  side: { azimuth: -90 * DEGREE, elevation: 0 },
} as const;
export type CameraPreset = keyof typeof PRESETS;

/** The picture's axes for a camera state; well defined straight above as well. */
export function cameraBasis(state: CameraState): CameraBasis {
  const ca = Math.cos(state.azimuth);
  const sa = Math.sin(state.azimuth);
  const ce = Math.cos(state.elevation);
  const se = Math.sin(state.elevation);
  const back: Vec3 = [ce * ca, ce * sa, se];
  const right: Vec3 = [-sa, ca, 0];
  return { back, right, up: cross(back, right), position: add(state.target, scale(back, state.distance)) };
}

/**
 * An orbit camera with damping, free of any renderer: it is moved by intent (`orbit`, `pan`, `zoom`, `preset`) and by
 * elapsed milliseconds (`advance`). Lengths in the unit of the points given to `fit`.
 */
export class CameraRig {
  /** No damping: for those who asked for less motion. */
  instant = false;
  #now: CameraState = { ...PRESETS.reset, distance: 1, target: [0, 0, 0] };
  #goal: CameraState = this.#now;
  #points: readonly Vec3[] = [];
  #aspect = 1;
  #fitted = 1;
  /** The preset that the viewer still stands at, until moved by hand. */
  #standing: CameraPreset | null = null;
  /** Room round the subject, as a fraction of the picture's half-size. */
  readonly #margin: { readonly x: number; readonly y: number };

  constructor(margin: { readonly x: number; readonly y: number } = { x: 0.16, y: 0.14 }) {
    this.#margin = margin;
  }

  get state(): CameraState {
    return this.#now;
  }

  get goal(): CameraState {
    return this.#goal;
  }

  /** What must be in the picture after `preset`. Does not move the camera, except the first time. */
  subject(points: readonly Vec3[]): void {
    const first = this.#points.length === 0;
    this.#points = points;
    if (first) {
      this.preset('reset');
      this.#now = this.#goal;
    }
  }

  /** Keeps the subject's size in the picture when its proportions change. */
  aspect(value: number): void {
    if (!(value > 0) || value === this.#aspect) return;
    this.#aspect = value;
    if (this.#standing !== null) {
      this.preset(this.#standing);
      this.#now = this.#goal;
      return;
    }
    const zoom = this.#goal.distance / this.#fitted;
    this.#fitted = this.#fit(this.#goal).distance;
    this.#goal = { ...this.#goal, distance: this.#fitted * zoom };
    this.#now = { ...this.#now, distance: this.#goal.distance };
  }

  preset(name: CameraPreset): void {
    const fitted = this.#fit({
      ...this.#goal,
      ...PRESETS[name],
      azimuth: nearest(PRESETS[name].azimuth, this.#now.azimuth),
    });
    this.#fitted = fitted.distance;
    this.#goal = fitted;
    this.#standing = name;
  }

  /** Turns about the target; angles in rad, positive to the right and up as the viewer moves. */
  orbit(right: number, up: number): void {
    this.#standing = null;
    const elevation = Math.max(-Math.PI / 2, Math.min(Math.PI / 2, this.#goal.elevation + up));
    this.#goal = { ...this.#goal, azimuth: this.#goal.azimuth + right, elevation };
  }

  /** Moves the viewer across the picture, in picture heights. */
  pan(right: number, up: number): void {
    this.#standing = null;
    const height = 2 * this.#goal.distance * Math.tan(FIELD_OF_VIEW / 2);
    const basis = cameraBasis(this.#goal);
    const target = add(this.#goal.target, add(scale(basis.right, right * height), scale(basis.up, up * height)));
    this.#goal = { ...this.#goal, target };
  }

  /** Brings the viewer nearer by a factor above 1, or further by one below; between a tenth and four times the fit. */
  zoom(factor: number): void {
    if (!(factor > 0)) return;
    this.#standing = null;
    const distance = Math.max(this.#fitted / 10, Math.min(this.#fitted * 4, this.#goal.distance / factor));
    this.#goal = { ...this.#goal, distance };
  }

  /** Moves towards the goal. Returns true while there is still way to go. */
  advance(ms: number): boolean {
    const k = this.instant ? 1 : 1 - Math.exp(-Math.max(0, ms) / DAMPING_MS);
    const a = this.#now;
    const b = this.#goal;
    const mix = (from: number, to: number): number => from + (to - from) * k;
    const next: CameraState = {
      azimuth: mix(a.azimuth, b.azimuth),
      elevation: mix(a.elevation, b.elevation),
      distance: mix(a.distance, b.distance),
      target: [mix(a.target[0], b.target[0]), mix(a.target[1], b.target[1]), mix(a.target[2], b.target[2])],
    };
    const left = subtract(next.target, b.target);
    const still =
      Math.abs(next.azimuth - b.azimuth) < 1e-4 &&
      Math.abs(next.elevation - b.elevation) < 1e-4 &&
      Math.abs(next.distance / b.distance - 1) < 1e-4 &&
      Math.sqrt(dot(left, left)) < 1e-4 * b.distance;
    this.#now = still ? b : next;
    return !still;
  }

  /** Centre and distance at which every point is inside the picture with its margin. */
  #fit(state: CameraState): CameraState {
    if (this.#points.length === 0) return state;
    const { right, up, back } = cameraBasis(state);
    const range = (axis: Vec3): readonly [number, number] => {
      const along = this.#points.map((p) => dot(p, axis));
      return [Math.min(...along), Math.max(...along)];
    };
    const centre = (axis: Vec3): Vec3 => scale(axis, (range(axis)[0] + range(axis)[1]) / 2);
    let target = add(centre(right), add(centre(up), centre(back)));
    const ty = Math.tan(FIELD_OF_VIEW / 2) * (1 - this.#margin.y);
    const tx = Math.tan(FIELD_OF_VIEW / 2) * this.#aspect * (1 - this.#margin.x);
    let distance = 0;
    for (let round = 0; round < CENTRING_ROUNDS; round++) {
      distance = 0;
      for (const p of this.#points) {
        const d = subtract(p, target);
        const needed = Math.max(Math.abs(dot(d, right)) / tx, Math.abs(dot(d, up)) / ty);
        distance = Math.max(distance, dot(d, back) + needed);
      }
      // What is near looks larger: bring the middle of what is seen to the middle of the picture.
      const seen = (axis: Vec3): number => {
        const at = this.#points.map((p) => {
          const d = subtract(p, target);
          return dot(d, axis) / (distance - dot(d, back));
        });
        return ((Math.min(...at) + Math.max(...at)) / 2) * distance;
      };
      if (round + 1 < CENTRING_ROUNDS) target = add(target, add(scale(right, seen(right)), scale(up, seen(up))));
    }
    return { ...state, target, distance };
  }
}

/** The angle equal to `angle` up to full turns that lies nearest to `to`. */
function nearest(angle: number, to: number): number {
  return angle + 2 * Math.PI * Math.round((to - angle) / (2 * Math.PI));
}
