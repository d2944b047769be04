/** What can hurt someone or spoil something; always on the page. */
export const CAUTIONS: readonly string[] = Object.freeze([
  'A coin, key or foil between the coils can get hot enough to burn. Keep metal out, and test with a thermometer.',
  'The field around the coils can disturb implants (pacemakers, defibrillators, pumps): their makers commonly ask for at least 15 cm; the implant’s own papers and the physician come first. Feed shows the field against published reference levels.',
  'Charging lithium cells: the cell’s data sheet comes first, above all its charge temperature; use a charger made for the cell.',
  'Voltages at the resonance capacitors and coils can be several times the supply. Do not touch them in operation.',
  'Strong magnets pinch fingers, wipe cards and disturb implants; loose ones must not be swallowed.',
  'Local codes, the parts’ data sheets and licensed practice come before anything this page says.',
]);

/** What the answer does not cover. */
export const LEFT_OUT: readonly string[] = Object.freeze([
  'The boards’ protocol: that they negotiate a power class, or stop when a message is lost.',
  'Foreign-object detection, which can stop a link that would hold; give its threshold in the design where you know it.',
  'Fields of other coils and metal that is not in the design.',
  'Ageing, moisture, production spread beyond the tolerances you gave.',
]);
