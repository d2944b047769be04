import type { HandlePlace } from './handles/place.ts';
import type { Attention } from './overlay.ts';
import type { HandleId, PickId, Side } from './types.ts';

/** What the user attends to: what the pointer is over, the handle in focus, the coil chosen. */
export class Attending {
  pointed: PickId | null = null;
  /** Handle under the pointer or in focus. */
  handle: HandleId | null = null;
  selected: Side | null = null;

  /** Takes what the pointer is over; false where that is nothing new. */
  point(pick: PickId | null): boolean {
    if (JSON.stringify(pick) === JSON.stringify(this.pointed)) return false;
    this.pointed = pick;
    return true;
  }

  /** Takes the coil chosen; false where that is nothing new. */
  select(side: Side | null): boolean {
    if (side === this.selected) return false;
    this.selected = side;
    return true;
  }

  /** What the overlay shows of it, with the handle that is held. */
  shown(places: readonly HandlePlace[], held: HandleId | null): Attention {
    const attended = held ?? this.handle;
    const side = places.find((place) => place.id === attended && place.offered === 'side')?.side ?? null;
    return {
      side: side ?? sideOf(this.pointed) ?? this.selected,
      selected: this.selected,
      held,
      handle: this.handle,
    };
  }
}

/** The coil that something belongs to; null: to neither. */
export function sideOf(pick: PickId | null): Side | null {
  return pick === null || pick.kind === 'slab' ? null : pick.side;
}
