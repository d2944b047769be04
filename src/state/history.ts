/** One undo step: the states on both sides of it. */
export interface HistoryStep<State> {
  readonly label: string;
  readonly before: State;
  readonly after: State;
}

/** Steps as a list that shares its tail, so that a long session costs nothing per step. */
export interface StepList<State> {
  readonly step: HistoryStep<State>;
  readonly rest: StepList<State> | null;
  readonly count: number;
}

/** What can be undone and redone, newest first; immutable, so that a signal can carry it. */
export interface History<State> {
  readonly past: StepList<State> | null;
  readonly future: StepList<State> | null;
}

export const EMPTY_HISTORY: History<never> = Object.freeze({ past: null, future: null });

function onto<State>(step: HistoryStep<State>, rest: StepList<State> | null): StepList<State> {
  return { step, rest, count: (rest?.count ?? 0) + 1 };
}

/** Adds a step; what had been undone is gone. A step that changes nothing is not added. */
export function recorded<State>(history: History<State>, step: HistoryStep<State>): History<State> {
  return step.before === step.after ? history : { past: onto(step, history.past), future: null };
}

export interface Travel<State> {
  readonly history: History<State>;
  readonly state: State;
}

/** One step back; null at the beginning. */
export function undone<State>(history: History<State>): Travel<State> | null {
  const last = history.past;
  if (!last) return null;
  return { history: { past: last.rest, future: onto(last.step, history.future) }, state: last.step.before };
}

/** One step forward again; null where nothing was undone. */
export function redone<State>(history: History<State>): Travel<State> | null {
  const next = history.future;
  if (!next) return null;
  return { history: { past: onto(next.step, history.past), future: next.rest }, state: next.step.after };
}

/** What the steps of a list weigh together, worked out once for each list. */
const totals = new WeakMap<StepList<unknown>, number>();

function weightOf<State>(list: StepList<State> | null, weigh: (step: HistoryStep<State>) => number): number {
  const unknown: StepList<State>[] = [];
  let known = list;
  while (known && !totals.has(known)) {
    unknown.push(known);
    known = known.rest;
  }
  let total = known ? (totals.get(known) ?? 0) : 0;
  for (const one of unknown.reverse()) {
    total += weigh(one.step);
    totals.set(one, total);
  }
  return total;
}

/**
 * The same history; where its past weighs more than `most` the oldest steps are forgotten, down to half of it, so that a
 * long session of large designs does not fill the memory.
 */
export function bounded<State>(
  history: History<State>,
  weigh: (step: HistoryStep<State>) => number,
  most: number,
): History<State> {
  if (weightOf(history.past, weigh) <= most) return history;
  const kept: HistoryStep<State>[] = [];
  let weight = 0;
  for (let list = history.past; list; list = list.rest) {
    weight += weigh(list.step);
    if (weight > most / 2 && kept.length > 0) break;
    kept.push(list.step);
  }
  const past = kept.reverse().reduce<StepList<State> | null>((rest, step) => onto(step, rest), null);
  return { past, future: history.future };
}
