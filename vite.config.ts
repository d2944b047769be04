import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { playwright } from '@vitest/browser-playwright';
import { defineConfig } from 'vitest/config';
import { precachePlugin } from './src/service-worker/precache-plugin.ts';
import { args, browser } from './tests/support/chromium.ts';
import { nativeSources } from './tests/support/native-sources.ts';

const launch = process.env.VITEST ? await browser() : { executablePath: '', env: {} };

/**
 * What the page's own meta tag says, said to workers too: a worker takes its policy from the headers of its own script. Other
 * hosts that serve the page should send the same three.
 */
const HEADERS = {
  'Content-Security-Policy': /http-equiv="Content-Security-Policy"\s+content="([^"]+)"/.exec(
    readFileSync(new URL('src/index.html', import.meta.url), 'utf8'),
  )![1],
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
};

/**
 * All that the first page needs in one script, which compresses better and is one request: left alone, every module that a
 * later station shares with it becomes a script of its own (129 kB compressed in 57 scripts instead of 112 kB in three).
 * @returns name of the script that a module goes into; null: as it comes
 */
function firstPage(): (id: string, graph: ModuleGraph) => string | null {
  const roots = ['src/main.ts', 'src/stations/oc-place.ts'].map((path) =>
    fileURLToPath(new URL(path, import.meta.url)),
  );
  const needed = new Set<string>();
  const visit = (id: string, graph: ModuleGraph): void => {
    if (needed.has(id)) return;
    needed.add(id);
    for (const next of graph.getModuleInfo(id)?.importedIds ?? []) visit(next, graph);
  };
  return (id, graph) => {
    for (const root of roots) {
      if (!graph.getModuleInfo(root)) throw new Error(`vite.config.ts: the first page has no ${root}.`);
      visit(root, graph);
    }
    return needed.has(id) && !roots.includes(id) ? 'first' : null;
  };
}

interface ModuleGraph {
  getModuleInfo(id: string): { readonly importedIds: readonly string[] } | null;
}

/** What takes longer than the fast tier may: tables of outside values, direct solutions, fresh random cases. */
const LONG_TABLES = 'tests/**/*.reference.test.ts';
const engineTests = {
  include: ['tests/**/*.test.ts'],
  environment: 'node',
  isolate: false,
  // One worker to a core: nothing else runs in these tiers.
  maxWorkers: '100%',
  testTimeout: 120_000,
  hookTimeout: 120_000,
};

/** One configuration for the page, the command line (`vite build --mode cli`) and both test tiers. */
export default defineConfig(({ mode }) =>
  mode === 'cli'
    ? {
        build: {
          ssr: true,
          outDir: 'dist/cli',
          target: 'node20',
          minify: false,
          rolldownOptions: {
            input: { offcentre: 'src/cli/main.ts', 'engine-worker': 'workers/engine.node.ts' },
            output: { entryFileNames: '[name].mjs', chunkFileNames: '[name]-[hash].mjs' },
          },
        },
        ssr: { noExternal: true as const },
      }
    : {
        root: 'src',
        base: './',
        publicDir: false as const,
        plugins: [precachePlugin()],
        cacheDir: '../node_modules/.vite',
        preview: { headers: HEADERS },
        build: {
          target: 'es2022',
          outDir: '../dist/page',
          emptyOutDir: true,
          modulePreload: { polyfill: false },
          // kB before compression. The largest script is the 3-D view: nearly all of it is three.js, whose renderer comes in
          // one piece, and it is fetched only when that view is first shown. tests/page/size.test.ts holds what is fetched.
          chunkSizeWarningLimit: 620,
          rolldownOptions: { output: { codeSplitting: { groups: [{ name: firstPage(), minSize: 0 }] } } },
        },
        worker: { format: 'es' as const },
        optimizeDeps: {
          include: [
            'mathjs',
            'ml-matrix',
            'comlink',
            'lit',
            'lit/decorators.js',
            'three',
            'three/addons/controls/OrbitControls.js',
          ],
        },
        test: {
          root: '.',
          reporters: ['default', './tests/support/summary-reporter.ts'],
          projects: [
            {
              extends: true as const,
              plugins: [nativeSources()],
              test: { ...engineTests, name: 'unit', exclude: ['tests/browser/**', 'tests/page/**', LONG_TABLES] },
            },
            {
              extends: true as const,
              plugins: [nativeSources()],
              test: { ...engineTests, name: 'reference', include: [LONG_TABLES] },
            },
            {
              extends: true as const,
              test: {
                name: 'page',
                include: ['tests/page/**/*.test.ts'],
                environment: 'node',
                fileParallelism: false,
                globalSetup: ['tests/support/built-page.ts'],
                testTimeout: 120_000,
                hookTimeout: 120_000,
              },
            },
            {
              extends: true as const,
              test: {
                name: 'browser',
                include: ['tests/browser/**/*.test.ts'],
                testTimeout: 60_000,
                browser: {
                  enabled: true,
                  headless: true,
                  screenshotFailures: false,
                  provider: playwright({
                    launchOptions: {
                      executablePath: launch.executablePath,
                      env: { ...(process.env as Record<string, string>), ...launch.env },
                      args,
                    },
                  }),
                  instances: [{ browser: 'chromium' as const }],
                },
              },
            },
          ],
        },
      },
);
