/** Which parts a leg has beside its resistor. */
export interface LegParts {
  readonly series: boolean;
  readonly trimmer: boolean;
  readonly parallel: boolean;
}

/** Where one part of the divider stands: a resistor's box, and the place of its number. */
export interface DividerPart {
  readonly slot: string;
  readonly kind: 'resistor' | 'series' | 'trimmer' | 'parallel';
  readonly x: number;
  /** Middle of the box. */
  readonly y: number;
}

export interface DividerLayout {
  readonly parts: readonly DividerPart[];
  /** Wires as polylines, `d` of a path. */
  readonly wires: readonly string[];
  readonly outputY: number;
  readonly tapY: number;
  readonly groundY: number;
  /** Middle of each leg, where what can be added is offered. */
  readonly addY: { readonly top: number; readonly bottom: number };
  readonly mainX: number;
  readonly height: number;
}

export const BOX = { width: 12, height: 30 } as const;
const PITCH = 44;
const MAIN_X = 14;

/** Places the parts of both legs: the row downwards, what lies across beside it. */
export function dividerLayout(top: LegParts, bottom: LegParts, width: number): DividerLayout {
  const acrossX = MAIN_X + Math.min(176, Math.max(128, width * 0.4));
  const parts: DividerPart[] = [];
  const wires: string[] = [];
  const leg = (name: 'top' | 'bottom', has: LegParts, from: number): number => {
    const row = (['resistor', 'series', 'trimmer'] as const).filter((kind) => kind === 'resistor' || has[kind]);
    let y = from;
    row.forEach((kind) => {
      const middle = y + PITCH / 2;
      parts.push({ slot: `${name}-${kind}`, kind, x: MAIN_X, y: middle });
      wires.push(`M${MAIN_X},${y}V${middle - BOX.height / 2}`, `M${MAIN_X},${middle + BOX.height / 2}V${y + PITCH}`);
      y += PITCH;
    });
    if (has.parallel) {
      const middle = (from + y) / 2;
      parts.push({ slot: `${name}-parallel`, kind: 'parallel', x: acrossX, y: middle });
      wires.push(
        `M${MAIN_X},${from + 3}H${acrossX}V${middle - BOX.height / 2}`,
        `M${acrossX},${middle + BOX.height / 2}V${y - 3}H${MAIN_X}`,
      );
    }
    return y;
  };
  const outputY = 14;
  const topFrom = outputY + 12;
  wires.push(`M${MAIN_X},${outputY}V${topFrom}`);
  // Room beneath each row for what can be added to the leg.
  const topEnd = leg('top', top, topFrom) + 22;
  wires.push(`M${MAIN_X},${topEnd - 22}V${topEnd}`);
  const tapY = topEnd + 14;
  wires.push(`M${MAIN_X},${topEnd}V${tapY + 16}`, `M${MAIN_X},${tapY}h26`);
  const bottomEnd = leg('bottom', bottom, tapY + 16) + 22;
  wires.push(`M${MAIN_X},${bottomEnd - 22}V${bottomEnd}`);
  return {
    parts,
    wires,
    outputY,
    tapY,
    groundY: bottomEnd,
    addY: { top: topEnd - 12, bottom: bottomEnd - 12 },
    mainX: MAIN_X,
    height: bottomEnd + 16,
  };
}
