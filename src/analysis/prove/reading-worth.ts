/**
 * Narrowings below this are not told apart: the reach's slopes come from searches that end within 0.02 mm of each other, some per cent
 * of the steepest.
 */
export const HARDLY = 0.02;

/** What a reading would be worth, after "it": the same words on the page and on the command line. */
export function worthOf({ narrowing, leaves }: { readonly narrowing: number; readonly leaves: number }): string {
  return narrowing < HARDLY
    ? `hardly narrows the reach; of the width of what it reads ${Math.round(100 * leaves)} % would be left`
    : `narrows the reach by ${Math.round(100 * narrowing)} %`;
}
