/**
 * Builds the benchmarks with the project's own bundler and runs them in this Node process.
 *   node tests/benchmarks/run.mjs [--only WORD] [--json FILE]
 *   node tests/benchmarks/run.mjs compare BASELINE.json [CURRENT.json]
 *   node tests/benchmarks/run.mjs page [--json FILE]
 */
import { pathToFileURL } from 'node:url';
import { build } from 'vite';

const root = new URL('../..', import.meta.url);
const folder = new URL('node_modules/.cache/offcentre-benchmarks/', root);
const [first, ...rest] = process.argv.slice(2);
const page = first === 'page';

await build({
  configFile: false,
  root: root.pathname,
  logLevel: 'error',
  build: {
    ssr: page ? 'tests/benchmarks/page.ts' : 'tests/benchmarks/main.ts',
    outDir: folder.pathname,
    target: 'node20',
    minify: false,
    rolldownOptions: { output: { entryFileNames: 'main.mjs' } },
  },
  ssr: { noExternal: true, external: ['playwright', 'vite', '@sparticuz/chromium'] },
});
const { main } = await import(pathToFileURL(new URL('main.mjs', folder).pathname).href);
process.exitCode = await main(page ? rest : process.argv.slice(2));
