/** From where the model is looked at, as far as the cut depends on it. */
export interface Outlook {
  /** Quarter, counter-clockwise from +x, that faces the viewer: 0..3. */
  readonly quarter: number;
  readonly above: boolean;
}

/** How far the viewer must leave the quarter that is cut open before the cut follows, rad beyond its edge. */
const QUARTER_HYSTERESIS = 0.17;
const ABOVE_HYSTERESIS = 0.05;

/**
 * The outlook after the viewer has moved: the same object where the cut stays as it is.
 * @param azimuth of the viewer, counter-clockwise from +x, rad
 * @param elevation of the viewer, rad
 */
export function turnedOutlook(outlook: Outlook, azimuth: number, elevation: number): Outlook {
  let { quarter, above } = outlook;
  const middle = (quarter + 0.5) * (Math.PI / 2);
  const off = Math.atan2(Math.sin(azimuth - middle), Math.cos(azimuth - middle));
  if (Math.abs(off) > Math.PI / 4 + QUARTER_HYSTERESIS) quarter = ((Math.floor(azimuth / (Math.PI / 2)) % 4) + 4) % 4;
  if (above ? elevation < -ABOVE_HYSTERESIS : elevation > ABOVE_HYSTERESIS) above = !above;
  return quarter === outlook.quarter && above === outlook.above ? outlook : { quarter, above };
}
