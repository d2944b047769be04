/** Words for what belongs to the device rather than to the dock. */
const DEVICE = /\b(case|casing|shell|housing|enclosure|cover|back|device|guide|phone|body|lid|receiver)\b/i;

/**
 * Which layers of a stack move with the receiver: from the first whose name says device, and what follows it. The design
 * does not say it; it matters to the drawings only, never to a number.
 * @returns index of the first layer of the receiver; the number of layers where none is
 */
export function firstReceiverLayer(names: readonly string[]): number {
  const at = names.findIndex((name) => DEVICE.test(name));
  return at < 0 ? names.length : at;
}
