import type { CommandEntry } from './command.ts';

const json = { value: null, help: 'print one JSON object on standard output and nothing else' };
const set = {
  value: 'PATH=VALUE',
  many: true,
  help: 'change one value of the design before it is read, for example transmitter.drive.supplyV=9; may be repeated',
};
const out = (files: string) => ({ value: 'DIR', help: `write ${files} into this directory` });

/** Every command of the command line. */
export const COMMANDS: Readonly<Record<string, CommandEntry>> = Object.freeze({
  check: {
    summary: 'read a design, say what is wrong with it and which defaults it takes',
    takes: 'DESIGN.json',
    files: [1, 1],
    options: { json, set },
    load: async () => (await import('./commands/check.ts')).check,
  },
  solve: {
    summary: 'coupling, operating point, margin and losses at the placement of the design',
    takes: 'DESIGN.json',
    files: [1, 1],
    options: { json, set, out: out('solve.json') },
    load: async () => (await import('./commands/solve.ts')).solve,
  },
  along: {
    summary: 'margin along a line in gap, offset, yaw or tilt',
    takes: 'DESIGN.json',
    files: [1, 1],
    options: {
      json,
      set,
      out: out('along.csv and along.json'),
      axis: { value: 'AXIS', help: 'gap, offsetX, offsetY, yaw, tiltX or tiltY (default gap)' },
      from: { value: 'NUMBER', help: 'first value, in mm or degrees' },
      to: { value: 'NUMBER', help: 'last value, in mm or degrees' },
      points: { value: 'NUMBER', help: 'how many values (default 33)' },
    },
    load: async () => (await import('./commands/along.ts')).along,
  },
  map: {
    summary: 'margin over sideways offset, safe outline and reach',
    takes: 'DESIGN.json',
    files: [1, 1],
    options: {
      json,
      set,
      out: out('map.csv, map.json, map.svg and map.dxf (true millimetres)'),
      points: { value: 'NUMBER', help: 'points per axis (default 129)' },
      span: { value: 'MM', help: "half-width of the map in mm (default: from the coils' size)" },
    },
    load: async () => (await import('./commands/map.ts')).map,
  },
  hold: {
    summary: 'recess, magnets, gap stack, and how often a casual placement works',
    takes: 'DESIGN.json',
    files: [1, 1],
    options: {
      json,
      set,
      out: out('hold.json, tables, plan (SVG, DXF) and 1:1 templates'),
      placements: { value: 'FILE.csv', help: 'x mm, y mm and yaw in degrees of each placement, for the lottery' },
    },
    notes:
      'How placements scatter is in holding.placing: kind gaussian, disc, rectangle or list, for example\n  --set holding.placing.kind=disc --set holding.placing.radiusMm=8 --set holding.placing.halfYawDeg=10',
    load: async () => (await import('./commands/hold.ts')).hold,
  },
  fit: {
    summary: 'lay the bench readings beside the model, fit what is unknown, and say what is not known',
    takes: 'DESIGN.json',
    files: [1, 1],
    options: {
      json,
      set,
      out: out('fit.json, the design with the fitted values, and the printable grid and readings sheets as SVG'),
      readings: { value: 'FILE.csv', help: "readings of a spreadsheet in place of the design's" },
      starts: { value: 'NUMBER', help: 'searches from different starts (default 16)' },
      robust: { value: null, help: 'let single numbers that are far off count less' },
      map: { value: null, help: 'also the whole margin map after the fit; takes the link model' },
    },
    notes:
      'Exit code 3 says that the last stage did not settle: the values are printed all the same. A misfit is told in the answer.',
    load: async () => (await import('./commands/fit.ts')).fit,
  },
  supplies: {
    summary: 'two to four supply voltages side by side: efficiency, heat, reach, and which to take',
    takes: 'DESIGN.json',
    files: [1, 1],
    options: { json, set, volts: { value: 'V,V,...', help: 'two to four voltages (default 5,9,12)' } },
    load: async () => (await import('./commands/supplies.ts')).supplies,
  },
  bounds: {
    summary: 'intervals instead of one answer, for boards of which not everything is known',
    takes: 'DESIGN.json',
    files: [1, 1],
    options: { json, set },
    notes: `What is not known stands in transmitter.drive.unknown (supply, frequency, capacitor, control) and in receiver.pickup.unknown\n(capacitor), for example --set 'transmitter.drive.unknown=["supply"]'`,
    load: async () => (await import('./commands/bounds.ts')).bounds,
  },
  circuit: {
    summary: 'the bare switched circuit at a fixed frequency, duty and rectifier current',
    takes: 'CIRCUIT.json',
    files: [1, 1],
    options: { json },
    notes:
      'The file holds, in SI units: bridge ("full" or "half"), L1 C1 R1 Ron RC1, L2 Cs R2 RCs Cd, Vd0 Rd, Vin, k, f, duty, Idc, Crect.',
    load: async () => (await import('./commands/circuit.ts')).circuit,
  },
  demo: {
    summary: 'write the demo design, a museum audio guide on its shelf dock',
    takes: '[--out DIR]',
    files: [0, 0],
    options: { json, out: out('demo.json') },
    load: async () => (await import('./commands/demo.ts')).demo,
  },
  schema: {
    summary: 'print the JSON Schema of the design file',
    takes: '',
    files: [0, 0],
    options: { json, out: out('offcentre-design.schema.json') },
    load: async () => (await import('./commands/schema.ts')).schema,
  },
});
