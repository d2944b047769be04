import type { AttitudeHalf } from '../analysis/link/attitude-grid.ts';
import type { AttitudePart } from '../analysis/link/attitude-part.ts';
import { linkKey } from '../analysis/link/link-key.ts';
import type { LinkModel } from '../analysis/link/link-model.ts';
import type { ModelPlan } from '../analysis/link/model-plan.ts';
import { Lru } from '../analysis/lru.ts';
import type { Design } from '../design/types.ts';
import { type Failed, inChunks } from './in-chunks.ts';
import type { Runner } from './runner.ts';
import type { Outcome, Progress } from './types.ts';

/** Poses per chunk, some milliseconds each. */
const CHUNK = 10;
const OUTPUTS_OF_POSE = 6;

/** What is known about the attitudes of one link over one box. */
interface Known {
  readonly base: LinkModel;
  readonly values: Record<AttitudeHalf, Float64Array | null>;
  part: AttitudePart | null;
  /** Halves are solved one request after the other. */
  queue: Promise<unknown>;
}

/**
 * How fine models are carried to other attitudes, by link: the turn's half is solved when another turn is first asked for,
 * the tilt's when a tilt is. Nothing is solved before that, so that no first map waits.
 */
export class AttitudeStore {
  readonly #runner: Runner;
  readonly #known = new Lru<Known>(3);
  readonly #sources = new WeakMap<LinkModel, LinkModel>();

  constructor(runner: Runner) {
    this.#runner = runner;
  }

  /** Notes a fine model that was solved directly. Of several of a link the level one stays: tilts are counted from there. */
  remember(design: Design, base: LinkModel): void {
    const key = linkKey(design);
    const before = this.#known.get(key);
    const tilt = (model: LinkModel): number => Math.hypot(model.attitude.tiltX, model.attitude.tiltY);
    if (before && before.base.key !== base.key && tilt(before.base) < tilt(base) && fits(before.base, base.domain))
      return;
    if (before?.base.key === base.key) return;
    this.#known.set(key, { base, values: { turned: null, tilted: null }, part: null, queue: Promise.resolve() });
  }

  /** The model from which one was carried; null where it was solved directly. */
  sourceOf(model: LinkModel): LinkModel | null {
    return this.#sources.get(model) ?? null;
  }

  /**
   * The fine model of a plan carried over from one at another attitude, its part solved where need be; null where there is
   * none, or its box or tilt does not serve.
   */
  async carried(
    design: Design,
    plan: ModelPlan,
    signal: AbortSignal,
    onProgress: (progress: Progress) => void,
  ): Promise<Outcome<LinkModel | null> | null> {
    const base = this.#known.get(linkKey(design))?.base;
    if (!base || !plan.hasPlates || base.key === plan.key || !fits(base, plan.domain)) return null;
    const gap = design.placement.gapMm / 1e3;
    const tilts = [base.attitude, plan.attitude].some(({ tiltX, tiltY }) => tiltX !== 0 || tiltY !== 0);
    if (tilts) {
      const able = await this.#runner.run('attitudeAble', { design, base, attitude: plan.attitude, gap }, back(signal));
      if (!able.ok) return able;
      if (!able.value) return null;
    }
    const part = await this.obtain(design, base, tilts, signal, onProgress);
    if (!part.ok) return part;
    const job = { design, model: base, part: part.value, attitude: plan.attitude, gap };
    const carried = await this.#runner.run('modelAtAttitude', job, back(signal));
    if (carried.ok && carried.value) this.#sources.set(carried.value, base);
    return carried;
  }

  /** The part about a fine model, with its bound. */
  async obtain(
    design: Design,
    base: LinkModel,
    tilts: boolean,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<AttitudePart>> {
    const known = this.#known.get(linkKey(design));
    if (!known || known.base.key !== base.key) this.#known.set(linkKey(design), fresh(base));
    const entry = this.#known.get(linkKey(design))!;
    const mine = entry.queue.then(() => this.#build(design, entry, tilts, signal, onProgress));
    entry.queue = mine.catch(() => undefined);
    return mine;
  }

  async #build(
    design: Design,
    entry: Known,
    tilts: boolean,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<AttitudePart>> {
    if (entry.part && (entry.part.tilts || !tilts)) return { ok: true, value: entry.part, elapsedMs: 0 };
    for (const which of tilts ? (['turned', 'tilted'] as const) : (['turned'] as const)) {
      if (entry.values[which]) continue;
      const solved = await this.#solve(design, entry.base, which, signal, onProgress);
      if (!solved.ok) return solved;
      entry.values[which] = solved.value;
    }
    const job = { design, model: entry.base, values: entry.values };
    const part = await this.#runner.run('attitudePart', job, back(signal));
    if (part.ok) entry.part = part.value;
    return part;
  }

  async #solve(
    design: Design,
    base: LinkModel,
    which: AttitudeHalf,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<Float64Array>> {
    const poses = await this.#runner.run('attitudePoses', { design, domain: base.domain, which }, back(signal));
    if (!poses.ok) return poses;
    const count = poses.value.length / OUTPUTS_OF_POSE;
    const chunks = new Array<Float64Array>(Math.ceil(count / CHUNK));
    let done = 0;
    const failed = await inChunks(count, CHUNK, this.#runner.width, async (from): Promise<Failed | null> => {
      const part = poses.value.slice(OUTPUTS_OF_POSE * from, OUTPUTS_OF_POSE * (from + CHUNK));
      const outcome = await this.#runner.run('attitudeSolve', { design, poses: part }, back(signal));
      if (!outcome.ok) return outcome;
      chunks[from / CHUNK] = outcome.value;
      done += part.length / OUTPUTS_OF_POSE;
      onProgress?.({
        fraction: done / count,
        stage: which === 'turned' ? 'the field as it turns' : 'the field as it tilts',
      });
      return null;
    });
    if (failed) return failed;
    return { ok: true, value: Float64Array.from(chunks.flatMap((chunk) => [...chunk])), elapsedMs: 0 };
  }
}

const back = (signal: AbortSignal | undefined) => ({ lane: 'back', signal }) as const;

function fresh(base: LinkModel): Known {
  return { base, values: { turned: null, tilted: null }, part: null, queue: Promise.resolve() };
}

/** Whether a model's box holds another's offsets and largest gap. */
function fits({ domain }: LinkModel, wanted: LinkModel['domain']): boolean {
  const slack = 1 + 1e-9;
  return (
    domain.halfX * slack >= wanted.halfX &&
    domain.halfY * slack >= wanted.halfY &&
    domain.gapMax * slack >= wanted.gapMax
  );
}
