/** Imports point down this list only; a layer may import itself and what stands before it. */
const layers = ['numerics', 'units', 'physics', 'design', 'analysis', 'engine', 'state', 'scene', 'charts', 'parts', 'stations', 'cli'];
const may = {
  numerics: [],
  units: ['numerics'],
  physics: ['numerics'],
  design: ['numerics', 'units', 'physics'],
  analysis: ['numerics', 'physics', 'design', 'units'],
  engine: ['numerics', 'physics', 'design', 'analysis', 'units'],
  state: ['numerics', 'physics', 'design', 'analysis', 'engine', 'units'],
  scene: ['numerics', 'physics', 'units'],
  charts: ['numerics', 'physics', 'analysis', 'design', 'units'],
  parts: ['numerics', 'units'],
  stations: layers.filter((l) => l !== 'cli'),
  cli: layers.filter((l) => !['state', 'scene', 'parts', 'stations'].includes(l)),
};
const packages = {
  numerics: ['fft.js', 'ml-matrix'],
  units: ['mathjs'],
  physics: ['ml-matrix'],
  design: ['valibot', '@valibot/to-json-schema'],
  analysis: ['ml-matrix', 'd3-contour', 'd3-array'],
  engine: ['comlink'],
  state: ['@preact/signals-core', 'idb-keyval'],
  scene: ['three'],
  charts: ['d3-array', 'd3-contour', 'd3-scale', 'lit'],
  parts: ['lit'],
  stations: ['lit', '@preact/signals-core'],
  cli: [],
};

module.exports = {
  forbidden: [
    { name: 'no-circular', severity: 'error', from: {}, to: { circular: true, dependencyTypesNot: ['type-only'] } },
    ...layers.map((layer) => ({
      name: `layer-${layer}`,
      severity: 'error',
      from: { path: `^src/${layer}/` },
      to: { path: '^(src|workers|tests)/', pathNot: [`^src/${layer}/`, ...may[layer].map((l) => `^src/${l}/`)].concat(layer === 'engine' ? ['^workers/'] : []) },
    })),
    ...layers.map((layer) => ({
      name: `packages-${layer}`,
      severity: 'error',
      from: { path: `^src/${layer}/` },
      to: { path: '^node_modules/', pathNot: packages[layer].length ? packages[layer].map((p) => `^node_modules/${p}/`).concat(packages[layer].map((p) => `^node_modules/@types/${p}/`)) : ['^$'] },
    })),
    {
      name: 'no-node-in-the-engine',
      severity: 'error',
      from: { path: '^src/(numerics|units|physics|design|analysis|state|scene|charts|parts|stations)/' },
      to: { dependencyTypes: ['core'] },
    },
    { name: 'unresolved', severity: 'error', from: {}, to: { couldNotResolve: true } },
  ],
  options: {
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'types', 'default'] },
  },
};
