import type { LinkSide } from './types.ts';

/** Where a side's plates lie in its coil's frame, m. `back` is -1 for the transmitter, +1 for the receiver. */
export interface SideLayout {
  readonly back: 1 | -1;
  readonly ferriteFront: number;
  readonly ferriteMiddle: number;
  readonly ferriteBack: number;
  readonly metalFront: number;
  readonly metalBack: number;
}

export function sideLayout(side: LinkSide, back: 1 | -1): SideLayout {
  const windingBack = side.winding.halfThickness;
  const front = windingBack + (side.ferrite?.standoff ?? 0);
  const behind = front + (side.ferrite?.thickness ?? 0);
  const metal = (side.ferrite ? behind : windingBack) + (side.metal?.standoff ?? 0);
  return {
    back,
    ferriteFront: back * front,
    ferriteMiddle: back * (front + (side.ferrite?.thickness ?? 0) / 2),
    ferriteBack: back * behind,
    metalFront: back * metal,
    metalBack: back * (metal + (side.metal?.thickness ?? 0)),
  };
}
